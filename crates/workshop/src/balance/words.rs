//! What the balance station says in sentences about the limit.

use super::given::LimitGiven;
use super::limit_body::{DesignCheck, LimitBody};
use crate::part::{Basis, Trust, Verdict};
use crate::shelf::balance_rules;

/// A lot of which this share is inside needs no balancing: the few that are out are found by it.
const NEARLY_ALL: f64 = 0.99;
/// A lot of which less than this is inside is no process.
const MOST: f64 = 0.9;

/// The verdict and what decided it.
pub(super) fn limit_verdict(body: &LimitBody) -> (Verdict, String) {
    let limit = body.limit_g_mm;
    let own = body.design.static_unbalance.mass_distance_g_mm;
    if own > limit {
        let says = format!(
            "the drawing alone is {own:.3} g·mm out, {limit:.3} g·mm is allowed: move a hole or a lump"
        );
        return (Verdict::Stop, says);
    }
    let Some(lot) = &body.lot else {
        return (
            Verdict::Good,
            format!("{limit:.3} g·mm is allowed; no errors of the drawing are said to spend it"),
        );
    };
    if body.worst_g_mm <= limit {
        let says = format!(
            "all errors at their worst and all one way come to {:.3} g·mm of {limit:.3} g·mm",
            body.worst_g_mm
        );
        return (Verdict::Good, says);
    }
    let says = format!(
        "{:.1} % of drawn pieces are inside {limit:.3} g·mm (95 % interval {:.1} to {:.1} %); all errors at their worst come to {:.3} g·mm",
        100.0 * lot.inside_share,
        100.0 * lot.inside_low_share,
        100.0 * lot.inside_high_share,
        body.worst_g_mm
    );
    let verdict = if lot.inside_low_share >= NEARLY_ALL {
        Verdict::Good
    } else if lot.inside_high_share >= MOST {
        Verdict::Look
    } else {
        Verdict::Stop
    };
    (verdict, says)
}

/// One sentence a maker would say.
pub(super) fn limit_headline(body: &LimitBody) -> String {
    format!(
        "{}: {:.3} g·mm is allowed (G {} at {:.0} rpm): {:.3} g at the rim, {:.1} µm at the seat",
        body.name,
        body.limit_g_mm,
        grade(body.grade_mm_per_s),
        body.speed_rpm,
        body.sizes.rim_mass_g,
        body.sizes.seat_um
    )
}

/// A grade as it is written: `6.3`, `16`, `2.5`; one that follows from a limit ends at a thousandth.
fn grade(mm_per_s: f64) -> String {
    let digits = format!("{mm_per_s:.3}");
    digits
        .trim_end_matches('0')
        .trim_end_matches('.')
        .to_owned()
}

/// How the design answers to a couple.
pub(super) fn design(check: &DesignCheck) -> String {
    let ratio = check.inertia_ratio;
    match check.couple_amplification {
        Some(times) => format!(
            "ratio {ratio:.3}: a couple tilts this piece {times:.1} times as far as a flat disc; unbalance shows once a turn, a free wobble {:.3} times",
            check.nutation_order
        ),
        None => format!(
            "ratio {ratio:.3}: across is no less than about the axle, so the piece has no axis of its own to keep and would rather tumble; widen it across before balancing it"
        ),
    }
}

/// How far the numbers are to be trusted.
pub(super) fn limit_trust(given: &LimitGiven) -> Vec<Trust> {
    let mut lines = vec![
        Trust {
            number: "limit_g_mm".to_owned(),
            basis: Basis::Computed,
            why: "grade times mass over angular speed; the grades, the shares of the planes and the rule for the measuring error (ISO 21940-11 and -14) are from memory".to_owned(),
        },
        Trust {
            number: "budget".to_owned(),
            basis: Basis::Computed,
            why: "first principles on the drawing; each error taken to act by itself".to_owned(),
        },
    ];
    if given.string_stretch_mm.is_none() {
        let stretch = balance_rules().string_stretch_mm;
        lines.push(Trust {
            number: "string_mn".to_owned(),
            basis: Basis::Assumed,
            why: format!(
                "a string that stretches {:.0} to {:.0} mm under the piece, from memory; state its own in [balance]",
                stretch.low, stretch.high
            ),
        });
    }
    lines.extend(given.trust.iter().cloned());
    lines
}

/// What can hurt.
pub(super) fn limit_cautions() -> Vec<String> {
    vec![
        "A loose rim, axle or correction mass flies at rim speed: guard shut, eye protection, nobody in the plane. The rig maker's instructions, local rules and licensed practice go before this page.".to_owned(),
        "This is guidance for a design, no statement that a piece meets a standard.".to_owned(),
    ]
}

/// What to do next.
pub(super) fn limit_next(body: &LimitBody) -> Vec<String> {
    let mut lines = Vec::new();
    let largest = body
        .budget
        .iter()
        .max_by(|a, b| a.static_g_mm.total_cmp(&b.static_g_mm));
    if let Some(line) = largest.filter(|l| l.static_g_mm > 0.0) {
        lines.push(format!(
            "{} ({}, {}) spends most: {:.3} g·mm, {:.0} % of the limit; tighten it first, or turn parts against each other",
            line.name,
            line.piece,
            line.side.word(),
            line.static_g_mm,
            100.0 * line.limit_share
        ));
    }
    let couple = body
        .budget
        .iter()
        .max_by(|a, b| a.couple_g_mm2.total_cmp(&b.couple_g_mm2));
    if let (Some(line), Some(_)) = (
        couple.filter(|l| l.couple_g_mm2 > 0.0),
        body.design.couple_amplification,
    ) {
        lines.push(format!(
            "{} ({}, {}) tilts most: {:.2} g·mm² of {:.2} g·mm²",
            line.name,
            line.piece,
            line.side.word(),
            line.couple_g_mm2,
            body.couple_limit_g_mm2
        ));
    }
    if body.budget.is_empty() {
        lines.push("state the errors of the drawing as [[balance.error]], and see how much of the limit they spend".to_owned());
    }
    lines.push(format!(
        "measure a piece in both planes and give the readings to `whirlwright balance correct`; up to {:.3} g·mm may be read",
        body.accepted_up_to_g_mm
    ));
    lines
}

#[cfg(test)]
mod tests {
    use super::grade;

    #[test]
    fn law_grades_print_as_they_are_written() {
        for said in ["0.4", "1", "2.5", "6.3", "16", "40", "100", "630", "4000"] {
            assert_eq!(grade(said.parse().unwrap()), said);
        }
        assert_eq!(grade(5.968_310), "5.968");
    }
}
