//! Drag of the rim: the law of a long turning cylinder, to be scaled by a factor.

use std::f64::consts::{LN_10, PI};

use whirlwright_kit::omega::omega;

use super::air::Air;
use super::speed::Speed;
use crate::shelf::known;

/// One band of the rim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RimBand {
    /// Its radius.
    pub radius_mm: f64,
    /// Its length along the axle.
    pub length_mm: f64,
}

/// The rim of a piece in one air.
///
/// - **Law:** skin friction `c` of a turning cylinder, `1/√c = a + b log10(R √c)` with
///   `R = ω r²/ν`, and the laminar `c = 4/R` where that is more. With `y = 1/√c` and `k = b/ln 10` the
///   law is `y/k + ln(y/k) = ln R + a/k − ln k`, so `y/k` is Wright's omega: no iteration is left open.
/// - **Holds for** a long cylinder in still air; a rim is neither, hence the factor on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Rim {
    bands: Vec<Band>,
    /// `1/k²`.
    scale: f64,
    /// The Reynolds number at which both laws agree.
    crossing: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Band {
    /// `ln(r²/ν) + a/k − ln k`.
    offset: f64,
    /// `π ρ r⁴ L`: torque over `c ω²`.
    reach: f64,
    /// Laminar torque over the speed, `4 π μ r² L`.
    laminar: f64,
    /// Speed of `R = 1`.
    unit_speed: f64,
}

impl Rim {
    /// The rim made of these bands.
    #[must_use]
    pub fn new(bands: &[RimBand], air: Air) -> Self {
        const MM: f64 = 1e-3;
        let (a, k) = law();
        let viscosity = air.kinematic_m2_per_s();
        let band = |band: &RimBand| {
            let (r, length) = (band.radius_mm * MM, band.length_mm * MM);
            Band {
                offset: (r * r / viscosity).ln() + a / k - k.ln(),
                reach: PI * air.density_kg_m3 * r.powi(4) * length,
                laminar: 4.0 * PI * air.viscosity_pa_s * r * r * length,
                unit_speed: viscosity / (r * r),
            }
        };
        let there = |band: &&RimBand| band.length_mm > 0.0 && air.density_kg_m3 > 0.0;
        Self {
            bands: bands.iter().filter(there).map(band).collect(),
            scale: 1.0 / (k * k),
            crossing: known("drag.cylinder.crossing").value,
        }
    }

    /// Whether there is nothing to drag.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.bands.is_empty()
    }

    /// The torque at a speed.
    #[must_use]
    #[inline]
    pub fn torque_n_m(&self, speed: Speed) -> f64 {
        let of_band = |band: &Band| {
            let x = omega(speed.log + band.offset);
            let turbulent = band.reach * speed.rad_per_s * self.scale / (x * x);
            turbulent.max(band.laminar) * speed.rad_per_s
        };
        self.bands.iter().map(of_band).sum()
    }

    /// Speeds at which a band passes from the laminar law to the other.
    pub(super) fn kinks_rad_per_s(&self) -> impl Iterator<Item = f64> {
        self.bands
            .iter()
            .map(|band| self.crossing * band.unit_speed)
    }
}

/// `a` and `k = b/ln 10` of the law.
fn law() -> (f64, f64) {
    let slope = known("drag.cylinder.slope").value;
    (known("drag.cylinder.constant").value, slope / LN_10)
}

/// Skin friction coefficient of a long cylinder at a Reynolds number `ω r²/ν`: the larger of both laws.
#[must_use]
pub fn cylinder_coefficient(reynolds_number: f64) -> f64 {
    turbulent_coefficient(reynolds_number).max(4.0 / reynolds_number)
}

/// The turbulent law alone.
#[must_use]
pub fn turbulent_coefficient(reynolds_number: f64) -> f64 {
    let (a, k) = law();
    let y = k * omega(reynolds_number.ln() + a / k - k.ln());
    1.0 / (y * y)
}

/// The Reynolds number at which both laws agree: with `c = 4/R`, `√R/2 = a + b log10(2 √R)`.
#[must_use]
pub fn crossing_number() -> f64 {
    let (a, k) = law();
    // Between 1 and the root of 1e8 the left side rises from below the right side to above it.
    let off = |root: f64| 0.5 * root - a - k * (2.0 * root).ln();
    let root = whirlwright_kit::root::root(off, 2.0 * k, 1e4, 0.0);
    root.map_or(0.0, |root| root * root)
}
