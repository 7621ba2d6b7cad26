//! What was logged of a piece that slows down: times and speeds, checked, with every repair said.

use serde::{Deserialize, Serialize};

use super::spin_log_checks::{self as checks, Reading};
pub use super::spin_log_checks::{pulse_speed_rad_s, pulse_speed_sd_rad_s};
pub use super::spin_log_faults::{LEAST_READINGS, NotALog};

/// What the speeds were made from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LogFrom {
    /// Times of the pulses of a mark that passes; the speeds are reckoned from them.
    Pulses,
    /// Speeds as an instrument showed them.
    Speeds,
}

/// A log: ascending times, finite speeds above nought, falling as a whole.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SpinLog {
    /// What it is called: a throw, a bearing, a file.
    pub name: String,
    /// Times, ascending, in s.
    pub times_s: Vec<f64>,
    /// Speeds at those times, in rad/s.
    pub speeds_rad_s: Vec<f64>,
    /// How much each reading counts: how many readings it is the mean of, or one over the square of its
    /// own uncertainty against the first one's. Empty where all count alike.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub reading_weight: Vec<f64>,
    /// Standard deviation of a speed of weight 1, where it is known, in rad/s.
    pub speed_sd_rad_s: Option<f64>,
    /// What the speeds were made from.
    pub from: LogFrom,
    /// How many readings came in, before any were set aside or averaged.
    pub readings: usize,
    /// What was mended, in words; nothing is mended in silence.
    pub repairs: Vec<String>,
}

impl SpinLog {
    /// A log of times and speeds, as an instrument or a table gives them.
    ///
    /// Mended and said: an order of times that can be sorted, a sense of turning counted as negative,
    /// single drop-outs and single readings a quarter off their neighbours, readings before the drive let
    /// go and after the piece stood still.
    ///
    /// # Errors
    /// Everything else that is no spin-down, each with its reading and what to do.
    pub fn from_speeds(
        name: impl Into<String>,
        times_s: &[f64],
        speeds_rad_s: &[f64],
        speed_sd_rad_s: Option<f64>,
    ) -> Result<Self, NotALog> {
        if times_s.len() != speeds_rad_s.len() {
            return Err(NotALog::Lengths {
                times: times_s.len(),
                speeds: speeds_rad_s.len(),
            });
        }
        checks::finite(times_s, "time")?;
        checks::finite(speeds_rad_s, "speed")?;
        let readings = times_s
            .iter()
            .zip(speeds_rad_s)
            .map(|(&time_s, &speed_rad_s)| Reading {
                time_s,
                speed_rad_s,
                weight: 1.0,
            })
            .collect();
        Self::checked(
            name.into(),
            readings,
            speed_sd_rad_s,
            LogFrom::Speeds,
            times_s.len(),
            Vec::new(),
        )
    }

    /// A log from the times at which a mark passed; `marks` marks a turn, evenly spaced or not.
    ///
    /// The speed over `2 m` turns is `2π·2m/(t_last − t_first)` and belongs to the middle of that time,
    /// which is exact for a constant deceleration. No two speeds share a pulse, so their noise is
    /// independent. `timing_sd_s` is how far one pulse may be off, if it is known.
    ///
    /// # Errors
    /// As [`Self::from_speeds`]; also pulses of which more than one in ten had to be put in or taken out.
    pub fn from_pulses(
        name: impl Into<String>,
        pulse_times_s: &[f64],
        marks: u32,
        timing_sd_s: Option<f64>,
    ) -> Result<Self, NotALog> {
        checks::finite(pulse_times_s, "pulse")?;
        if marks == 0 {
            return Err(NotALog::Marks { marks });
        }
        let mut repairs = Vec::new();
        let counted = checks::counted(pulse_times_s, &mut repairs)?;
        let turns = counted.last().map_or(0, |(count, _)| *count) / u64::from(marks);
        let half = half_window_turns(turns);
        let readings = checks::windows(&counted, 2 * half * u64::from(marks), marks);
        let first = readings.first().map_or(1.0, |r| r.speed_rad_s);
        let readings: Vec<Reading> = readings
            .into_iter()
            .map(|r| Reading {
                // The uncertainty of a speed from pulses goes with the square of the speed.
                weight: (first / r.speed_rad_s).powi(4),
                ..r
            })
            .collect();
        repairs.push(format!(
            "{} pulses made into {} speeds, each over {} turns",
            pulse_times_s.len(),
            readings.len(),
            2 * half
        ));
        let sd = timing_sd_s.map(|sd_s| pulse_speed_sd_rad_s(first, sd_s, half as f64));
        Self::checked(
            name.into(),
            readings,
            sd,
            LogFrom::Pulses,
            pulse_times_s.len(),
            repairs,
        )
    }

