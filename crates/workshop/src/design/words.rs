//! What the design station says in sentences.

use super::body::SectionBody;
use crate::part::job::Job;
use crate::part::{Basis, Trust, Verdict};

/// The verdict and what decided it: the first limit that is missed, or the tightest that is kept.
pub(super) fn verdict(body: &SectionBody, astray: &[String]) -> (Verdict, String) {
    if let Some(missed) = body.limits.iter().find(|l| !l.inside) {
        return (Verdict::Stop, missed.words.clone());
    }
    if let Some(first) = astray.first() {
        return (Verdict::Look, first.clone());
    }
    match body.limits.first() {
        Some(first) => (Verdict::Good, first.words.clone()),
        None => (
            Verdict::Good,
            "no limits are set, so nothing could be missed".to_owned(),
        ),
    }
}

/// One sentence a maker would say.
pub(super) fn headline(body: &SectionBody) -> String {
    format!(
        "{}: {:.2} g, {:.2} mm across, {:.2} mm wide; inertia {:.0} g·mm² about the axle, {:.0} g·mm² across (ratio {:.3})",
        body.name,
        body.mass_g,
        body.diameter_mm,
        body.width_mm,
        body.polar_inertia_g_mm2,
        body.transverse_inertia_g_mm2,
        body.inertia_ratio
    )
}

/// How far the numbers are to be trusted: the densities decide.
pub(super) fn trust(job: &Job) -> Vec<Trust> {
    let mut lines = vec![Trust {
        number: "volume_mm3".to_owned(),
        basis: Basis::Computed,
        why: "closed form: exact for the drawing; parts differ from it by their tolerances"
            .to_owned(),
    }];
    let mut said: Vec<&str> = Vec::new();
    for piece in &job.pieces {
        let why = piece.material.why.as_str();
        if !said.contains(&why) {
            said.push(why);
            lines.push(Trust {
                number: "density_g_cm3".to_owned(),
                basis: Basis::Assumed,
                why: format!("{}: {why}", piece.name),
            });
        }
    }
    lines
}

/// What to do next, and what the ratio of the inertias does.
pub(super) fn next(body: &SectionBody, astray: &[String]) -> Vec<String> {
    let missed = body
        .limits
        .iter()
        .filter(|l| !l.inside)
        .map(|l| l.words.clone());
    let mut lines: Vec<String> = missed.chain(astray.iter().cloned()).collect();
    lines.push(ratio(body));
    if let Some(gram_per_mm) = body.recut_gram_per_mm {
        lines.push(format!(
            "0.01 mm off the face that is recut takes {:.3} g; weigh first pieces against the masses above",
            gram_per_mm * 0.01
        ));
    }
    lines
}

/// Why the ratio matters: how much a couple tilts, and how fast a bad throw wobbles.
fn ratio(body: &SectionBody) -> String {
    let (ratio, order) = (body.inertia_ratio, body.nutation_order);
    match body.couple_amplification {
        Some(times) if times > 0.0 => format!(
            "ratio {ratio:.3}: a couple tilts this piece {times:.1} times as far as a flat disc, and a bad throw wobbles at {order:.3} times its speed; mass moved outward or toward the gap lowers both"
        ),
        _ => format!(
            "ratio {ratio:.3}: this piece is longer than it is round, so it would rather tumble than spin; widen it across or bring mass toward the gap"
        ),
    }
}
