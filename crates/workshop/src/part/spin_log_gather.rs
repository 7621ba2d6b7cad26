//! Gathers a log line by line in bounded memory: a short log is kept as it is, a long one is averaged.

use super::spin_log::{LogFrom, SpinLog};
use super::spin_log_checks::Reading;
use super::spin_log_faults::NotALog;

/// How many readings are held; a longer log is averaged, two neighbours into one, as often as needed.
pub const MOST_HELD: usize = 65_536;

/// Takes readings one by one; [`Self::finish`] makes the log. Memory does not grow with its length.
///
/// Up to [`MOST_HELD`] readings are kept and may come in any order. Beyond that neighbours are averaged,
/// so a log must then come in order of time. With at least half of [`MOST_HELD`] means over the whole log,
/// a mean differs from the curve at its middle by less than a billionth of the fall.
#[derive(Debug, Clone)]
pub struct LogGatherer {
    name: String,
    held: Vec<Reading>,
    /// Readings in each of `held`.
    each: u32,
    open: Open,
    total: usize,
    at_nought: usize,
    latest_s: f64,
    wrong: Option<NotALog>,
}

/// The mean that is being gathered.
#[derive(Debug, Clone, Copy, Default)]
struct Open {
    count: u32,
    times: f64,
    speeds: f64,
}

impl LogGatherer {
    /// Nothing gathered yet.
    #[must_use]
    pub fn new(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            held: Vec::new(),
            each: 1,
            open: Open::default(),
            total: 0,
            at_nought: 0,
            latest_s: f64::NEG_INFINITY,
            wrong: None,
        }
    }

    /// Takes one reading: a time in s and a speed in rad/s. What is wrong with it is said by `finish`.
    pub fn push(&mut self, time_s: f64, speed_rad_s: f64) {
        self.total += 1;
        if self.wrong.is_some() {
            return;
        }
        for (number, what) in [(time_s, "time"), (speed_rad_s, "speed")] {
            if !number.is_finite() {
                let reading = self.total;
                self.wrong = Some(NotALog::NotANumber { reading, what });
                return;
            }
        }
        if self.each > 1 {
            if time_s < self.latest_s {
                self.wrong = Some(NotALog::OutOfOrder {
                    reading: self.total,
                    time_s,
                    held: MOST_HELD,
                });
                return;
            }
            if speed_rad_s <= 0.0 {
                self.at_nought += 1;
                return;
            }
        }
        self.latest_s = self.latest_s.max(time_s);
        self.open.count += 1;
        self.open.times += time_s;
        self.open.speeds += speed_rad_s;
        if self.open.count == self.each {
            self.close();
        }
    }

    /// How many readings came in so far.
    #[must_use]
    pub fn total(&self) -> usize {
        self.total
    }

    fn close(&mut self) {
        let Open {
            count,
            times,
            speeds,
        } = std::mem::take(&mut self.open);
        let n = f64::from(count);
        self.held.push(Reading {
            time_s: times / n,
            speed_rad_s: speeds / n,
            weight: n,
        });
        if self.held.len() == MOST_HELD {
            self.halve();
        }
    }

    /// Makes two neighbours one.
    fn halve(&mut self) {
        if self.each == 1 {
            self.held.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
            let before = self.held.len();
            self.held.retain(|r| r.speed_rad_s > 0.0);
            self.at_nought += before - self.held.len();
        }
        self.held = self
            .held
            .chunks(2)
            .map(|pair| {
                let whole: f64 = pair.iter().map(|r| r.weight).sum();
                Reading {
                    time_s: pair.iter().map(|r| r.weight * r.time_s).sum::<f64>() / whole,
                    speed_rad_s: pair.iter().map(|r| r.weight * r.speed_rad_s).sum::<f64>() / whole,
                    weight: whole,
                }
            })
            .collect();
        self.each *= 2;
    }

    /// The log of what was gathered; `speed_sd_rad_s` is that of a single reading, if it is known.
    ///
    /// # Errors
    /// As [`SpinLog::from_speeds`]; also a long log out of order.
    pub fn finish(mut self, speed_sd_rad_s: Option<f64>) -> Result<SpinLog, NotALog> {
        if let Some(wrong) = self.wrong {
            return Err(wrong);
        }
        if self.each == 1 {
            let (times, speeds): (Vec<f64>, Vec<f64>) =
                self.held.iter().map(|r| (r.time_s, r.speed_rad_s)).unzip();
            return SpinLog::from_speeds(self.name, &times, &speeds, speed_sd_rad_s);
        }
        if self.open.count > 0 {
            self.close();
        }
        let mut repairs = vec![format!(
            "{} readings averaged to {}, up to {} in one",
            self.total,
            self.held.len(),
            self.each
        )];
        if self.at_nought > 0 {
            repairs.push(format!(
                "{} reading(s) at nought or below were left out",
                self.at_nought
            ));
        }
        SpinLog::checked(
            self.name,
            self.held,
            speed_sd_rad_s,
            LogFrom::Speeds,
            self.total,
            repairs,
        )
    }
}
