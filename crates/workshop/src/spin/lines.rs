//! The lines of the answer beside the sleep: throw, string, air, turn, wobble, return.

use whirlwright_kit::ode::NotArrived;

use super::body::{AirLine, ClimbLine, StringLine, ThrowLine, TurnLine, WobbleLine};
use super::case::Case;
use super::climb::{capstan_ratio, climbs_rad_per_s};
use super::given::Given;
use super::profile::Surfaces;
use super::speed::in_rpm;
use super::turn::{Hanging, beside_mm, leans_deg_per_s};
use super::unwind::Unwinding;
use super::wobble::{eccentricity_um, stiff_force_mn, tilt_mrad};
use crate::part::Range;
use crate::part::spin_factor::Factor;
use crate::shelf::known;

const MICRO: f64 = 1e-6;

/// The hand that a speed after the throw needs: one that stops at once, and one that loses nothing.
pub(super) fn needed_hands_m_per_s(unwinding: &Unwinding, rad_per_s: f64) -> (f64, f64) {
    let whole = unwinding.inertia_kg_m2
        + unwinding.mass_kg * (unwinding.layers.bearing_radius_mm * 1e-3).powi(2);
    let from_hand = (0.5 * whole * rad_per_s * rad_per_s - unwinding.fall_j()).max(0.0);
    let hand = |energy: f64| (2.0 * energy / unwinding.mass_kg).sqrt();
    (hand(from_hand / unwinding.kept_share()), hand(from_hand))
}

pub(super) fn throw(given: &Given, likely: &Case<'_>) -> Result<ThrowLine, NotArrived> {
    let unwinding = likely.unwinding();
    let start = likely.start_rad_per_s()?;
    let (needs, least) = needed_hands_m_per_s(&unwinding, start);
    let unwound = likely.thrown()?;
    let hand = given.range(Factor::HandSpeed);
    Ok(ThrowLine {
        hand_speed_m_per_s: unwound.map(|_| hand),
        needs_hand_m_per_s: needs,
        needs_at_least_m_per_s: least,
        unwinds_in_s: unwound.map(|u| u.time_s),
        turning_j: 0.5 * likely.inertia_kg_m2() * start * start,
        thrown_j: unwound.map(|u| u.thrown_j),
        gravity_j: unwound.map(|u| u.gravity_j),
        hand_took_j: unwound.map(|u| u.hand_took_j),
        jerk_j: unwound.map(|u| u.jerk_j),
        kept_share: unwinding.kept_share(),
    })
}

pub(super) fn string(likely: &Case<'_>) -> StringLine {
    let layers = likely.unwinding().layers;
    StringLine {
        length_mm: layers.length_mm,
        inner_radius_mm: layers.bearing_radius_mm,
        full_radius_mm: layers.full_radius_mm(),
        turns_count: layers.turns_count(),
    }
}

pub(super) fn air(likely: &Case<'_>, surfaces: &Surfaces, start_rad_per_s: f64) -> AirLine {
    let air = likely.air();
    let local = |strip: &super::faces::FaceStrip| {
        (strip.outer_mm * 1e-3).powi(2) * start_rad_per_s
            / (air.kinematic_m2_per_s() * strip.sine_ratio)
    };
    AirLine {
        density_kg_m3: air.density_kg_m3,
        viscosity_pa_s: air.viscosity_pa_s,
        reynolds_number: surfaces.faces.iter().map(local).fold(0.0, f64::max),
        transition_number: known("drag.disc.transition").value,
    }
}

/// The sum of two ranges that may come together.
fn together(a: Range, b: Range) -> Range {
    Range {
        low: a.low + b.low,
        likely: a.likely + b.likely,
        high: a.high + b.high,
    }
}

