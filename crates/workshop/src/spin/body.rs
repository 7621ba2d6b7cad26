//! What leaves the forecast of a spin.

use serde::{Deserialize, Serialize};

use super::losses::LossName;
use crate::part::Range;

/// The numbers of a forecast: throw, sleep, return. A range's ends are the marks below which 5 % and
/// 95 % of the draws lie; its likely value has every factor at its likely value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SpinBody {
    /// Name of the design.
    pub name: String,
    /// Revision of the design.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub revision: Option<String>,
    /// How long it sleeps.
    pub sleep_s: Range,
    /// The shortest sleep the job asks for.
    pub sleep_at_least_s: Option<f64>,
    /// Speed after the throw.
    pub speed_rpm: Range,
    /// Speed at which it no longer returns.
    pub ends_at_rpm: Range,
    /// The throw.
    pub throw: ThrowLine,
    /// The string in its layers.
    pub string: StringLine,
    /// The air it turns in.
    pub air: AirLine,
    /// Every loss that takes something, the largest first.
    pub losses: Vec<LossLine>,
    /// Speed and torques against time, from the throw to the end of the sleep, all at likely values.
    pub curve: Vec<CurvePoint>,
    /// Sleep against one change of the design at a time.
    pub levers: Vec<Lever>,
    /// What spends the range of the sleep, the largest first.
    pub range_from: Vec<RangeShare>,
    /// Turn about the string and lean.
    pub turn: TurnLine,
    /// Wobble by unbalance.
    pub wobble: WobbleLine,
    /// The return.
    pub climb: ClimbLine,
    /// The bearing: its lines and its load in a hard catch.
    pub bearing: BearingLine,
}

/// The throw and where its energy goes; likely values.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ThrowLine {
    /// Speed of the hand; none where the job says the speed after the throw itself.
    pub hand_speed_m_per_s: Option<Range>,
    /// Speed a hand that stops at once needs for the likely speed after the throw.
    pub needs_hand_m_per_s: f64,
    /// Speed a hand would need if nothing were lost: no throw needs less.
    pub needs_at_least_m_per_s: f64,
    /// Time from the hand to the end of the string.
    pub unwinds_in_s: Option<f64>,
    /// Energy of turning after the throw.
    pub turning_j: f64,
    /// Energy the piece had as it left the hand.
    pub thrown_j: Option<f64>,
    /// Energy gravity gave on the way.
    pub gravity_j: Option<f64>,
    /// Energy the stopping hand took out again through the string.
    pub hand_took_j: Option<f64>,
    /// Energy of falling, lost in the jerk at the end of the string.
    pub jerk_j: Option<f64>,
    /// Share of the thrown energy that a hand which stops at once leaves.
    pub kept_share: f64,
}

/// The string as it lies wound.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StringLine {
    /// Length.
    pub length_mm: f64,
    /// Radius of the first layer: the bearing.
    pub inner_radius_mm: f64,
    /// Radius of the last layer.
    pub full_radius_mm: f64,
    /// Turns.
    pub turns_count: f64,
}

/// The air.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AirLine {
    /// Density.
    pub density_kg_m3: f64,
    /// Dynamic viscosity.
    pub viscosity_pa_s: f64,
    /// Largest local Reynolds number of a face, at the speed after the throw.
    pub reynolds_number: f64,
    /// The same at which the flow over a face turns turbulent.
    pub transition_number: f64,
}

/// One loss over the whole sleep; likely values.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LossLine {
    /// Which.
    pub loss: LossName,
    /// In words.
    pub name: String,
    /// Its part of the energy lost, 0 to 1.
    pub share: f64,
    /// Energy it takes.
    pub energy_j: f64,
    /// Torque after the throw.
    pub torque_at_start_un_m: f64,
    /// Torque at the end of the sleep.
    pub torque_at_end_un_m: f64,
    /// What half of it gone would add to the sleep.
    pub half_gone_adds_s: f64,
    /// Its factor.
    pub factor: f64,
    /// The law it follows and whence.
    pub law: String,
}

/// One moment of the decay.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CurvePoint {
    /// Time from the end of the throw.
    pub time_s: f64,
    /// Speed.
    pub speed_rpm: f64,
    /// Torque of the bearing, dry and oil.
    pub bearing_un_m: f64,
    /// Torque of the air on the faces.
    pub faces_un_m: f64,
    /// Torque of the air on the rim.
    pub rim_un_m: f64,
    /// Torque of the air in the gap's flare.
    pub gap_un_m: f64,
    /// Torque of a rubbing string.
    pub string_un_m: f64,
}

