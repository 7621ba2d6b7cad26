//! The friction torque of a bearing as it comes in, with its range.

use super::friction::{Friction, f1_factor, load_un_m};
use super::given::Given;
use super::viscosity::ViscosityLine;
use crate::part::Range;
use crate::shelf::Lubricant;

/// Low, likely and high friction of one bearing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrictionRange {
    /// Every factor at its low end.
    pub low: Friction,
    /// Every factor at its likely value.
    pub likely: Friction,
    /// Every factor at its high end.
    pub high: Friction,
}

impl FrictionRange {
    /// Friction of a bearing with the lubricant, the viscosity and the factors it was given.
    #[must_use]
    pub fn of(given: &Given, static_rating_n: f64) -> Self {
        let viscosity = given
            .viscosity_cst
            .unwrap_or_else(|| viscosity_at(given.lubricant, given.temperature_degc));
        Self::with(
            given,
            static_rating_n,
            viscosity,
            given.f0_factor,
            given.dry_torque_un_m,
        )
    }

    /// The same bearing with another lubricant of the shelf.
    #[must_use]
    pub fn lubricated(given: &Given, static_rating_n: f64, lubricant: &Lubricant) -> Self {
        let viscosity = viscosity_at(lubricant, given.temperature_degc);
        Self::with(
            given,
            static_rating_n,
            viscosity,
            lubricant.f0_factor,
            lubricant.dry_torque_un_m,
        )
    }

    fn with(given: &Given, rating_n: f64, viscosity: Range, f0: Range, dry: Range) -> Self {
        let load_n = given.weight_n();
        let [least, most] = f1_factor(load_n, rating_n);
        let pitch_mm = given.pitch_mm();
        let one = |f0: f64, viscosity: f64, f1: f64, dry: f64| Friction {
            pitch_mm,
            f0_factor: f0,
            viscosity_mm2_per_s: viscosity,
            load_torque_un_m: load_un_m(f1, load_n, pitch_mm),
            dry_torque_un_m: dry,
        };
        Self {
            low: one(f0.low, viscosity.low, least, dry.low),
            likely: one(
                f0.likely,
                viscosity.likely,
                0.5 * (least + most),
                dry.likely,
            ),
            high: one(f0.high, viscosity.high, most, dry.high),
        }
    }

    /// The torque at a speed, in µN·m.
    #[must_use]
    pub fn torque_un_m(&self, speed_rpm: f64) -> Range {
        self.each(|friction| friction.torque_un_m(speed_rpm))
    }

    /// Anything of the three as a range.
    #[must_use]
    pub fn each(&self, of: impl Fn(&Friction) -> f64) -> Range {
        Range {
            low: of(&self.low),
            likely: of(&self.likely),
            high: of(&self.high),
        }
    }
}

/// Viscosity of a lubricant at a temperature in °C; one value, since what is not known of it is in `f0`.
#[must_use]
pub fn viscosity_at(lubricant: &Lubricant, temperature_degc: f64) -> Range {
    let line = ViscosityLine::of(lubricant);
    let listed = lubricant.at_40_degc_cst.number;
    Range::exactly(line.map_or(listed, |line| line.viscosity_cst(temperature_degc)))
}
