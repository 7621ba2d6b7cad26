//! What leaves pairing: the sets, their proof, what to recut, what is left and what it could become.

use serde::{Deserialize, Serialize};

use crate::part::Kind;

/// One piece to be: two dressed halves, with their halves and rims where these were chosen here.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PairSet {
    /// Number of the set, counted from 1 in the order of the pick list.
    pub number: u32,
    /// The left dressed half; `HALF+RIM` where it was married here.
    pub left: String,
    /// The right dressed half; `HALF+RIM` where it was married here.
    pub right: String,
    /// Serial of the left half.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_half: Option<String>,
    /// Serial of the left rim.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_rim: Option<String>,
    /// Serial of the right half.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub right_half: Option<String>,
    /// Serial of the right rim.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub right_rim: Option<String>,
    /// Sum of the squared differences, each divided by its limit; no unit.
    pub cost: f64,
    /// Whether every limit is kept.
    pub within_limits: bool,
    /// Mass of the left dressed half in g, after recutting.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_mass_g: Option<f64>,
    /// Mass of the right dressed half in g, after recutting.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub right_mass_g: Option<f64>,
    /// How much heavier one side is than the other, in g (never negative).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_difference_g: Option<f64>,
    /// Difference of the unbalance sizes in g·mm (never negative).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unbalance_difference_g_mm: Option<f64>,
    /// Difference of the axial offsets in mm (never negative).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub offset_difference_mm: Option<f64>,
    /// Sum of the two dressed halves in g.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub piece_mass_g: Option<f64>,
    /// Interference of the left half in its rim, in mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left_interference_mm: Option<f64>,
    /// Interference of the right half in its rim, in mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub right_interference_mm: Option<f64>,
    /// Keyed joint: which mark of the left half the right half's own mark is set against, from 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub clock_mark: Option<u32>,
    /// What the joint's angle does; the advised setting first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub clocking: Vec<ClockOption>,
    /// Where the parts lie, in the order left, right, or left half, left rim, right half, right rim.
    pub places: Vec<Place>,
}

/// One setting of the joint's angle and what it leaves.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ClockOption {
    /// What the setting is good for, in words.
    pub setting: String,
    /// Angle between the two unbalances in degrees (free joint), or of the right mark from the
    /// left mark as seen from the left (keyed joint).
    pub turn_deg: f64,
    /// Static unbalance that is left, in g·mm: the piece's centre runs off the axle.
    pub static_unbalance_g_mm: f64,
    /// Couple that is left, divided by the distance of a half's centre from the middle, in g·mm.
    pub couple_per_arm_g_mm: f64,
}

/// Where a part lies.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Place {
    /// The part's serial.
    pub id: String,
    /// Half, rim, dressed half or other.
    pub kind: Kind,
    /// Tray and place as written, where known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tray: Option<String>,
    /// Row in the file, from 1: the tray order where no tray is written.
    pub row: u32,
}

/// A part that has no set, and why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LeftOver {
    /// Serial of the part.
    pub id: String,
    /// Half, rim, dressed half or other.
    pub kind: Kind,
    /// Why, in words.
    pub why: String,
    /// `true`: the part was not looked at at all (a reading is missing or in doubt).
    pub left_out: bool,
}

/// One rim to be cut back on its face.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RecutLine {
    /// Serial of the rim.
    pub id: String,
    /// The half it is for.
    pub half: String,
    /// How much of the face comes off, in mm: a whole number of the lathe's steps.
    pub face_mm: f64,
    /// Mass taken off, in g.
    pub mass_g: f64,
    /// Mass of the rim as weighed, in g.
    pub mass_before_g: f64,
    /// Mass the rim should show afterwards, in g.
    pub mass_after_g: f64,
    /// Number of the set it serves.
    pub set: u32,
    /// Where the rim lies.
    pub place: Place,
}

/// The whole recut plan in a few numbers.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RecutSum {
    /// How many rims are cut.
    pub rims: usize,
    /// Mass taken off in all, in g.
    pub mass_g: f64,
    /// Largest mass taken off one rim, in g.
    pub largest_mass_g: f64,
    /// Largest cut of a face, in mm.
    pub largest_face_mm: f64,
    /// Sets possible without any cut, as found.
    pub sets_without: usize,
    /// No plan of the same number of sets takes off less than this, in g.
    pub least_possible_mass_g: f64,
    /// `true` only when no lighter plan exists for this number of sets.
    pub optimal: bool,
}

