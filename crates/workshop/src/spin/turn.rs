//! Turning about the string and leaning: a small-angle gyroscope on a string.

use super::unwind::gravity_m_per_s2;

/// What pulls a sleeping piece round its string.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hanging {
    /// Mass of the piece.
    pub mass_kg: f64,
    /// How far its centre of mass lies beside the string, along the axle.
    pub beside_mm: f64,
    /// Radius of the bearing's outer ring, on which the string pulls.
    pub bearing_radius_mm: f64,
    /// Torsional stiffness of the string; 0 for one that turns freely.
    pub torsion_n_m_per_rad: f64,
}

/// Turn and lean at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pose {
    /// Turn about the string.
    pub turn_deg: f64,
    /// Lean from level; negative towards the heavy side's other end.
    pub lean_deg: f64,
}

const MM: f64 = 1e-3;

/// How far the centre of mass lies beside the middle when two sides of the same shape differ by
/// `difference_g`: `Δm z_c / M`.
#[must_use]
pub fn beside_mm(difference_g: f64, mass_g: f64, side_centre_mm: f64) -> f64 {
    difference_g * side_centre_mm / mass_g
}

impl Hanging {
    fn pull(&self) -> f64 {
        self.mass_kg * gravity_m_per_s2()
    }

    /// The torque about the horizontal that the weight makes.
    #[must_use]
    pub fn torque_n_m(&self) -> f64 {
        self.pull() * self.beside_mm * MM
    }

    /// Speed of turning about the string with an angular momentum `I ω`, string free, in °/s.
    #[must_use]
    pub fn rate_deg_per_s(&self, momentum_kg_m2_per_s: f64) -> f64 {
        (self.torque_n_m() / momentum_kg_m2_per_s).to_degrees()
    }

    /// Turn and lean after `distance = ∫ dt/(I ω)`, however the speed fell.
    ///
    /// `dψ = M g (dz + r θ) ds`, `dθ = −k ψ ds` with `s` the distance: an oscillation in `s` about the lean
    /// `−dz/r` at which the weight hangs plumb; without stiffness a plain turn.
    #[must_use]
    pub fn pose(&self, distance: f64) -> Pose {
        let r = self.bearing_radius_mm;
        let lean = self.beside_mm / r;
        let rate = (self.torsion_n_m_per_rad * self.pull() * r * MM).sqrt();
        let phase = rate * distance;
        let (turn, tilt) = if rate == 0.0 {
            (self.torque_n_m() * distance, 0.0)
        } else {
            let reach = lean * (self.pull() * r * MM / self.torsion_n_m_per_rad).sqrt();
            (reach * phase.sin(), -lean * (1.0 - phase.cos()))
        };
        Pose {
            turn_deg: turn.to_degrees(),
            lean_deg: tilt.to_degrees(),
        }
    }

    /// The largest turn and lean on the way to `distance`.
    #[must_use]
    pub fn largest(&self, distance: f64) -> Pose {
        use std::f64::consts::{FRAC_PI_2, PI};
        let r = self.bearing_radius_mm * MM;
        let rate = (self.torsion_n_m_per_rad * self.pull() * r).sqrt();
        let phase = rate * distance;
        let at = |phase_most: f64| {
            if rate > 0.0 && phase > phase_most {
                phase_most / rate
            } else {
                distance
            }
        };
        Pose {
            turn_deg: self.pose(at(FRAC_PI_2)).turn_deg.abs(),
            lean_deg: self.pose(at(PI)).lean_deg.abs(),
        }
    }

    /// The lean at which the weight hangs plumb below the string's pull, in °: `atan(dz/r)`.
    #[must_use]
    pub fn plumb_lean_deg(&self) -> f64 {
        (self.beside_mm / self.bearing_radius_mm)
            .atan()
            .to_degrees()
    }

    /// The largest lean a stiff string lets it reach, in °: `2 dz/r`.
    #[must_use]
    pub fn lean_bound_deg(&self) -> f64 {
        (2.0 * self.beside_mm / self.bearing_radius_mm).to_degrees()
    }

    /// The largest turn a stiff string lets it reach, in °; infinite for a free one.
    #[must_use]
    pub fn turn_bound_deg(&self) -> f64 {
        let lean = self.beside_mm / self.bearing_radius_mm;
        let stiff = self.pull() * self.bearing_radius_mm * MM / self.torsion_n_m_per_rad;
        (lean * stiff.sqrt()).to_degrees()
    }

    /// Period in s of the slow swing about the string at an angular momentum; infinite for a free string.
    #[must_use]
    pub fn period_s(&self, momentum_kg_m2_per_s: f64) -> f64 {
        let rate = (self.torsion_n_m_per_rad * self.pull() * self.bearing_radius_mm * MM).sqrt();
        std::f64::consts::TAU * momentum_kg_m2_per_s / rate
    }
}

/// How fast a torque about the string leans a piece of an angular momentum, in °/s.
#[must_use]
pub fn leans_deg_per_s(torque_n_m: f64, momentum_kg_m2_per_s: f64) -> f64 {
    (torque_n_m / momentum_kg_m2_per_s).to_degrees()
}
