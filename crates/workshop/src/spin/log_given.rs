//! What comes into the fit of a log.

use super::log_laws::KnownLoss;
use crate::part::{NotALog, Range, SpinLog};
use crate::shelf::log_windows;

/// Why a log is not fitted.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum LogRefusal {
    /// It is no spin-down.
    #[error("{0}")]
    NotALog(#[from] NotALog),
    /// A speed nothing thrown reaches.
    #[error(
        "the log starts at {rpm:.0} rpm ({rad_s:.0} rad/s), more than the {most_rpm:.0} rpm that is believed of a throw; if the \
         column holds rpm and was read as rad/s, it starts at {rad_s:.0} rpm: name the unit in the heading of the column"
    )]
    TooFast {
        /// First speed as read, rpm.
        rpm: f64,
        /// The same in rad/s.
        rad_s: f64,
        /// The largest believed.
        most_rpm: f64,
    },
    /// A speed that looks like rad/s in a column of rpm.
    #[error(
        "the log starts at {rpm:.0} rpm, less than the {least_rpm:.0} rpm that is believed of a throw; as rad/s the same number \
         would be {meant_rpm:.0} rpm: name the unit in the heading of the column, or say that the units are sure"
    )]
    TooSlow {
        /// First speed as read, rpm.
        rpm: f64,
        /// The least believed.
        least_rpm: f64,
        /// What it would be if rad/s was meant.
        meant_rpm: f64,
    },
    /// A number beside the log that cannot be.
    #[error("{what} is {value}; wanted is a number above 0")]
    Impossible {
        /// What it is of.
        what: &'static str,
        /// What was read.
        value: f64,
    },
    /// Fits that do not end.
    #[error(
        "no law could be fitted to the log `{name}`: {why}; look at its picture, and log again"
    )]
    NoFit {
        /// Which log.
        name: String,
        /// Why.
        why: String,
    },
}

/// A log with what is known beside it.
#[derive(Debug, Clone)]
pub struct LogGiven {
    /// The log.
    pub(super) log: SpinLog,
    /// Polar inertia of what spins, g·mm², with its standard deviation.
    pub(super) inertia: Option<(f64, f64)>,
    /// Losses of the design, by their own laws.
    pub(super) known: Vec<KnownLoss>,
    /// What the prediction says of the sleep from the log's first speed, s.
    pub(super) predicted_sleep_s: Option<Range>,
    /// Where the sleep ends, rpm.
    pub(super) ends_at_rpm: f64,
}

/// Revolutions a minute in one rad/s.
pub(super) const RPM_PER_RAD_S: f64 = 30.0 / std::f64::consts::PI;

impl LogGiven {
    /// A log of a throw; the sleep ends where the shelf has it.
    ///
    /// # Errors
    /// A first speed that no throw has: then the unit of the column is most likely another one.
    pub fn new(log: SpinLog) -> Result<Self, LogRefusal> {
        believed(&log)?;
        Ok(Self::sure(log))
    }

    /// A log whose units are sure, whatever its speeds: a bearing flicked by finger, a drive.
    #[must_use]
    pub fn sure(log: SpinLog) -> Self {
        Self {
            log,
            inertia: None,
            known: Vec::new(),
            predicted_sleep_s: None,
            ends_at_rpm: log_windows().ends_at_rpm.number,
        }
    }

    /// With the polar inertia of what spins and its standard deviation, in g·mm²: torques become known.
    ///
    /// # Errors
    /// An inertia not above nought.
    pub fn with_inertia(mut self, inertia_g_mm2: f64, sd_g_mm2: f64) -> Result<Self, LogRefusal> {
        positive("the polar inertia in g·mm²", inertia_g_mm2)?;
        self.inertia = Some((
            inertia_g_mm2,
            if sd_g_mm2.is_finite() {
                sd_g_mm2.max(0.0)
            } else {
                0.0
            },
        ));
        Ok(self)
    }

    /// With the losses of the design and the sleep predicted from the log's first speed.
    #[must_use]
    pub fn with_design(mut self, known: Vec<KnownLoss>, predicted_sleep_s: Option<Range>) -> Self {
        self.known = known;
        self.predicted_sleep_s = predicted_sleep_s;
        self
    }

    /// With another end of the sleep.
    ///
    /// # Errors
    /// A speed not above nought.
    pub fn ending_at_rpm(mut self, ends_at_rpm: f64) -> Result<Self, LogRefusal> {
        positive("the speed at which the sleep ends, in rpm,", ends_at_rpm)?;
        self.ends_at_rpm = ends_at_rpm;
        Ok(self)
    }

    /// The log's first speed, which a prediction to compare with should start from.
    #[must_use]
    pub fn first_speed_rpm(&self) -> f64 {
        self.log.speeds_rad_s[0] * RPM_PER_RAD_S
    }

    /// The log.
    #[must_use]
    pub fn log(&self) -> &SpinLog {
        &self.log
    }
}

fn positive(what: &'static str, value: f64) -> Result<(), LogRefusal> {
    if value.is_finite() && value > 0.0 {
        Ok(())
    } else {
        Err(LogRefusal::Impossible { what, value })
    }
}

/// The first speed is one that a throw has.
fn believed(log: &SpinLog) -> Result<(), LogRefusal> {
    let windows = log_windows();
    let (least_rpm, most_rpm) = (
        windows.least_start_rpm.number,
        windows.most_start_rpm.number,
    );
    let rad_s = log.speeds_rad_s.iter().copied().fold(0.0, f64::max);
    let rpm = rad_s * RPM_PER_RAD_S;
    if rpm > most_rpm {
        return Err(LogRefusal::TooFast {
            rpm,
            rad_s,
            most_rpm,
        });
    }
    let meant_rpm = rpm * RPM_PER_RAD_S;
    if rpm < least_rpm && (least_rpm..=most_rpm).contains(&meant_rpm) {
        return Err(LogRefusal::TooSlow {
            rpm,
            least_rpm,
            meant_rpm,
        });
    }
    Ok(())
}