pub(super) fn turn(given: &Given, likely: &Case<'_>, start: f64, distance: f64) -> TurnLine {
    let faults = &given.faults;
    let mass_g = given.section.mass_g;
    let centre = given.side_centre_mm;
    let by_mass = faults
        .mass_difference_g
        .map(|dm| beside_mm(dm, mass_g, centre));
    let by_string = faults.off_centre_mm;
    let both = together(by_mass, by_string);
    let hanging = |beside: f64, torsion: f64| Hanging {
        mass_kg: likely.mass_kg(),
        beside_mm: beside,
        bearing_radius_mm: 0.5 * given.bearing.outside_mm,
        torsion_n_m_per_rad: torsion,
    };
    let free = |beside: Range| beside.map(|b| hanging(b, 0.0).pose(distance).turn_deg);
    let torsion = faults.torsion_un_m_per_rad.map(|k| k * MICRO);
    let held = |beside: f64, stiff: f64| hanging(beside, stiff).largest(distance);
    // A stiff string turns it less, and leans it more.
    let held_turn_deg = Range {
        low: held(both.low, torsion.high).turn_deg,
        likely: held(both.likely, torsion.likely).turn_deg,
        high: held(both.high, torsion.low).turn_deg,
    };
    let lean_deg = Range {
        low: held(both.low, torsion.low).lean_deg,
        likely: held(both.likely, torsion.likely).lean_deg,
        high: held(both.high, torsion.high).lean_deg,
    };
    let momentum = likely.inertia_kg_m2() * start;
    TurnLine {
        mass_difference_g: faults.mass_difference_g,
        off_centre_mm: by_string,
        by_mass_deg: free(by_mass),
        by_string_deg: free(by_string),
        free_turn_deg: free(both),
        held_turn_deg,
        lean_deg,
        plumb_lean_deg: both.map(|b| hanging(b, 0.0).plumb_lean_deg()),
        rate_at_start_deg_per_s: hanging(both.likely, 0.0).rate_deg_per_s(momentum),
        string_as_mass_g: by_string.map(|b| b * mass_g / centre),
        twist_leans_deg_per_s: faults
            .twist_torque_un_m
            .map(|torque| leans_deg_per_s(torque * MICRO, momentum)),
        // kg·m²/s to g·m²/s.
        momentum_g_m2_per_s: momentum * 1e3,
    }
}

pub(super) fn wobble(given: &Given, start: f64) -> WobbleLine {
    let section = &given.section;
    let (polar, transverse) = (
        section.polar_inertia_g_mm2,
        section.transverse_inertia_g_mm2,
    );
    let faults = &given.faults;
    let eccentricity = faults
        .static_unbalance_g_mm
        .map(|u| eccentricity_um(u, section.mass_g));
    let tilt = faults
        .couple_unbalance_g_mm2
        .map(|c| tilt_mrad(c, polar, transverse));
    WobbleLine {
        static_unbalance_g_mm: faults.static_unbalance_g_mm,
        couple_unbalance_g_mm2: faults.couple_unbalance_g_mm2,
        eccentricity_um: eccentricity,
        // µm/s to mm/s.
        orbit_speed_mm_per_s: eccentricity.map(|e| e * start * 1e-3),
        tilt_mrad: tilt,
        // mrad times mm is µm.
        rim_wobble_um: tilt.map(|t| t * 0.5 * section.diameter_mm),
        couple_amplification: section.couple_amplification,
        nutation_order: section.nutation_order,
        stiff_force_mn: faults
            .static_unbalance_g_mm
            .map(|u| stiff_force_mn(u, start)),
    }
}

pub(super) fn climb(likely: &Case<'_>) -> ClimbLine {
    let layers = likely.unwinding().layers;
    let alone = |grip: f64| {
        let (mass, inertia) = (likely.mass_kg(), likely.inertia_kg_m2());
        in_rpm(climbs_rad_per_s(mass, inertia, layers.length_mm, grip))
    };
    let friction = likely.value(Factor::Friction);
    ClimbLine {
        alone_rpm: alone(0.0),
        gripped_rpm: alone(layers.full_radius_mm()),
        capstan_ratio: [0.5, 1.0, 1.5].map(|turns| capstan_ratio(friction, turns)),
    }
}
