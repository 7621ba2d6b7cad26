//! What leaves the question of the correction.

use serde::{Deserialize, Serialize};

use super::rotor_body::FreeRotor;
use super::work_body::{ClockBody, WorkBody};
use crate::part::{AngleSense, Couple, Unbalance};

/// How the readings were taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Method {
    /// Trial masses with amplitude and phase.
    InfluenceCoefficients,
    /// Trial mass at several places, amplitudes alone.
    WithoutPhase,
    /// At rest on rods or rollers.
    AtRest,
    /// Turned on the fixture.
    Indexing,
    /// Eccentricity from a recording.
    Recording,
}

/// Unbalance and correction.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CorrectBody {
    /// What was measured.
    pub name: String,
    /// How.
    pub method: Method,
    /// Which way all angles are counted from the mark.
    pub sense: AngleSense,
    /// Mass of what was measured.
    pub mass_g: f64,
    /// The speed limits and effects are reckoned for.
    pub speed_rpm: Option<f64>,
    /// The planes, with what each has and what corrects it.
    pub planes: Vec<PlaneResult>,
    /// Static unbalance of the whole, as it came.
    pub resultant: Unbalance,
    /// Couple about the centre of mass, where the planes' places are known.
    pub couple: Option<Couple>,
    /// Found against permissible, for the whole and for every plane that has a limit.
    pub acceptance: Vec<AcceptLine>,
    /// What the piece does as it came.
    pub as_it_came: Option<FreeRotor>,
    /// What it will do once corrected: by the work where there is work, else by the uncertainty that is left.
    pub corrected: Option<FreeRotor>,
    /// The readings as vectors, run-out taken off.
    pub arrows: Vec<Arrow>,
    /// Effect of each plane on each pick-up.
    pub effects: Vec<Effect>,
    /// What every trial was worth.
    pub trials: Vec<TrialWorth>,
    /// What the uncertainty rests on.
    pub uncertainty: Option<UncertaintyBody>,
    /// Another answer that fits the same readings as well (two trial places without phase).
    pub other: Option<Unbalance>,
    /// Unbalance of the fixture, where indexing told it, plane by plane.
    pub fixture: Vec<Unbalance>,
    /// What the test at rest gave besides.
    pub at_rest: Option<AtRest>,
    /// What looks wrong with the readings, in sentences.
    pub doubts: Vec<String>,
    /// How to turn parts against each other first.
    pub clocking: Option<ClockBody>,
    /// The holes.
    pub work: Option<WorkBody>,
}

/// One plane.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlaneResult {
    /// What it is called.
    pub name: String,
    /// Its place along the axle.
    pub x_mm: Option<f64>,
    /// Radius of the correction mass.
    pub radius_mm: f64,
    /// Unbalance in it, as the part came.
    pub unbalance: Unbalance,
    /// Unbalance in it with the masses that stayed on.
    pub now: Unbalance,
    /// The mass that corrects what it has now, at `radius_mm`.
    pub correction_mass_g: f64,
    /// Where that mass is put on.
    pub add_at_deg: f64,
    /// Where as much is taken off instead.
    pub take_off_at_deg: f64,
    /// Radius of the circle round the unbalance that holds the true one, for all planes at once, 95 times in 100;
    /// none where nothing tells.
    pub uncertainty_g_mm: Option<f64>,
    /// The same as a mass at `radius_mm`.
    pub mass_uncertainty_g: Option<f64>,
    /// The same as an angle; 180 where the direction is not known at all.
    pub angle_uncertainty_deg: Option<f64>,
    /// Permissible residual unbalance: the limit circle.
    pub limit_g_mm: Option<f64>,
    /// What the work leaves; none without work in this plane.
    pub residual: Option<Unbalance>,
}

/// Found against permissible.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AcceptLine {
    /// `whole`, or the name of a plane.
    pub of: String,
    /// Found as it came.
    pub found_g_mm: f64,
    /// Its uncertainty; none where nothing tells.
    pub uncertainty_g_mm: Option<f64>,
    /// Permissible.
    pub limit_g_mm: f64,
    /// What may be measured: permissible less the measuring error.
    pub accepted_up_to_g_mm: f64,
    /// Whether the found value alone is inside the limit.
    pub measured_inside: bool,
    /// Whether it is inside with its uncertainty; none where that is not known.
    pub guaranteed_inside: Option<bool>,
    /// The same in words.
    pub words: String,
}

/// One reading as a vector.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Arrow {
    /// The run.
    pub run: String,
    /// The pick-up.
    pub sensor: String,
    /// Speed of the run.
    pub speed_rpm: f64,
    /// Amplitude in the unit that stands beside it, run-out taken off.
    pub amplitude_value: f64,
    /// Phase in the sense of the answer's angles.
    pub phase_deg: f64,
    /// The unit.
    pub unit: String,
    /// How many repeats it is the mean of.
    pub repeats: usize,
    /// What the found unbalance and coefficients give for this run, same unit.
    pub fitted_value: f64,
}

/// Effect of a plane on a pick-up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Effect {
    /// The plane.
    pub plane: String,
    /// The pick-up.
    pub sensor: String,
    /// The speed.
    pub speed_rpm: f64,
    /// Reading per g·mm, in the unit that stands beside it.
    pub per_g_mm_value: f64,
    /// Phase of the reading after the mass.
    pub phase_deg: f64,
    /// The unit of the reading.
    pub unit: String,
}

/// What a trial was worth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TrialWorth {
    /// The plane.
    pub plane: String,
    /// The trial's unbalance.
    pub trial_g_mm: f64,
    /// Change it made over the first reading, the largest of all pick-ups.
    pub change_share: f64,
    /// That change over its standard uncertainty; none where nothing tells.
    pub change_over_noise_ratio: Option<f64>,
    /// Whether it was good enough.
    pub enough: bool,
    /// A better trial: mass at the plane's radius.
    pub better_mass_g: f64,
    /// Where to put it, so that it makes the piece run quieter and not rougher.
    pub better_at_deg: f64,
    /// In words.
    pub words: String,
}

/// What the uncertainty rests on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct UncertaintyBody {
    /// How often the circles hold all true values at once.
    pub coverage_share: f64,
    /// Standard deviation of one component of a reading as a share of its amplitude, as used.
    pub noise_share: f64,
    /// Degrees of freedom behind it; none where the scatter was known beforehand.
    pub freedom_number: Option<u32>,
    /// Draws made to check it.
    pub draws_number: u32,
    /// Largest ratio of the drawn circle to the propagated one, over the planes; the larger is stated.
    pub drawn_over_propagated_ratio: f64,
    /// In words.
    pub words: String,
}

/// What the test at rest gave besides.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AtRest {
    /// Inertia about the axis, where it was found and not known.
    pub polar_inertia_g_mm2: Option<f64>,
    /// Half the spread of the angles at rest.
    pub half_spread_deg: Option<f64>,
    /// The smallest unbalance the rods can show.
    pub threshold_g_mm: Option<crate::part::Range>,
}
