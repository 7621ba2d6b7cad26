//! What a millimetre of a rim's face weighs.

/// Mass of one millimetre of a flat ring face, in g/mm.
///
/// A cut of the face takes off a flat ring: `π/4 · (outside² − inside²) · density`, exact for a
/// face square to the axle between two cylinders. Diameters in mm, density in g/cm³; none unless
/// the ring has a width and a weight.
#[must_use]
pub fn ring_face_gram_per_mm(outside_mm: f64, inside_mm: f64, density_g_cm3: f64) -> Option<f64> {
    /// g/cm³ in g/mm³.
    const PER_CUBIC_MM: f64 = 1e-3;
    let area_mm2 =
        std::f64::consts::FRAC_PI_4 * (outside_mm - inside_mm) * (outside_mm + inside_mm);
    let gram_per_mm = area_mm2 * density_g_cm3 * PER_CUBIC_MM;
    (inside_mm >= 0.0 && gram_per_mm.is_finite() && gram_per_mm > 0.0).then_some(gram_per_mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_a_ring_of_58_on_48_in_aluminium_is_832_square_millimetres() {
        // 265 π mm² times 2.70 mg/mm³, by hand; three roundings of a double.
        let by_hand = 265.0 * std::f64::consts::PI * 2.70e-3;
        let found = ring_face_gram_per_mm(58.0, 48.0, 2.70).unwrap();
        assert!(
            (found - by_hand).abs() <= 4.0 * f64::EPSILON * by_hand,
            "{found} for {by_hand}"
        );
    }

    #[test]
    fn law_a_ring_without_width_or_weight_has_no_face() {
        for (outside, inside, density) in [
            (48.0, 48.0, 2.7),
            (48.0, 58.0, 2.7),
            (58.0, -1.0, 2.7),
            (58.0, 48.0, 0.0),
            (f64::NAN, 48.0, 2.7),
        ] {
            assert_eq!(ring_face_gram_per_mm(outside, inside, density), None);
        }
    }
}