    /// Readings that are already averaged or weighted; the checks are the same.
    pub(super) fn checked(
        name: String,
        readings: Vec<Reading>,
        speed_sd_rad_s: Option<f64>,
        from: LogFrom,
        count: usize,
        mut repairs: Vec<String>,
    ) -> Result<Self, NotALog> {
        if readings.is_empty() {
            return Err(if count == 0 {
                NotALog::Empty
            } else {
                NotALog::TooFew { count }
            });
        }
        let readings = checks::ordered(readings, &mut repairs)?;
        let readings = checks::turning(readings, &mut repairs)?;
        let readings = checks::without_strays(readings, &mut repairs);
        if readings.len() < LEAST_READINGS {
            return Err(NotALog::TooFew {
                count: readings.len(),
            });
        }
        let readings = checks::falling(readings, &mut repairs)?;
        let weighted = readings.iter().any(|r| r.weight != 1.0);
        Ok(Self {
            name,
            times_s: readings.iter().map(|r| r.time_s).collect(),
            speeds_rad_s: readings.iter().map(|r| r.speed_rad_s).collect(),
            reading_weight: if weighted {
                readings.iter().map(|r| r.weight).collect()
            } else {
                Vec::new()
            },
            speed_sd_rad_s: speed_sd_rad_s.filter(|sd| sd.is_finite() && *sd > 0.0),
            from,
            readings: count,
            repairs,
        })
    }

    /// The weight of one reading, 1 where all count alike.
    #[must_use]
    pub fn weight(&self, reading: usize) -> f64 {
        self.reading_weight.get(reading).copied().unwrap_or(1.0)
    }

    /// The same log in at most `most` readings, each the weighted mean of its neighbours; the log itself
    /// where it is short enough.
    ///
    /// The mean of a curve is not the curve at the mean time; the difference is a 24th of the square of
    /// the averaged time times the curvature, and `most` is to be chosen so that it stays far below the
    /// noise (a thousandth of the fall a bin leaves it below a hundred-thousandth of the speed).
    #[must_use]
    pub fn averaged(&self, most: usize) -> Self {
        let each = self.times_s.len().div_ceil(most.max(1));
        if each <= 1 {
            return self.clone();
        }
        let mut short = Self {
            times_s: Vec::new(),
            speeds_rad_s: Vec::new(),
            reading_weight: Vec::new(),
            ..self.clone()
        };
        for from in (0..self.times_s.len()).step_by(each) {
            let to = (from + each).min(self.times_s.len());
            let whole: f64 = (from..to).map(|i| self.weight(i)).sum();
            let mean = |of: &[f64]| {
                let sum: f64 = (from..to).map(|i| self.weight(i) * of[i]).sum();
                sum / whole
            };
            short.times_s.push(mean(&self.times_s));
            short.speeds_rad_s.push(mean(&self.speeds_rad_s));
            short.reading_weight.push(whole);
        }
        short
    }
}

/// Turns on either side of the middle of a speed from pulses: windows enough to see the curve, and as
/// long as that allows, because the noise falls with their length.
fn half_window_turns(turns: u64) -> u64 {
    const WINDOWS: u64 = 500;
    (turns / (2 * WINDOWS)).max(1)
}
