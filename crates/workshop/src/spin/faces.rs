//! Drag of faces: disc and cones, laminar inside, turbulent beyond the local Reynolds number.

use super::air::Air;
use super::speed::Speed;
use crate::shelf::known;

/// One ring of a face, straight in section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaceStrip {
    /// Its smaller radius.
    pub inner_mm: f64,
    /// Its larger radius.
    pub outer_mm: f64,
    /// Sine of the angle between the surface and the axle: 1 for a flat face.
    pub sine_ratio: f64,
}

/// The faces of a piece in one air.
///
/// - **Law:** a cone has the boundary layer of a disc with the slant as its radius and the speed
///   times `sin φ`; so a strip has the disc's torque over `√sin φ` where the flow is laminar, and over
///   `sin^0.8 φ` where it is turbulent. The integrals over a straight strip are exact.
/// - **Laminar:** von Kármán, Cochran: the torque goes with the power 1.5 of the speed, exactly.
/// - **Turbulent:** 1/7-power profile, power 1.8, from the radius at which `r² ω / (ν sin φ)` reaches
///   the transition.
#[derive(Debug, Clone, PartialEq)]
pub struct Faces {
    /// Torque over the power 1.5 of the speed while all is laminar.
    laminar: f64,
    /// The speed at which the first strip begins to turn turbulent, in rad/s.
    onset: f64,
    rings: Vec<Ring>,
}

/// A strip in SI, with its share of both laws.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Ring {
    inner: f64,
    outer: f64,
    /// Laminar torque over `(r₂⁴ − r₁⁴) ω^1.5`.
    laminar: f64,
    /// Turbulent torque over `(r₂^4.6 − r₁^4.6) ω^1.8`.
    turbulent: f64,
    /// Radius of transition squared times the speed.
    transition: f64,
}

/// Powers of the radius and the speed in the turbulent law.
const RADIUS_POWER: f64 = 4.6;
const SPEED_POWER: f64 = 1.8;
const SLANT_POWER: f64 = 0.8;
const MM: f64 = 1e-3;

impl Faces {
    /// The faces made of these strips; transition at the local Reynolds number of the shelf.
    #[must_use]
    pub fn new(strips: &[FaceStrip], air: Air) -> Self {
        Self::with_transition(strips, air, known("drag.disc.transition").value)
    }

    /// The same with the transition at another local Reynolds number.
    #[must_use]
    pub fn with_transition(strips: &[FaceStrip], air: Air, transition_number: f64) -> Self {
        let one_face = |name: &str| 0.25 * known(name).value;
        let smooth = one_face("drag.disc.laminar_moment")
            * (air.density_kg_m3 * air.viscosity_pa_s).max(0.0).sqrt();
        // ρ ν^0.2, written so that it is 0 in a vacuum.
        let rough = one_face("drag.disc.turbulent_moment")
            * air.density_kg_m3.powf(0.8)
            * air.viscosity_pa_s.powf(0.2);
        let mut faces = Self {
            laminar: 0.0,
            onset: f64::INFINITY,
            rings: Vec::with_capacity(strips.len()),
        };
        for strip in strips {
            let ring = Ring {
                inner: strip.inner_mm * MM,
                outer: strip.outer_mm * MM,
                laminar: smooth / strip.sine_ratio.sqrt(),
                turbulent: rough / strip.sine_ratio.powf(SLANT_POWER),
                transition: transition_number * air.kinematic_m2_per_s() * strip.sine_ratio,
            };
            faces.laminar += ring.laminar * (ring.outer.powi(4) - ring.inner.powi(4));
            faces.onset = faces.onset.min(ring.transition / ring.outer.powi(2));
            faces.rings.push(ring);
        }
        faces
    }

    /// Torque over the power 1.5 of the speed, in N·m·s^1.5, while the flow is laminar everywhere.
    #[must_use]
    pub fn laminar_coefficient(&self) -> f64 {
        self.laminar
    }

    /// The speed at which transition begins at the largest radius; infinite without air.
    #[must_use]
    pub fn onset_rad_per_s(&self) -> f64 {
        self.onset
    }

    /// The torque at a speed.
    #[must_use]
    #[inline]
    pub fn torque_n_m(&self, speed: Speed) -> f64 {
        let smooth = speed.rad_per_s * speed.root;
        if speed.rad_per_s <= self.onset {
            self.laminar * smooth
        } else {
            self.mixed(speed.rad_per_s, smooth)
        }
    }

    fn mixed(&self, rad_per_s: f64, smooth: f64) -> f64 {
        let rough = rad_per_s.powf(SPEED_POWER);
        let of_ring = |ring: &Ring| {
            let between = (ring.transition / rad_per_s).sqrt();
            let between = between.clamp(ring.inner, ring.outer);
            let inside = between.powi(4) - ring.inner.powi(4);
            let outside = ring.outer.powf(RADIUS_POWER) - between.powf(RADIUS_POWER);
            ring.laminar * inside * smooth + ring.turbulent * outside * rough
        };
        self.rings.iter().map(of_ring).sum()
    }
}

/// Thickness of the layer of air that a disc carries along, in mm.
#[must_use]
pub fn layer_mm(air: Air, rad_per_s: f64) -> f64 {
    known("drag.disc.layer").value * (air.kinematic_m2_per_s() / rad_per_s).sqrt() / MM
}
