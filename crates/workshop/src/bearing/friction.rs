//! What a ball bearing holds back with: viscous, load and dry torque.

use crate::shelf::bearing_laws;

/// The friction torque of one bearing at one temperature and load.
///
/// The sum of Palmgren's viscous torque `M0`, his load torque `M1`, and a torque that does not depend on
/// speed and stands for everything a bearing with a drop of oil has besides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Friction {
    /// Pitch diameter.
    pub pitch_mm: f64,
    /// Palmgren's `f0`: how much of a flooded bearing's drag there is; 0 for a dry bearing.
    pub f0_factor: f64,
    /// Kinematic viscosity as it runs, mm²/s (cSt).
    pub viscosity_mm2_per_s: f64,
    /// Load torque, independent of speed.
    pub load_torque_un_m: f64,
    /// Dry torque, independent of speed.
    pub dry_torque_un_m: f64,
}

impl Friction {
    /// Torque at a speed, in µN·m; the same for both senses of turning.
    #[must_use]
    pub fn torque_un_m(&self, speed_rpm: f64) -> f64 {
        self.viscous_un_m(speed_rpm) + self.load_torque_un_m + self.dry_torque_un_m
    }

    /// The viscous part alone, in µN·m.
    #[must_use]
    pub fn viscous_un_m(&self, speed_rpm: f64) -> f64 {
        viscous_un_m(
            self.f0_factor,
            self.viscosity_mm2_per_s,
            speed_rpm,
            self.pitch_mm,
        )
    }
}

/// Half width of the join of Palmgren's two branches, as a share of where they meet.
const JOIN_SHARE: f64 = 0.04;

/// Palmgren's viscous torque `M0`, in µN·m.
///
/// `1e-7 f0 (ν n)^⅔ d³` in N·mm for fast turning and `160e-7 f0 d³` for slow. As printed, the branches
/// change at `ν n = 2000`, where they differ by 0.8 %; here they change where they are equal
/// (`160^1.5 = 2023.9`), and within 4 % of that a cubic joins them with their slopes, so that the torque and
/// its derivative are continuous. The join lies at most 1.2 % above the printed branches.
#[must_use]
pub fn viscous_un_m(f0_factor: f64, viscosity_cst: f64, speed_rpm: f64, pitch_mm: f64) -> f64 {
    let laws = bearing_laws();
    let (fast, slow) = (
        laws.viscous_coefficient.number,
        laws.slow_coefficient.number,
    );
    // 1 N·mm is 1000 µN·m.
    let whole = 1e3 * f0_factor * pitch_mm.powi(3);
    whole * joined(viscosity_cst * speed_rpm.abs(), fast, slow)
}

/// The two branches with their join, by viscosity times speed.
fn joined(product: f64, fast: f64, slow: f64) -> f64 {
    let power = |x: f64| fast * x.cbrt() * x.cbrt();
    let meet = (slow / fast).powf(1.5);
    let (from, to) = (meet * (1.0 - JOIN_SHARE), meet * (1.0 + JOIN_SHARE));
    if product <= from {
        slow
    } else if product >= to {
        power(product)
    } else {
        let s = (product - from) / (to - from);
        let slope = 2.0 / 3.0 * power(to) / to * (to - from);
        let (s2, s3) = (s * s, s * s * s);
        slow * (1.0 - 3.0 * s2 + 2.0 * s3) + power(to) * (3.0 * s2 - 2.0 * s3) + slope * (s3 - s2)
    }
}

/// Palmgren's load torque `M1 = f1 P1 d`, in µN·m, for a given `f1`.
#[must_use]
pub fn load_un_m(f1_factor: f64, load_n: f64, pitch_mm: f64) -> f64 {
    1e3 * f1_factor * load_n * pitch_mm
}

/// Palmgren's `f1` of a deep groove bearing: least and largest factor times `(P0/C0)^0.5`.
#[must_use]
pub fn f1_factor(load_n: f64, static_rating_n: f64) -> [f64; 2] {
    let laws = bearing_laws();
    let share = (load_n / static_rating_n).powf(laws.f1_exponent.number);
    [
        laws.f1_factor[0].number * share,
        laws.f1_factor[1].number * share,
    ]
}

/// The one-line rule `½ μ P d` with the bore `d`, in µN·m.
#[must_use]
pub fn simple_un_m(friction_coefficient: f64, load_n: f64, bore_mm: f64) -> f64 {
    1e3 * 0.5 * friction_coefficient * load_n * bore_mm
}
