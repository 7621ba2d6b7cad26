//! A speed of turning with what the laws ask of it.

use std::f64::consts::TAU;

/// A speed of turning with its powers and its logarithm: every law needs some of them, each is reckoned once.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Speed {
    /// The speed.
    pub rad_per_s: f64,
    /// Its square root, in roots of that unit.
    pub(super) root: f64,
    /// Its power 2/3.
    pub(super) two_thirds: f64,
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
            two_thirds: rad_per_s.cbrt().powi(2),
            log: rad_per_s.ln(),
        }
    }

    /// The speed of a natural logarithm.
    #[inline]
    pub(super) fn of_log(log: f64) -> Self {
        // One exponential gives both powers.
        let third = (log / 3.0).exp();
        let two_thirds = third * third;
        let rad_per_s = two_thirds * third;
        Self {
            rad_per_s,
            root: rad_per_s.sqrt(),
            two_thirds,
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
