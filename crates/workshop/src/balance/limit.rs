//! How far out a piece may be, and how much of that the drawing already spends.

use super::allocate::{accepted_up_to, shares};
use super::free_rotor::{RAD_S_PER_RPM, eccentricity_um, free_rotor, tilt_of_tensor_rad, tilt_rad};
use super::given::{Asked, LimitGiven};
use super::limit_body::{BudgetLine, DesignCheck, DropSize, GradeLine, LimitBody, PlaneLimit};
use super::lot;
use super::tolerance::{self, Worst};
use super::words;
use crate::part::Answer;
use crate::part::answer::ANSWER_FORMAT;
use crate::shelf::grades;

/// The permissible residual unbalance, its shares, and the errors of the drawing against it.
///
/// - **What it finds:** `U = G m / ω` (or the limit as stated) shared between two planes by distance; the
///   same as sizes of the bench; every error of the drawing in g·mm; the share of drawn pieces inside.
/// - **Units:** mm, g, g·mm, rpm.
/// - **Promised:** the same seed draws the same pieces, on every machine.
#[must_use]
pub fn limit(given: &LimitGiven) -> Answer<LimitBody> {
    let mass_g = given.rotor.mass_g;
    let (limit_g_mm, grade_mm_per_s) = match given.asked {
        Asked::Grade { grade_mm_per_s } => (
            eccentricity_um(grade_mm_per_s, given.speed_rpm) * 1e-3 * mass_g,
            grade_mm_per_s,
        ),
        Asked::Unbalance { limit_g_mm } => (
            limit_g_mm,
            limit_g_mm / mass_g * given.speed_rpm * RAD_S_PER_RPM,
        ),
    };
    let error = given.measuring_error_g_mm.unwrap_or_default();
    let (accepted_up_to_g_mm, measuring_error_g_mm) = accepted_up_to(limit_g_mm, error);
    let planes = planes(given, limit_g_mm, accepted_up_to_g_mm);
    let couple_limit_g_mm2 = couple_limit(given, &planes);
    let (budget, worsts) = budget(given, limit_g_mm);
    let plane_limits = [planes[0].limit_g_mm, planes[1].limit_g_mm];
    let drawn_lot = (!worsts.is_empty()).then(|| lot::draw(given, &worsts, plane_limits));
    let grade_lines = grades().iter().map(|grade| {
        let permissible_um = eccentricity_um(grade.grade_mm_per_s, given.speed_rpm);
        let limit_g_mm = permissible_um * 1e-3 * mass_g;
        GradeLine {
            name: grade.name.clone(),
            grade_mm_per_s: grade.grade_mm_per_s,
            limit_g_mm,
            permissible_um,
            examples: grade.examples.clone(),
            tag: grade.tag.clone(),
            inside_share: drawn_lot.as_ref().map(|lot| lot.share_inside(limit_g_mm)),
        }
    });
    let sum = |of: &dyn Fn(&Worst) -> f64| worsts.iter().map(|w| of(w).abs()).sum::<f64>();
    let root =
        |of: &dyn Fn(&Worst) -> f64| worsts.iter().map(|w| of(w).powi(2)).sum::<f64>().sqrt();
    let (of_static, of_couple) = (|w: &Worst| w.static_g_mm, |w: &Worst| w.couple_g_mm2);
    let drawn = given.drawn;
    let body = LimitBody {
        name: given.rotor.name.clone(),
        mass_g,
        speed_rpm: given.speed_rpm,
        grade_mm_per_s,
        permissible_um: limit_g_mm / mass_g * 1e3,
        limit_g_mm,
        accepted_up_to_g_mm,
        measuring_error_g_mm,
        sizes: sizes(given, limit_g_mm, couple_limit_g_mm2),
        at_limit: free_rotor(
            &given.rotor,
            limit_g_mm,
            None,
            given.speed_rpm,
            given.string_stretch_mm,
        ),
        design: design(given),
        planes,
        couple_limit_g_mm2,
        worst_g_mm: drawn.0.mass_distance_g_mm + sum(&of_static),
        statistical_g_mm: drawn.0.mass_distance_g_mm + root(&of_static),
        worst_g_mm2: drawn.1.moment_g_mm2 + sum(&of_couple),
        statistical_g_mm2: drawn.1.moment_g_mm2 + root(&of_couple),
        lot: drawn_lot.as_ref().map(|lot| lot.against(given, limit_g_mm)),
        grades: grade_lines.collect(),
        budget,
    };
    let (verdict, decided_by) = words::limit_verdict(&body);
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "balance".to_owned(),
        verdict,
        headline: words::limit_headline(&body),
        decided_by,
        trust: words::limit_trust(given),
        cautions: words::limit_cautions(),
        next: words::limit_next(&body),
        body,
    }
}