/// What simpler ways would have brought on this very lot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Baselines {
    /// Parts taken as they come from the trays.
    pub as_it_comes_sets: usize,
    /// Dressed halves (married as they come) or parts sorted into trays one limit wide.
    pub trays_sets: usize,
    /// Half trays and rim trays married by a table, then dressed halves in trays (four parts only).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub half_and_rim_trays_sets: Option<usize>,
    /// The spreadsheet trick: sort, neighbours together (halves up and rims down where there are both).
    pub sheet_sets: usize,
    /// Trays bring at least 99 of 100 sets of the best answer.
    pub trays_would_do: bool,
    /// The same in a sentence.
    pub sentence: String,
}

/// What more parts would bring.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct IfMore {
    /// What comes, in words.
    pub what: String,
    /// How many more parts come.
    pub count: usize,
    /// Sets more than now, mean over the draws.
    pub more_sets: f64,
    /// Fewest more sets in a draw.
    pub more_sets_least: i64,
    /// Most more sets in a draw.
    pub more_sets_most: i64,
    /// Number of simulated deliveries.
    pub draws: usize,
    /// Seed of the draws.
    pub seed: u64,
    /// The same in a sentence.
    pub sentence: String,
}

/// What to do with what is left.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Leftovers {
    /// What more parts would bring.
    pub if_more: Vec<IfMore>,
    /// Which parts would help most, in words.
    pub wish: Vec<String>,
}

/// How many parts of one origin weigh what.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Histogram {
    /// What is counted: `half`, `rim`, `dressed`, `other`.
    pub kind: Kind,
    /// Cavity, insert, batch or pack; empty where none is written.
    pub origin: String,
    /// Number of parts.
    pub count: usize,
    /// Mean mass in g.
    pub mean_mass_g: f64,
    /// Standard deviation of the mass in g; none for a single part.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sd_mass_g: Option<f64>,
    /// Lower edge of the first bin in g.
    pub from_mass_g: f64,
    /// Width of a bin in g.
    pub step_mass_g: f64,
    /// Parts in each bin.
    pub counts: Vec<u32>,
}

/// One limit as it was asked.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct AskedLimit {
    /// What must agree.
    pub what: String,
    /// The limit with its unit, as written.
    pub limit: String,
}

/// Two scores that are not each other: equal mass, and running true.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Scores {
    /// How nearly the two sides weigh the same: keeps the piece from turning about its string.
    pub same_mass: Score,
    /// How true the piece runs: keeps it from shaking.
    pub runs_true: Score,
}

/// One score over all sets.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Score {
    /// Whether it was measured at all.
    pub known: bool,
    /// Sets inside the limit asked for.
    pub sets_within: usize,
    /// Mean over the sets, in the unit of `unit`.
    pub mean: f64,
    /// Worst set, in the unit of `unit`.
    pub worst: f64,
    /// Unit of `mean` and `worst`.
    pub unit: String,
    /// The same in a sentence.
    pub sentence: String,
}

/// The answer's own numbers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PairBody {
    /// What was asked.
    pub limits: Vec<AskedLimit>,
    /// Number of sets found.
    pub set_count: usize,
    /// No choice whatever makes more sets than this.
    pub possible_sets_upper_bound: usize,
    /// `true` only when no choice makes more sets.
    pub sets_optimal: bool,
    /// `true` only when the number of sets and the total cost are both proved.
    pub optimal: bool,
    /// Sum of the sets' costs; no unit.
    pub total_cost: f64,
    /// No choice of as many sets costs less than this; no unit.
    pub lower_bound: f64,
    /// How the proof was made, or what is missing, in words.
    pub proof: String,
    /// The sets, in the order of the pick list.
    pub sets: Vec<PairSet>,
    /// Serials of the parts without a set, in tray order, left-out parts too.
    pub unpaired: Vec<String>,
    /// The same parts, each with the reason.
    pub left_over: Vec<LeftOver>,
    /// Rims to cut, in tray order.
    pub recuts: Vec<RecutLine>,
    /// The recut plan in a few numbers, where one was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub recut_sum: Option<RecutSum>,
    /// Equal mass and running true are two things.
    pub scores: Scores,
    /// What simpler ways would have brought.
    pub baselines: Baselines,
    /// What to do with what is left.
    pub leftovers: Leftovers,
    /// The lot's masses by kind and origin.
    pub distribution: Vec<Histogram>,
}
