//! What an unbalance does to a piece that turns freely on its string.

use std::f64::consts::PI;

use super::given::{Inertia, Rotor};
use super::rotor_body::FreeRotor;
use crate::part::Range;
use crate::part::mass_properties::Tensor;
use crate::shelf::balance_rules;

/// Radians per second in one rpm.
pub(super) const RAD_S_PER_RPM: f64 = PI / 30.0;

/// Permissible eccentricity in µm of a grade (mm/s) at a speed.
pub(super) fn eccentricity_um(grade_mm_per_s: f64, speed_rpm: f64) -> f64 {
    grade_mm_per_s / (speed_rpm * RAD_S_PER_RPM) * 1e3
}

/// Lean of the principal axis by a couple: half the angle whose tangent is `2C / (Ip − It)`.
pub(super) fn tilt_rad(couple_g_mm2: f64, inertia: Inertia) -> f64 {
    let difference = inertia.polar_g_mm2 - inertia.transverse_g_mm2;
    0.5 * (2.0 * couple_g_mm2).atan2(difference)
}

/// Lean of the principal axis nearest the axle, from the full tensor: where the two inertias across
/// differ, [`tilt_rad`] is not the whole of it.
///
/// The axle must be the axis of largest inertia: a piece that spins about any other tumbles.
pub(super) fn tilt_of_tensor_rad(t: &Tensor) -> f64 {
    let rows = [[t.xx, t.xy, t.xz], [t.xy, t.yy, t.yz], [t.xz, t.yz, t.zz]];
    let [(_, axis), ..] = whirlwright_kit::principal::axes(rows);
    axis[1].hypot(axis[2]).atan2(axis[0].abs())
}

/// What static unbalance and couple do at a speed.
///
/// - **Units:** g·mm, g·mm², rpm; µm, mm/s, mrad and mN come back.
/// - **What must hold:** the piece turns far above the resonance of its string (some 10 Hz at most).
pub(super) fn free_rotor(
    rotor: &Rotor,
    static_g_mm: f64,
    couple_g_mm2: Option<f64>,
    speed_rpm: f64,
    stretch_mm: Option<Range>,
) -> FreeRotor {
    let speed = speed_rpm * RAD_S_PER_RPM;
    let seat_mm = static_g_mm / rotor.mass_g;
    let tilt = couple_g_mm2
        .zip(rotor.inertia)
        .map(|(couple, inertia)| tilt_rad(couple, inertia));
    let stretch = stretch_mm.unwrap_or(balance_rules().string_stretch_mm);
    FreeRotor {
        speed_rpm,
        seat_um: seat_mm * 1e3,
        seat_mm_per_s: seat_mm * speed,
        tilt_mrad: tilt.map(|t| t * 1e3),
        wobble_um: tilt
            .zip(rotor.rim_radius_mm)
            .map(|(t, radius)| t * radius * 1e3),
        string_mn: Some(stretch.map(|s| string_force_mn(rotor.mass_g, static_g_mm, speed, s))),
        // g·mm/s² is µN.
        rigid_force_mn: static_g_mm * speed * speed * 1e-3,
    }
}

/// Once-per-turn pull on a string that is a spring, stretched by `stretch_mm` under the hanging piece:
/// its stiffness `m g / s` times the orbit of a mass on it above resonance.
fn string_force_mn(mass_g: f64, static_g_mm: f64, speed: f64, stretch_mm: f64) -> f64 {
    let stiffness = mass_g * balance_rules().free_fall_value / stretch_mm;
    let resonance_squared = stiffness / mass_g;
    let above = (speed * speed - resonance_squared).abs();
    // At resonance itself nothing but damping limits it: the ratio is held finite.
    let orbit_mm = static_g_mm / mass_g * speed * speed / above.max(1e-3 * speed * speed);
    stiffness * orbit_mm * 1e-3
}
