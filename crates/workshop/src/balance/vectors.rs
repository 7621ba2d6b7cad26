//! Unbalance vectors as complex numbers, and two planes against static and couple.

use whirlwright_kit::complex_fit::Complex;

use crate::part::{Couple, Unbalance};

/// A vector in g·mm or g·mm²; the real part points toward the mark.
pub(super) type Vector = Complex<f64>;

/// A vector of a size at an angle in degrees.
pub(super) fn at_deg(size: f64, angle_deg: f64) -> Vector {
    Vector::from_polar(size, angle_deg.to_radians())
}

/// An unbalance as a vector.
pub(super) fn vector(unbalance: Unbalance) -> Vector {
    let (re, im) = unbalance.components_g_mm();
    Vector::new(re, im)
}

/// A vector as an unbalance.
pub(super) fn unbalance(v: Vector) -> Unbalance {
    Unbalance::from_components((v.re, v.im))
}

/// A vector as a couple.
pub(super) fn couple(v: Vector) -> Couple {
    Couple::from_components((v.re, v.im))
}

/// A couple as a vector.
pub(super) fn couple_vector(couple: Couple) -> Vector {
    let (re, im) = couple.components_g_mm2();
    Vector::new(re, im)
}

/// Angle of a vector, 0 to 360.
pub(super) fn angle_deg(v: Vector) -> f64 {
    unbalance(v).angle_deg
}

/// What stands in two planes, at distances `a` and `b` from the centre of mass, for a static unbalance
/// and a couple about the centre.
pub(super) fn in_planes(resultant: Vector, moment: Vector, a_mm: f64, b_mm: f64) -> [Vector; 2] {
    let apart = b_mm - a_mm;
    [
        (resultant * b_mm - moment) / apart,
        (moment - resultant * a_mm) / apart,
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_planes_bring_back_static_and_couple() {
        let (s, c) = (at_deg(0.7, 20.0), at_deg(9.0, 250.0));
        let [a, b] = in_planes(s, c, -13.0, 18.0);
        // Roundings of numbers of size 20.
        assert!((a + b - s).norm() < 1e-14 && (a * -13.0 + b * 18.0 - c).norm() < 1e-13);
    }
}
