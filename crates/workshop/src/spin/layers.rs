//! The string wound in the gap: radius and turns by its length.

use std::f64::consts::PI;

/// A string wound round a bearing between two walls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layers {
    /// Radius of the bearing's outer ring: the first layer lies on it.
    pub bearing_radius_mm: f64,
    /// Length of the string.
    pub length_mm: f64,
    /// Growth of the squared radius with every millimetre wound, in mm.
    pub growth_mm: f64,
}

impl Layers {
    /// Layers of a string of a diameter in a gap of a width, packed to a share of the space.
    ///
    /// Area balance: `π (r² − r0²) w φ = (π/4) d² ℓ`, so `r² = r0² + K ℓ` with `K = d²/(4 φ w)`.
    #[must_use]
    pub fn new(
        bearing_radius_mm: f64,
        length_mm: f64,
        diameter_mm: f64,
        gap_mm: f64,
        packing_share: f64,
    ) -> Self {
        Self {
            bearing_radius_mm,
            length_mm,
            growth_mm: diameter_mm * diameter_mm / (4.0 * packing_share * gap_mm),
        }
    }

    /// The radius of the outermost layer when so much of the string is wound.
    #[must_use]
    pub fn radius_mm(&self, wound_mm: f64) -> f64 {
        (self.bearing_radius_mm.powi(2) + self.growth_mm * wound_mm).sqrt()
    }

    /// The radius with the whole string wound.
    #[must_use]
    pub fn full_radius_mm(&self) -> f64 {
        self.radius_mm(self.length_mm)
    }

    /// Turns of the whole string: `(r_full − r0)/(π K)`.
    #[must_use]
    pub fn turns_count(&self) -> f64 {
        let grown = self.full_radius_mm() - self.bearing_radius_mm;
        if self.growth_mm == 0.0 {
            return self.length_mm / (2.0 * PI * self.bearing_radius_mm);
        }
        grown / (PI * self.growth_mm)
    }
}
