//! Unbalance as a vector: mass times distance at an angle from the part's own mark.

use serde::{Deserialize, Serialize};

/// Which way angles on a part are counted from its mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AngleSense {
    /// The way the part turns.
    #[default]
    WithRotation,
    /// Against the way it turns: the order in which places pass a fixed pointer.
    AgainstRotation,
}

impl AngleSense {
    /// Both senses, in the order a file explains them.
    pub const ALL: [Self; 2] = [Self::WithRotation, Self::AgainstRotation];

    /// The words a file uses.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::WithRotation => "with rotation",
            Self::AgainstRotation => "against rotation",
        }
    }
}

/// An unbalance in one plane, or the static unbalance of a part: mass times distance from the axis,
/// at an angle from the part's own mark. The [`AngleSense`] stands beside it.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Unbalance {
    /// Mass times distance from the axis; never negative.
    pub mass_distance_g_mm: f64,
    /// Where the heavy spot is, 0 to 360 from the part's mark.
    pub angle_deg: f64,
}

/// A couple (moment) unbalance: the sum of unbalances, each times its place along the axle.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Couple {
    /// Unbalance times distance along the axle; never negative.
    pub moment_g_mm2: f64,
    /// Angle of the heavy spot on the side of growing x, 0 to 360 from the part's mark.
    pub angle_deg: f64,
}

/// Size and angle (0 to 360) of a vector by its two components.
fn polar((toward_mark, across): (f64, f64)) -> (f64, f64) {
    // A turn less a rounding is a turn.
    let angle = across.atan2(toward_mark).to_degrees().rem_euclid(360.0);
    let size = toward_mark.hypot(across);
    (size, if angle < 360.0 { angle } else { 0.0 })
}

fn components(size: f64, angle_deg: f64) -> (f64, f64) {
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    (size * cos, size * sin)
}

impl Unbalance {
    /// From size and angle; a negative size is one on the other side.
    #[must_use]
    pub fn new(mass_distance_g_mm: f64, angle_deg: f64) -> Self {
        Self::from_components(components(mass_distance_g_mm, angle_deg))
    }

    /// From its components toward the mark and a quarter turn further, in g·mm.
    #[must_use]
    pub fn from_components(toward_and_across: (f64, f64)) -> Self {
        let (mass_distance_g_mm, angle_deg) = polar(toward_and_across);
        Self {
            mass_distance_g_mm,
            angle_deg,
        }
    }

    /// Its components toward the mark and a quarter turn further, in g·mm.
    #[must_use]
    pub fn components_g_mm(self) -> (f64, f64) {
        components(self.mass_distance_g_mm, self.angle_deg)
    }
}

impl Couple {
    /// From its components toward the mark and a quarter turn further, in g·mm².
    #[must_use]
    pub fn from_components(toward_and_across: (f64, f64)) -> Self {
        let (moment_g_mm2, angle_deg) = polar(toward_and_across);
        Self {
            moment_g_mm2,
            angle_deg,
        }
    }

    /// Its components toward the mark and a quarter turn further, in g·mm².
    #[must_use]
    pub fn components_g_mm2(self) -> (f64, f64) {
        components(self.moment_g_mm2, self.angle_deg)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_vector_comes_back_from_its_components() {
        for angle in [0.0, 1.0, 90.0, 179.5, 270.0, 359.9] {
            let back = Unbalance::from_components(Unbalance::new(0.3, angle).components_g_mm());
            // A few roundings of an angle of up to 360.
            assert!((back.angle_deg - angle).abs() < 1e-12, "{angle}: {back:?}");
            assert!((back.mass_distance_g_mm - 0.3).abs() < 1e-15);
        }
    }

    #[test]
    fn law_a_negative_size_is_one_on_the_other_side() {
        let other = Unbalance::new(-2.0, 30.0);
        assert!((other.angle_deg - 210.0).abs() < 1e-12 && other.mass_distance_g_mm > 0.0);
    }
}