fn planes(given: &LimitGiven, limit_g_mm: f64, accepted_g_mm: f64) -> Vec<PlaneLimit> {
    let centre = given.rotor.centre_mm;
    let [a, b] = [given.planes[0].1, given.planes[1].1];
    let line = |((name, x_mm), share): (&(String, f64), f64)| PlaneLimit {
        name: name.clone(),
        x_mm: *x_mm,
        distance_mm: (x_mm - centre).abs(),
        limit_g_mm: share * limit_g_mm,
        accepted_up_to_g_mm: share * accepted_g_mm,
        rim_mass_g: share * limit_g_mm / given.rim_radius_mm,
    };
    given
        .planes
        .iter()
        .zip(shares(a, b, centre))
        .map(line)
        .collect()
}

/// The couple of two plane limits that stand opposite: the smaller of the two times the distance is a pure
/// couple.
fn couple_limit(given: &LimitGiven, planes: &[PlaneLimit]) -> f64 {
    let least = planes
        .iter()
        .map(|p| p.limit_g_mm)
        .fold(f64::INFINITY, f64::min);
    least * (given.planes[1].1 - given.planes[0].1)
}

fn budget(given: &LimitGiven, limit_g_mm: f64) -> (Vec<BudgetLine>, Vec<Worst>) {
    let (mut lines, mut worsts) = (Vec::new(), Vec::new());
    for error in &given.errors {
        for body in &error.bodies {
            let worst = tolerance::worst(error.kind, body, given.rotor.centre_mm);
            lines.push(BudgetLine {
                name: error.name.clone(),
                piece: body.name.clone(),
                side: body.side,
                tolerance_said: tolerance::said(error.kind),
                static_g_mm: worst.static_g_mm,
                couple_g_mm2: worst.couple_g_mm2.abs(),
                limit_share: worst.static_g_mm / limit_g_mm,
                words: tolerance::words(error.kind, body),
            });
            worsts.push(worst);
        }
    }
    (lines, worsts)
}

fn keeps_axis(given: &LimitGiven) -> bool {
    given.inertia.polar_g_mm2 > given.inertia.transverse_g_mm2
}

fn sizes(given: &LimitGiven, limit_g_mm: f64, couple_limit_g_mm2: f64) -> DropSize {
    let rim_mass_g = limit_g_mm / given.rim_radius_mm;
    let tilt = tilt_rad(couple_limit_g_mm2, given.inertia);
    let cut_um = |g_per_mm: f64| rim_mass_g / g_per_mm * 1e3;
    DropSize {
        rim_mass_g,
        rim_radius_mm: given.rim_radius_mm,
        seat_um: limit_g_mm / given.rotor.mass_g * 1e3,
        wobble_um: keeps_axis(given).then_some(tilt * given.rim_radius_mm * 1e3),
        face_um: given.face_g_per_mm.map(cut_um),
        outside_um: given.outside_g_per_mm.map(cut_um),
    }
}

fn design(given: &LimitGiven) -> DesignCheck {
    let inertia = given.inertia;
    let inertia_ratio = inertia.transverse_g_mm2 / inertia.polar_g_mm2;
    // A drawing without a couple leans by rounding alone.
    let couple = given.drawn.1.moment_g_mm2;
    let tilt = match &given.tensor_g_mm2 {
        Some(tensor) if couple > 0.0 => tilt_of_tensor_rad(tensor),
        _ => tilt_rad(couple, inertia),
    };
    let keeps = keeps_axis(given);
    let check = DesignCheck {
        inertia_ratio,
        couple_amplification: Some(1.0 / (1.0 - inertia_ratio)).filter(|_| keeps),
        nutation_order: inertia.polar_g_mm2 / inertia.transverse_g_mm2,
        static_unbalance: given.drawn.0,
        couple: given.drawn.1,
        tilt_mrad: keeps.then_some(tilt * 1e3),
        wobble_um: keeps.then_some(tilt * given.rim_radius_mm * 1e3),
        words: String::new(),
    };
    DesignCheck {
        words: words::design(&check),
        ..check
    }
}
