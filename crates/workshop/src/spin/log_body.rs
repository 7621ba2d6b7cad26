//! What leaves the fit of a log.

use serde::{Deserialize, Serialize};

use super::log_laws::Term;
use crate::part::{LogFrom, Range};

/// What a log says of the losses.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LogBody {
    /// What the log is called.
    pub log: String,
    /// What its speeds were made from.
    pub from: LogFrom,
    /// How many readings came in.
    pub readings: usize,
    /// How many points were fitted, after repairs and averaging.
    pub fitted: usize,
    /// What was mended, in words.
    pub repairs: Vec<String>,
    /// Length of the log.
    pub length_s: f64,
    /// First speed, of the fitted curve.
    pub start_rpm: f64,
    /// Its standard deviation.
    pub start_sd_rpm: f64,
    /// Last speed, of the fitted curve.
    pub end_rpm: f64,
    /// First by last speed.
    pub speed_ratio: f64,
    /// Scatter of a reading of weight 1, as the residuals show it.
    pub scatter_rpm: f64,
    /// Scatter by the given uncertainty of a reading, where one was given; near 1 if both are right.
    pub scatter_ratio: Option<f64>,
    /// The law that was fitted, in words.
    pub law: String,
    /// Its terms.
    pub terms: Vec<TermLine>,
    /// Correlations of the terms, each pair once.
    pub correlations: Vec<CorrelationLine>,
    /// Slowing of all terms together where the log knows it best, with its relative standard deviation.
    pub slowing: SlowingLine,
    /// Whether the residuals hang together.
    pub runs: Option<RunsLine>,
    /// Other laws that were tried, and what the log says to each.
    pub tried: Vec<TriedLine>,
    /// How long to log, and down to what speed.
    pub advice: Vec<AdviceLine>,
    /// Where the sleep ends.
    pub ends_at_rpm: f64,
    /// Sleep from the first speed to that, with its standard deviation; beyond the log it is an extrapolation.
    pub sleep_s: f64,
    /// Its standard deviation, of the fit alone.
    pub sleep_sd_s: f64,
    /// Whether the sleep ends below the last speed of the log.
    pub extrapolated: bool,
    /// What each loss is worth, the one to attack first in front.
    pub worth: Vec<WorthLine>,
    /// Losses of the design against the log.
    pub design: Option<DesignLine>,
    /// Points for the picture.
    pub points: Vec<LogPoint>,
    /// The fitted curve.
    pub curve: Vec<LogCurvePoint>,
}

/// One fitted term.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TermLine {
    /// What it goes with.
    pub term: Term,
    /// What it is called.
    pub name: String,
    /// Its slowing at the first speed; the derivative of the speed is minus the sum of all.
    pub slowing_rad_per_s2: f64,
    /// Standard deviation of that.
    pub slowing_sd_rad_per_s2: f64,
    /// Coefficient by inertia in SI units: slowing by the power of the speed in rad/s (`rad/s²/(rad/s)^p`); none
    /// for a law of the design.
    pub coefficient: Option<f64>,
    /// Torque at the first speed, where the inertia is known.
    pub torque_un_m: Option<f64>,
    /// Standard deviation of that, with the inertia's own.
    pub torque_sd_un_m: Option<f64>,
    /// Share of the slowing at the first speed.
    pub share: f64,
    /// Standard deviation by value.
    pub open_share: f64,
    /// Whether the log carries it.
    pub reported: bool,
    /// What the log says of it, in words.
    pub words: String,
}

/// Correlation of two terms.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CorrelationLine {
    /// One term.
    pub first: String,
    /// The other.
    pub second: String,
    /// −1 to 1.
    pub correlation_coefficient: f64,
}

/// What the log knows best: the slowing at some speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SlowingLine {
    /// The speed.
    pub at_rpm: f64,
    /// The slowing of all terms there.
    pub slowing_rad_per_s2: f64,
    /// Its standard deviation by value.
    pub open_share: f64,
    /// Torque there, where the inertia is known.
    pub torque_un_m: Option<f64>,
}

/// Runs of the residuals' signs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RunsLine {
    /// Stretches of one sign.
    pub runs: usize,
    /// Stretches that residuals without order would have, a count.
    pub expected_count: f64,
    /// Probability of being as far off by chance.
    pub probability: f64,
    /// What it means.
    pub words: String,
}

/// Another law that was tried.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TriedLine {
    /// The law in words.
    pub law: String,
    /// Name and relative standard deviation of each of its terms.
    pub terms: Vec<TriedTerm>,
    /// Largest correlation of two terms, by size.
    pub correlation_coefficient: f64,
    /// Probability that the added term explains as much by chance.
    pub probability: f64,
    /// Whether the log tells its terms apart.
    pub told_apart: bool,
    /// What the log says to it.
    pub words: String,
}

/// A term of a law that was tried.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TriedTerm {
    /// What it goes with.
    pub term: Term,
    /// What it is called.
    pub name: String,
    /// Standard deviation by value.
    pub open_share: f64,
}

/// How long to log until a term is known.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AdviceLine {
    /// Which term.
    pub name: String,
    /// Relative standard deviation that is aimed at.
    pub open_share: f64,
    /// Length of a log, as often read as this one, that gives it; none where no length does.
    pub length_s: Option<f64>,
    /// The speed it then ends at.
    pub end_rpm: Option<f64>,
    /// In words.
    pub words: String,
}

/// What a loss is worth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WorthLine {
    /// Which loss.
    pub name: String,
    /// Share of the energy between start and end that it takes.
    pub energy_share: f64,
    /// Sleep with half of it.
    pub sleep_with_half_s: f64,
    /// Seconds that half of it is worth.
    pub half_is_worth_s: f64,
    /// Standard deviation of that, of the fit alone.
    pub half_is_worth_sd_s: f64,
}

/// The design's losses against the log.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DesignLine {
    /// Factor of each law of the design that makes it meet the log.
    pub factors: Vec<FactorLine>,
    /// Sleep that was predicted from the log's first speed.
    pub predicted_sleep_s: Option<Range>,
    /// Slowing by the log over slowing by the design at the first speed, with all factors 1.
    pub slowing_ratio: f64,
    /// What the comparison says.
    pub words: String,
}

/// Factor of one law of the design.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FactorLine {
    /// Which loss; several that the log cannot tell apart share a line.
    pub name: String,
    /// Its factor on the design's own law.
    pub factor: f64,
    /// Standard deviation of that.
    pub factor_sd: f64,
    /// Whether the log carries it.
    pub reported: bool,
}

/// One point of the picture: the mean of neighbouring readings.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LogPoint {
    /// When.
    pub time_s: f64,
    /// As read.
    pub speed_rpm: f64,
    /// As fitted.
    pub fitted_rpm: f64,
    /// Read minus fitted.
    pub residual_rpm: f64,
}

/// One point of the fitted curve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LogCurvePoint {
    /// When.
    pub time_s: f64,
    /// Speed of the fit.
    pub speed_rpm: f64,
    /// Its standard deviation.
    pub sd_rpm: f64,
}
