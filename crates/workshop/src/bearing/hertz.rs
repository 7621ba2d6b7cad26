//! Two curved bodies pressed together: an ellipse of contact, by complete elliptic integrals.

use serde::{Deserialize, Serialize};
use whirlwright_kit::elliptic::complete_elliptic;

/// One contact under one load.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Contact {
    /// Larger half axis of the ellipse.
    pub half_length_mm: f64,
    /// Smaller half axis.
    pub half_width_mm: f64,
    /// Largest pressure.
    pub pressure_mpa: f64,
    /// How far the bodies come together.
    pub approach_um: f64,
}

/// The shape of two bodies where they touch, and what they are of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Touch {
    /// Smaller half sum of curvatures, 1/mm.
    flat: f64,
    /// `E*` in MPa.
    effective: f64,
    /// Short by long half axis.
    ratio: f64,
    /// `(K − E)/m`, `K` at that ratio.
    shape: f64,
    k: f64,
}

/// `E*` of two bodies of one material, `1/E* = 2 (1 − ν²)/E`.
#[must_use]
pub fn effective_modulus_mpa(modulus_gpa: f64, poisson_ratio: f64) -> f64 {
    1e3 * modulus_gpa / (2.0 * (1.0 - poisson_ratio * poisson_ratio))
}

impl Touch {
    /// Bodies whose curvatures, added and halved, are `one` and `other` in two planes across each other,
    /// in 1/mm; none unless both are above nought (bodies that fit into each other touch along a line).
    #[must_use]
    pub fn new(one: f64, other: f64, effective_mpa: f64) -> Option<Self> {
        let (flat, steep) = (one.min(other), one.max(other));
        let sound = flat > 0.0 && one.is_finite() && other.is_finite() && effective_mpa > 0.0;
        if !sound {
            return None;
        }
        let ratio = axis_ratio(flat / steep);
        let integrals = complete_elliptic(ratio);
        Some(Self {
            flat,
            effective: effective_mpa,
            ratio,
            shape: integrals.d,
            k: integrals.k,
        })
    }

    /// The contact under a load in N.
    #[must_use]
    pub fn under(&self, load_n: f64) -> Contact {
        let cube =
            3.0 * load_n * self.shape / (2.0 * std::f64::consts::PI * self.effective * self.flat);
        let a = cube.cbrt();
        let b = self.ratio * a;
        let pressure_mpa = if load_n > 0.0 {
            3.0 * load_n / (2.0 * std::f64::consts::PI * a * b)
        } else {
            0.0
        };
        Contact {
            half_length_mm: a,
            half_width_mm: b,
            pressure_mpa,
            // mm to µm.
            approach_um: 1e3 * pressure_mpa * b * self.k / self.effective,
        }
    }

    /// The load at which the largest pressure is `pressure_mpa`: it goes with the cube root of the load.
    #[must_use]
    pub fn load_at_n(&self, pressure_mpa: f64) -> f64 {
        (pressure_mpa / self.under(1.0).pressure_mpa).powi(3)
    }
}

/// The ratio of the half axes whose curvatures are as `flat/steep`: bisection of a rising function of the
/// logarithm of the ratio, to the last figures.
fn axis_ratio(flat_by_steep: f64) -> f64 {
    // (K − E)/(E/k² − K), both differences without cancellation.
    let curvatures = |ratio: f64| {
        let integrals = complete_elliptic(ratio);
        ratio * ratio * integrals.d / integrals.b
    };
    if flat_by_steep >= 1.0 {
        return 1.0;
    }
    let (mut low, mut high) = (-40.0f64, 0.0f64);
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if curvatures(middle.exp()) < flat_by_steep {
            low = middle;
        } else {
            high = middle;
        }
    }
    (0.5 * (low + high)).exp()
}
