//! What the balance station says in sentences about a correction.

use super::correct_body::{CorrectBody, Method};
use super::given::{CorrectGiven, Readings, Way};
use crate::part::{Basis, Trust, Verdict};

/// The verdict and what decided it.
pub(super) fn verdict(body: &CorrectBody, forbids: bool) -> (Verdict, String) {
    if forbids {
        let why = body.doubts.last().cloned().unwrap_or_default();
        return (Verdict::Stop, why);
    }
    if let Some(line) = body.acceptance.iter().find(|l| !l.measured_inside) {
        return (Verdict::Stop, line.words.clone());
    }
    if let Some(line) = body
        .acceptance
        .iter()
        .find(|l| l.guaranteed_inside != Some(true))
    {
        return (Verdict::Look, line.words.clone());
    }
    if let Some(doubt) = body.doubts.first() {
        return (Verdict::Look, doubt.clone());
    }
    match body.acceptance.first() {
        Some(line) => (Verdict::Good, line.words.clone()),
        None => (
            Verdict::Look,
            "no limit is said, so nothing tells whether this is enough".to_owned(),
        ),
    }
}

/// One sentence a maker would say.
pub(super) fn headline(body: &CorrectBody, forbids: bool) -> String {
    if forbids {
        return format!(
            "{}: these readings must not be corrected by; see what looks wrong",
            body.name
        );
    }
    let inside = !body.acceptance.is_empty()
        && body
            .acceptance
            .iter()
            .all(|l| l.guaranteed_inside == Some(true));
    if inside {
        return format!(
            "{}: inside its limits, nothing needs to come off",
            body.name
        );
    }
    if let Some(work) = body.work.as_ref().filter(|w| !w.holes.is_empty()) {
        let left = work.residual_static.mass_distance_g_mm;
        return format!(
            "{}: {} leave {left:.3} g·mm of {:.3} g·mm",
            body.name,
            plural(work.holes.len(), "correction"),
            body.resultant.mass_distance_g_mm
        );
    }
    let each: Vec<String> = body
        .planes
        .iter()
        .map(|p| {
            format!(
                "take {:.4} g off `{}` at radius {:.1} mm, {:.1} deg from its mark",
                p.correction_mass_g, p.name, p.radius_mm, p.take_off_at_deg
            )
        })
        .collect();
    format!("{}: {}", body.name, each.join("; "))
}

fn plural(count: usize, one: &str) -> String {
    if count == 1 {
        format!("{count} {one}")
    } else {
        format!("{count} {one}s")
    }
}

/// How far the numbers are to be trusted.
pub(super) fn trust(given: &CorrectGiven, body: &CorrectBody) -> Vec<Trust> {
    let why = match &body.uncertainty {
        Some(u) => u.words.clone(),
        None => "no repeats and no stated scatter: how far off it may be is not known; measure every run three times".to_owned(),
    };
    let line = |number: &str, basis: Basis, why: String| Trust {
        number: number.to_owned(),
        basis,
        why,
    };
    let mut lines = vec![line("unbalance", Basis::Measured, why)];
    if let Readings::Rods(rods) = &given.readings {
        let arm = if rods.rolling_arm_um.is_none() {
            "lever arm of rolling friction from memory"
        } else {
            "lever arm of rolling friction as stated"
        };
        let inertia = if given.rotor.inertia.is_some() {
            "inertia from the drawing"
        } else {
            "inertia found with the unbalance"
        };
        lines.push(line(
            "threshold_g_mm",
            Basis::Assumed,
            format!("{arm}; {inertia}"),
        ));
    }
    if !body.acceptance.is_empty() {
        lines.push(line(
            "limit_g_mm",
            Basis::Computed,
            "shares of the planes and the rule for the measuring error (ISO 21940-11 and -14) are from memory".to_owned(),
        ));
    }
    if body.as_it_came.is_some() {
        lines.push(line(
            "string_mn",
            Basis::Assumed,
            "stretch of the string under the piece from memory".to_owned(),
        ));
    }
    if !body.trials.is_empty() {
        lines.push(line(
            "trials",
            Basis::Assumed,
            "what a trial must change is common practice, no source".to_owned(),
        ));
    }
    if let Some(work) = &given.work {
        for plane in &work.planes {
            let Some(section) = &plane.section else {
                continue;
            };
            lines.push(line(
                "mass_g",
                Basis::Computed,
                format!(
                    "true volume of each hole in the section of {}, its point counted; density {}",
                    section.piece, section.why
                ),
            ));
        }
        if work
            .planes
            .iter()
            .any(|p| matches!(p.way, Way::Pocket { .. }))
        {
            lines.push(line(
                "mass_g",
                Basis::Computed,
                "the cutter's rounding at both ends of a pocket is not counted".to_owned(),
            ));
        }
    }
    lines
}

/// What can hurt.
pub(super) fn cautions(body: &CorrectBody) -> Vec<String> {
    let mut lines = Vec::new();
    if body.method != Method::AtRest {
        lines.push("Trial masses fly: secure each one, guard shut, eye protection, nobody in the plane; first run slow, and stop on rising vibration.".to_owned());
    }
    if body.work.is_some() {
        lines.push("Drill only where the drawing allows, with the part clamped and the spindle guarded; take every chip and burr off before it turns again. Clay is for finding, not for shipping.".to_owned());
    }
    lines.push(
        "The rig maker's instructions, local rules and licensed practice go before this page."
            .to_owned(),
    );
    lines
}

/// What to do next, the first thing first.
pub(super) fn next(body: &CorrectBody, forbids: bool) -> Vec<String> {
    let mut lines = body.doubts.clone();
    if let Some(clocking) = &body.clocking {
        for turn in &clocking.turns {
            let mark = turn
                .mark_number
                .map(|n| format!(", mark {n}"))
                .unwrap_or_default();
            lines.push(format!(
                "turn {} on {} to {:.1} deg{mark}: it costs nothing and comes before any cut",
                turn.part, turn.on, turn.turn_deg
            ));
        }
    }
    if forbids {
        lines.push(
            "clear what looks wrong and measure again; nothing is to be cut on these readings"
                .to_owned(),
        );
        return lines;
    }
    let inside = !body.acceptance.is_empty()
        && body
            .acceptance
            .iter()
            .all(|l| l.guaranteed_inside == Some(true));
    if inside {
        lines.push("write the residual down with its uncertainty, speed and method".to_owned());
        return lines;
    }
    match &body.work {
        Some(work) if !work.holes.is_empty() => {
            lines.extend(work.holes.iter().map(|h| h.words.clone()));
        }
        _ => lines.extend(body.planes.iter().map(|p| {
            format!(
                "plane `{}`: put {:.4} g on at {:.1} deg, or take as much off at {:.1} deg, radius {:.2} mm",
                p.name, p.correction_mass_g, p.add_at_deg, p.take_off_at_deg, p.radius_mm
            )
        })),
    }
    if body.uncertainty.is_none() {
        lines.push("repeat every reading three times, so that the uncertainty is known".to_owned());
    }
    lines.push("measure again after the correction: the new reading, not this page, says whether it is inside".to_owned());
    lines
}
