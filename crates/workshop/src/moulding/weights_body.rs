//! What leaves a comparison with weighed halves.

use serde::{Deserialize, Serialize};

/// The numbers of a hold-time study that was weighed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WeightsBody {
    /// The moulded piece.
    pub piece: String,
    /// The resin's word.
    pub resin: String,
    /// How many weighings.
    pub weighings_count: usize,
    /// What was fitted, each as a ratio to what was taken for it.
    pub fitted: Vec<FittedRatio>,
    /// Standard deviation of what is left over between weighings and model.
    pub left_over_sd_g: f64,
    /// The middle of the cavities against hold time: read, foretold before, foretold after.
    pub curve: Vec<WeighedPoint>,
    /// What each cavity's weights say.
    pub cavities: Vec<CavitySays>,
    /// When the gate freezes with the fitted numbers, from the start of filling.
    pub gate_freeze_s: Option<f64>,
    /// Mass of a half at the job's own set-up with the fitted numbers.
    pub foretold_mass_g: f64,
    /// Its standard deviation by the fit.
    pub foretold_sd_g: f64,
    /// What the hold pressure does with the fitted numbers, in g/MPa.
    pub mass_per_mpa_g: f64,
}

/// One number that was fitted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FittedRatio {
    /// Which.
    pub name: String,
    /// Times what was taken for it.
    pub found_ratio: f64,
    /// Its standard deviation; none where the weighings do not tell it.
    pub sd_ratio: Option<f64>,
    /// What it means at the press.
    pub means: String,
}

/// One hold time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WeighedPoint {
    /// Hold time.
    pub hold_s: f64,
    /// Hold pressure.
    pub hold_mpa: f64,
    /// The middle of the cavities as weighed.
    pub read_g: f64,
    /// Standard deviation of it, where there were shots enough.
    pub read_sd_g: Option<f64>,
    /// Foretold with the numbers as they were.
    pub before_g: f64,
    /// Foretold with the fitted numbers.
    pub after_g: f64,
}

/// What one cavity's weights say.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CavitySays {
    /// The cavity.
    pub name: String,
    /// Against the middle of the cavities once the gate is frozen, in percent.
    pub settled_percent: f64,
    /// Against the middle of the cavities at the shortest hold, in percent.
    pub early_percent: f64,
    /// Standard deviation of the settled one by the weighings, in percent.
    pub settled_sd_percent: f64,
    /// What the two mean.
    pub cause: CavityCause,
    /// In words, with what to do.
    pub words: String,
}

/// Where a cavity's difference comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CavityCause {
    /// No more than the weighings scatter.
    Even,
    /// The same whatever the hold: the hollow itself.
    Steel,
    /// Large while the gate is open, small after: runner or gate.
    Feed,
    /// Both.
    SteelAndFeed,
}
