//! The numbers that leave the measuring station.

use serde::{Deserialize, Serialize};

use crate::part::Kind;

/// What was weighed, how it spreads, and what should be weighed again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MeasuringBody {
    /// How many parts were handed in.
    pub parts: usize,
    /// How many of them have a mass.
    pub weighed: usize,
    /// Spread of the mass, one entry a kind of part, in the order half, rim, dressed, other.
    pub by_kind: Vec<Spread>,
    /// Spread of the mass, one entry a kind and origin (cavity, insert, pack), origins in order.
    pub by_origin: Vec<Spread>,
    /// Distribution of the mass, one a kind; all origins share the bins.
    pub histograms: Vec<Histogram>,
    /// What the origins do to the mass, in sentences; empty where there is one origin or none.
    pub differences: Vec<String>,
    /// Readings to take again before the parts are paired.
    pub doubts: Vec<Doubt>,
}

/// Count, middle and spread of the masses of some parts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// Kind of part.
    pub kind: Kind,
    /// Cavity, insert or pack; none for the whole kind, or where the file names none.
    pub origin: Option<String>,
    /// How many were weighed.
    pub count: usize,
    /// Mean mass in grams.
    pub mean_mass_g: f64,
    /// Sample standard deviation of the mass in grams (divisor n − 1); none for one part.
    pub sd_mass_g: Option<f64>,
    /// Lightest, in grams.
    pub min_mass_g: f64,
    /// Heaviest, in grams.
    pub max_mass_g: f64,
    /// Heaviest minus lightest, in grams.
    pub range_mass_g: f64,
}

/// Masses counted in bins that are never finer than the step of the scale.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Histogram {
    /// Kind of part.
    pub kind: Kind,
    /// The step of the scale, in grams, as seen in the readings.
    pub step_mass_g: f64,
    /// Width of every bin, in grams: a whole number of steps.
    pub bin_mass_g: f64,
    /// Lower edge of the first bin, in grams, half a step below a reading.
    pub start_mass_g: f64,
    /// Counts of all parts of the kind, bin by bin.
    pub counts: Vec<usize>,
    /// Counts by origin, the same bins; empty where there are more than 64 origins.
    pub by_origin: Vec<OriginCounts>,
}

/// The share of one origin in a histogram.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OriginCounts {
    /// Cavity, insert or pack; none where the file names none.
    pub origin: Option<String>,
    /// Counts, bin by bin.
    pub counts: Vec<usize>,
}

/// One reading that should be taken again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Doubt {
    /// Which of the parts handed in, counted from 0.
    pub part: usize,
    /// Its serial.
    pub serial: String,
    /// Its mass in grams.
    pub mass_g: f64,
    /// How many robust standard deviations it lies from the middle of its origin (no unit).
    pub robust_distance: f64,
    /// The doubt in one sentence.
    pub why: String,
}
