//! What a study means, in a moulder's words.

use super::given::Given;
use super::study_body::{StudyBody, StudyKind};
use super::words::{HOT, taken_for_granted};
use crate::part::{Basis, Trust, Verdict};

pub(super) fn verdict(body: &StudyBody) -> Verdict {
    match &body.take {
        Some(run) if run.breaks.is_empty() && body.left_out_count == 0 => Verdict::Good,
        Some(_) => Verdict::Look,
        None => Verdict::Stop,
    }
}

pub(super) fn headline(body: &StudyBody) -> String {
    let what = match body.study {
        StudyKind::Hold => "hold time and hold pressure",
        StudyKind::Freeze => "freezing of the gate",
        StudyKind::Fill => "time of filling",
        StudyKind::Cooling => "cooling",
        StudyKind::Window => "window of melt and hold pressure",
    };
    let take = body.take.as_ref().map_or_else(
        || "nothing of it can be taken".to_owned(),
        |r| {
            format!(
                "take melt {:.0} °C, wall {:.0} °C, fill {:.2} s, hold {:.0} MPa for {:.1} s",
                r.melt_degc, r.wall_degc, r.fill_s, r.hold_mpa, r.hold_s
            )
        },
    );
    format!(
        "{} of {}, {what}: {} runs; {take}",
        body.piece,
        body.resin,
        body.runs.len()
    )
}

pub(super) fn trust(given: &Given) -> Vec<Trust> {
    let line = |number: &str, basis, why: String| Trust {
        number: number.to_owned(),
        basis,
        why,
    };
    let mut trust = vec![
        line(
            "mass_g",
            Basis::Computed,
            "differences between runs to about a tenth of themselves; the level itself only to 1 %".to_owned(),
        ),
        line(
            "toward_gate_g_mm",
            Basis::Computed,
            "sign and course are sure; the size to ± 10 % by the grid and more by the steel".to_owned(),
        ),
        line(
            "shot_sd_g",
            Basis::Computed,
            "slopes of the runs times the press's own scatter, its three parts taken as independent".to_owned(),
        ),
    ];
    trust.extend(taken_for_granted(given));
    trust
}

pub(super) fn cautions() -> Vec<String> {
    vec![
        HOT.to_owned(),
        "Change one setting at a time and stay inside what the press, the mould and the resin's sheet allow; watch for flash at the highest pressure.".to_owned(),
    ]
}

pub(super) fn next(body: &StudyBody) -> Vec<String> {
    let mut next = vec![
        "try the runs of the list at the press, in their order; weigh every cavity of three shots"
            .to_owned(),
    ];
    if matches!(body.study, StudyKind::Hold | StudyKind::Freeze) {
        next.push(
            "write the weights as cavity,hold_s,mass_g and bring them back with --weights"
                .to_owned(),
        );
    }
    if body.left_out_count > 0 {
        next.push("it was stopped: run it again for the rest".to_owned());
    }
    next
}