/// One lever: the sleep against one change, everything else at its likely value.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Lever {
    /// What is changed.
    pub name: String,
    /// The unit of `at` and `likely_at`.
    pub unit: String,
    /// Where the design stands, in `unit`.
    pub likely_at: f64,
    /// The sleep at other values.
    pub points: Vec<LeverPoint>,
}

/// One place of a lever.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LeverPoint {
    /// The changed value, in the lever's unit.
    pub at: f64,
    /// The sleep there.
    pub sleep_s: f64,
}

/// What one factor's range does to the sleep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RangeShare {
    /// Its key, with the unit.
    pub factor: String,
    /// In words.
    pub words: String,
    /// The low end of its range, in the unit of its key.
    pub from: f64,
    /// The high end, in the same unit.
    pub to: f64,
    /// Sleep with this factor at the low end, the others likely.
    pub sleep_at_low_s: f64,
    /// Sleep with it at the high end.
    pub sleep_at_high_s: f64,
    /// Its part of the sum of the squared widths, 0 to 1.
    pub share: f64,
}

/// Turn about the string and lean over the likely sleep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TurnLine {
    /// Difference of mass between the sides.
    pub mass_difference_g: Range,
    /// How far off the middle of the gap the string runs.
    pub off_centre_mm: Range,
    /// Turn by the mass difference alone, over the sleep, if the string turned freely.
    pub by_mass_deg: Range,
    /// Turn by the string off the middle alone, the same way.
    pub by_string_deg: Range,
    /// Turn by both, string free: what could come together.
    pub free_turn_deg: Range,
    /// The largest turn by both with the string's stiffness: it swings back.
    pub held_turn_deg: Range,
    /// The largest lean by both with the string's stiffness.
    pub lean_deg: Range,
    /// The lean at which the piece hangs plumb.
    pub plumb_lean_deg: Range,
    /// Speed of the turn after the throw, string free.
    pub rate_at_start_deg_per_s: f64,
    /// The mass difference that does the same as the string's place.
    pub string_as_mass_g: Range,
    /// How fast a twisted string leans it after the throw.
    pub twist_leans_deg_per_s: Range,
    /// Angular momentum after the throw, g·m²/s: the gyroscopic stiffness.
    pub momentum_g_m2_per_s: f64,
}

/// Wobble of the nearly free piece at the speed after the throw.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WobbleLine {
    /// Static unbalance.
    pub static_unbalance_g_mm: Range,
    /// Couple unbalance.
    pub couple_unbalance_g_mm2: Range,
    /// How far the bearing's centre orbits.
    pub eccentricity_um: Range,
    /// Its speed, by which grades are named.
    pub orbit_speed_mm_per_s: Range,
    /// Half angle of the axle's cone by the couple.
    pub tilt_mrad: Range,
    /// What that is at the rim, along the axle.
    pub rim_wobble_um: Range,
    /// How many times more than a flat disc; negative where the piece is longer than a ball.
    pub couple_amplification: Option<f64>,
    /// Free wobble after a bad throw, times the speed.
    pub nutation_order: f64,
    /// Force of the static unbalance on a stiff mount, as on a test stand.
    pub stiff_force_mn: Range,
}

/// The return.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ClimbLine {
    /// Speed from which it climbs the string with no help of the hand, nothing lost in the grip.
    pub alone_rpm: f64,
    /// The same when the string grips suddenly at the full radius.
    pub gripped_rpm: f64,
    /// Force ratio that half a turn, one turn and one and a half hold, string on pad.
    pub capstan_ratio: [f64; 3],
}

/// The bearing in the sleep and in a catch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BearingLine {
    /// Bore.
    pub bore_mm: f64,
    /// Outside diameter.
    pub outside_mm: f64,
    /// How many balls.
    pub balls: u32,
    /// Diameter of a ball.
    pub ball_mm: f64,
    /// Lubricant in words.
    pub lubricant: String,
    /// Viscosity as it runs.
    pub viscosity_cst: f64,
    /// Turns of the cage for one of the piece, outer ring held.
    pub cage_order: f64,
    /// Balls passing a place of the outer race in one turn.
    pub outer_race_order: f64,
    /// Balls passing a place of the inner race in one turn.
    pub inner_race_order: f64,
    /// Turns of a ball about itself in one turn.
    pub ball_order: f64,
    /// Frequency of the cage after the throw.
    pub cage_hz: f64,
    /// Of the balls at the outer race.
    pub outer_race_hz: f64,
    /// Of the balls at the inner race.
    pub inner_race_hz: f64,
    /// Of a ball about itself.
    pub ball_hz: f64,
    /// Static load rating by ISO 76.
    pub static_rating_n: f64,
    /// Load in a hard catch.
    pub catch_load_n: Range,
    /// Rating over that load.
    pub catch_safety_ratio: Range,
}
