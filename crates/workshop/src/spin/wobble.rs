//! Wobble of a nearly free piece: what static and couple unbalance do at the bearing and at the rim.

/// How far off its axle the centre of mass runs, in µm: `U/M`.
#[must_use]
pub fn eccentricity_um(static_g_mm: f64, mass_g: f64) -> f64 {
    const MICRO_PER_MILLI: f64 = 1e3;
    static_g_mm / mass_g * MICRO_PER_MILLI
}

/// The tilt of the free axis against the axle by a couple unbalance, in mrad: `½ atan2(2C, Ip − It)`.
///
/// The piece hangs so softly that it turns about its own principal axis, and the axle cones round it.
#[must_use]
pub fn tilt_mrad(couple_g_mm2: f64, polar_g_mm2: f64, transverse_g_mm2: f64) -> f64 {
    const MILLI_PER_ONE: f64 = 1e3;
    0.5 * (2.0 * couple_g_mm2).atan2(polar_g_mm2 - transverse_g_mm2) * MILLI_PER_ONE
}

/// How many times more a couple tilts the piece than a flat disc of the same polar inertia:
/// `1/(1 − It/Ip)`.
#[must_use]
pub fn couple_amplification(polar_g_mm2: f64, transverse_g_mm2: f64) -> f64 {
    1.0 / (1.0 - transverse_g_mm2 / polar_g_mm2)
}

/// The force in mN with which the same unbalance would shake a stiff mount: `U ω²`.
#[must_use]
pub fn stiff_force_mn(static_g_mm: f64, rad_per_s: f64) -> f64 {
    // g·mm is 1e-6 kg·m, and 1 N is 1000 mN.
    static_g_mm * rad_per_s * rad_per_s * 1e-3
}
