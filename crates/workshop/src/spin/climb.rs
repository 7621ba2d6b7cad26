//! The return: what speed climbs the string, and what grip a bind has.

use super::unwind::gravity_m_per_s2;

/// The least speed in rad/s from which a piece climbs its string by itself, with no help of the hand:
/// `½ I ω² · I/(I + M r²) ≥ M g L`.
///
/// `grip_radius_mm` is the radius at which the string grips suddenly and takes its share; 0 for a grip
/// that takes nothing.
#[must_use]
pub fn climbs_rad_per_s(
    mass_kg: f64,
    inertia_kg_m2: f64,
    length_mm: f64,
    grip_radius_mm: f64,
) -> f64 {
    const MM: f64 = 1e-3;
    let lifted = mass_kg * gravity_m_per_s2() * length_mm * MM;
    (2.0 * lifted / inertia_kg_m2 / (1.0 - taken_share(mass_kg, inertia_kg_m2, grip_radius_mm)))
        .sqrt()
}

/// The share of the energy that a sudden grip at a radius takes: `M r²/(I + M r²)`.
#[must_use]
pub fn taken_share(mass_kg: f64, inertia_kg_m2: f64, grip_radius_mm: f64) -> f64 {
    const MM: f64 = 1e-3;
    let pull = mass_kg * (grip_radius_mm * MM).powi(2);
    pull / (inertia_kg_m2 + pull)
}

/// How many times a force a string holds when it lies round by so many turns (Euler, Eytelwein):
/// `e^(2π μ n)`.
#[must_use]
pub fn capstan_ratio(friction_coefficient: f64, turns: f64) -> f64 {
    (std::f64::consts::TAU * friction_coefficient * turns).exp()
}

/// Torque of a string gripped between two pads that press with a force each, `2 µ N r`.
#[must_use]
pub fn pads_n_m(friction_coefficient: f64, pad_force_n: f64, pad_radius_mm: f64) -> f64 {
    const MM: f64 = 1e-3;
    2.0 * friction_coefficient * pad_force_n * pad_radius_mm * MM
}

/// A fixed axle at the bottom of the string: the share of the speed along the string that comes back,
/// `1 − 2η` with `η = M r²/(I + M r²)` (Jin and Zacksenhouse, 2002).
#[must_use]
pub fn restitution_ratio(mass_kg: f64, inertia_kg_m2: f64, axle_radius_mm: f64) -> f64 {
    1.0 - 2.0 * taken_share(mass_kg, inertia_kg_m2, axle_radius_mm)
}
