//! A speed of turning with what the laws ask of it.

use std::f64::consts::TAU;

/// A speed of turning, its root and its logarithm: every law needs one of them, and each is reckoned once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Speed {
    /// The speed.
    pub rad_per_s: f64,
    /// Its square root, in roots of that unit.
    pub(super) root: f64,
    /// Its natural logarithm, that unit taken as 1.
    pub(super) log: f64,
}

impl Speed {
    /// A speed above 0.
    #[must_use]
    #[inline]
    pub fn new(rad_per_s: f64) -> Self {
        Self {
            rad_per_s,
            root: rad_per_s.sqrt(),
            log: rad_per_s.ln(),
        }
    }

    /// The speed of a natural logarithm.
    #[inline]
    pub(super) fn of_log(log: f64) -> Self {
        let rad_per_s = log.exp();
        Self {
            rad_per_s,
            root: rad_per_s.sqrt(),
            log,
        }
    }
}

/// Turns a minute of a speed.
#[must_use]
pub fn in_rpm(rad_per_s: f64) -> f64 {
    rad_per_s * 60.0 / TAU
}

/// The speed of so many turns a minute.
#[must_use]
pub fn in_rad_per_s(rpm: f64) -> f64 {
    rpm * TAU / 60.0
}
