//! What leaves the fitting station.

use serde::{Deserialize, Serialize};

use super::condition_line::ConditionLine;
use super::section_body::SectionFitBody;
use crate::part::{Limits, Range};

/// The numbers of a press fit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FitBody {
    /// The outer piece.
    pub ring: String,
    /// The inner piece.
    pub body: String,
    /// Limits of the bore.
    pub hole: Limits,
    /// Limits of the spigot.
    pub shaft: Limits,
    /// Outside diameter of the ring.
    pub ring_outside_mm: f64,
    /// Inside diameter of the body behind the seat.
    pub body_inside_mm: f64,
    /// Length of the seat.
    pub length_mm: f64,
    /// Interference on the diameter at 20 °C (negative for clearance): least, middle and most of the limits.
    pub interference_um: Range,
    /// Standard deviation of the interference of pairs as they come.
    pub interference_sd_um: f64,
    /// The fit at the moments that matter, with the least, middle and most interference.
    pub states: Vec<StateLine>,
    /// Every condition, the one that decides first.
    pub conditions: Vec<ConditionLine>,
    /// Interference on the diameter that keeps every condition; none where no interference does.
    pub window_um: Option<Window>,
    /// Force that pushes the ring on when new, by two plain rings: range over limits, stiffness and friction. Where `section` is
    /// there, the press is set by its force.
    pub push_on_n: Range,
    /// Torque it holds when new at the temperature of measuring, by two plain rings: the same range.
    pub torque_n_mm: Range,
    /// How much warmer than the body the ring must be to slip on, for the largest interference.
    pub slip_on_warmer_k: f64,
    /// The chance that a pair as it comes is loose or over-stressed.
    pub chance: Chance,
    /// Pressure over temperature, new and at the end of its years.
    pub over_temperature: Vec<TemperaturePoint>,
    /// Pressure over time at the usual temperature.
    pub over_time: Vec<TimePoint>,
    /// What the limits should be.
    pub advice: Advice,
    /// What looseness and a seat that runs out do to the balance.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub looseness: Option<Looseness>,
    /// The press of the sections as they are drawn, by finite elements.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub section: Option<SectionFitBody>,
    /// Why the sections as drawn are not in the answer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub section_left_out: Option<String>,
}

impl FitBody {
    /// The force the press is set by: that of the sections as drawn, or of two plain rings where they are left out.
    #[must_use]
    pub fn press_by_n(&self) -> Range {
        self.section
            .as_ref()
            .map_or(self.push_on_n, |section| section.push_on_n)
    }
}

/// The fit at one moment; every range runs over the interference's limits and the stiffness.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StateLine {
    /// The moment, such as `new` or `cold after 5 years`.
    pub name: String,
    /// Temperature.
    pub temperature_degc: f64,
    /// Years since it was pressed.
    pub years_count: f64,
    /// Speed of turning.
    pub speed_rpm: f64,
    /// Interference on the diameter that is left.
    pub interference_um: Range,
    /// Pressure between the two; 0 where they have parted.
    pub pressure_mpa: Range,
    /// Hoop stress of the ring at its bore.
    pub ring_hoop_mpa: Range,
    /// Hoop stress of the body where it is largest.
    pub body_hoop_mpa: Range,
    /// Largest hoop strain of the body, either sign.
    pub body_strain_percent: Range,
    /// Torque it holds; friction has its range in this too.
    pub torque_n_mm: Range,
}

/// Interference on the diameter from what holds to what does not break.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Window {
    /// Least that holds.
    pub least_um: f64,
    /// Most that does not break.
    pub most_um: f64,
}

/// The chance that a pair as it comes is loose or over-stressed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Chance {
    /// How many pairs were drawn.
    pub pairs_count: u32,
    /// Seed of the draws.
    pub seed: u64,
    /// Share of the drawn pairs that were loose under the worst condition of holding.
    pub loose_share: f64,
    /// Share of the drawn pairs that were over-stressed.
    pub over_stressed_share: f64,
    /// The same shares by integration, without draws.
    pub loose_probability: f64,
    /// Chance of being over-stressed, by integration.
    pub over_stressed_probability: f64,
    /// Four standard errors of the drawn shares: draws and integral must agree within it.
    pub agree_within_share: f64,
}

/// Pressure at a temperature.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TemperaturePoint {
    /// The temperature.
    pub temperature_degc: f64,
    /// New, over the limits of interference.
    pub new_mpa: Range,
    /// At the end of its years.
    pub later_mpa: Range,
}

/// Pressure after a time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TimePoint {
    /// Hours since it was pressed; 1 or more.
    pub hours_count: f64,
    /// Over the limits of interference.
    pub pressure_mpa: Range,
}

/// What the limits should be.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Advice {
    /// Limits of the spigot that keep every condition with the bore as it is: least and most size.
    pub shaft_mm: Option<Sizes>,
    /// A class of ISO 286 for the spigot that lies inside, the coarsest there is.
    pub shaft_class: Option<String>,
    /// Into how many bins bodies must be sorted, each with its own limits of the bore; 1 for none.
    pub body_bins_count: Option<u32>,
    /// Into how many bins both must be sorted where the bore alone fills the window.
    pub both_bins_count: Option<u32>,
    /// What to do, in one sentence.
    pub words: String,
}

/// Least and most size.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Sizes {
    /// Least size.
    pub least_mm: f64,
    /// Largest size.
    pub most_mm: f64,
}

/// What a clearance and a seat that runs out do to the balance.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Looseness {
    /// Clearance on the diameter: the one asked, or the largest of the coldest, oldest fit.
    pub clearance_um: f64,
    /// Run-out of the seating face, full indicator movement.
    pub runout_mm: f64,
    /// How far the ring may sit off the axle.
    pub eccentricity_um: f64,
    /// Static unbalance of that.
    pub static_g_mm: f64,
    /// Tilt of the ring.
    pub tilt_deg: f64,
    /// Couple unbalance of that.
    pub couple_g_mm2: f64,
    /// What may be brought; none where nobody says.
    pub budget_g_mm: Option<f64>,
    /// Static unbalance as a share of that.
    pub budget_share: Option<f64>,
    /// The same in words.
    pub words: String,
}
