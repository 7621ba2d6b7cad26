//! What leaves a comparison of logs.

use serde::{Deserialize, Serialize};

/// Logs side by side.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CompareBody {
    /// Speed from which every sleep is reckoned: the lowest first speed of all logs.
    pub from_rpm: f64,
    /// Speed at which every sleep ends.
    pub ends_at_rpm: f64,
    /// Whether torques are known, or only torques by inertia.
    pub torques_known: bool,
    /// The logs in the order they came.
    pub logs: Vec<ComparedLog>,
    /// Means of the groups, in the order they came.
    pub groups: Vec<GroupLine>,
    /// Every group against the first.
    pub differences: Vec<DifferenceLine>,
}

/// One log of a comparison.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ComparedLog {
    /// Which throw or bearing it is a repeat of.
    pub group: String,
    /// What the log is called.
    pub log: String,
    /// First speed of its fit.
    pub start_rpm: f64,
    /// Last speed of its fit.
    pub end_rpm: f64,
    /// What was compared.
    pub values: Vec<ComparedValue>,
    /// The fitted fall, its time counted from the common speed.
    pub curve: Vec<ComparedPoint>,
}

/// One number of a log; its unit stands in `unit`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ComparedValue {
    /// What it is of.
    pub name: String,
    /// Its unit.
    pub unit: String,
    /// The number, in the unit of `unit`.
    pub value: f64,
    /// Standard deviation of the fit, in the unit of `unit`.
    pub sd: f64,
    /// Whether the log carries it.
    pub reported: bool,
}

/// One point of a fitted fall.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ComparedPoint {
    /// Time since the common speed.
    pub time_s: f64,
    /// The speed.
    pub speed_rpm: f64,
}

/// Mean of the repeats of one group; units stand in `unit`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct GroupLine {
    /// Which group.
    pub group: String,
    /// What it is of.
    pub name: String,
    /// Unit of mean and scatter.
    pub unit: String,
    /// How many logs.
    pub logs: usize,
    /// Their mean, in the unit of `unit`.
    pub mean: f64,
    /// Scatter of the repeats, in the unit of `unit`; none for a single one.
    pub sd: Option<f64>,
}

/// One group against the first; units stand in `unit`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DifferenceLine {
    /// The group it is compared with.
    pub first: String,
    /// The group that is compared.
    pub second: String,
    /// What it is of.
    pub name: String,
    /// Unit of difference and uncertainty.
    pub unit: String,
    /// Second less first, an offset in the unit of `unit`.
    pub difference_offset: f64,
    /// Standard deviation of the difference, in the unit of `unit`.
    pub sd: f64,
    /// Which test was made.
    pub test: Test,
    /// Probability of so large a difference by chance, for all comparisons together.
    pub probability: f64,
    /// Whether it is more than the scatter.
    pub more_than_scatter: bool,
    /// In words.
    pub words: String,
}

/// What a difference was judged by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Test {
    /// Welch's: both groups have repeats, each its own scatter.
    Welch,
    /// The pooled scatter of all repeats.
    Pooled,
    /// The fit's own uncertainty: no repeats at all.
    FitOnly,
}
