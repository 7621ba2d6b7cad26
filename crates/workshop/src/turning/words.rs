//! What the turning station says in sentences.

use super::body::{RecutBody, RimBody, TrayBody};
use super::given::Given;
use crate::part::answer::ANSWER_FORMAT;
use crate::part::figures::signed;
use crate::part::{Answer, Basis, Trust, Verdict};

const STATION: &str = "turning";

pub(super) fn rim(given: &Given, body: RimBody) -> Answer<RimBody> {
    let over = body.sum.held_g > body.mass_within_g;
    let off_g = (body.mass_g - body.wanted_g).abs();
    let verdict = if over {
        Verdict::Stop
    } else if off_g > body.mass_within_g {
        Verdict::Look
    } else {
        Verdict::Good
    };
    let decided_by = if over {
        format!(
            "limits that stand already bring {:.3} g, and ± {} g is all there is",
            body.sum.held_g, body.mass_within_g
        )
    } else if off_g > body.mass_within_g {
        format!(
            "the drawing weighs {:.3} g, and {:.3} ± {} g is wanted: change the drawing first",
            body.mass_g, body.wanted_g, body.mass_within_g
        )
    } else {
        format!(
            "with the grades below the mass holds to ± {:.3} g at the worst, ± {:.3} g by the root of the sum of squares; ± {} g is wanted",
            body.sum.worst_g, body.sum.statistical_g, body.mass_within_g
        )
    };
    let hold = body.hold.as_ref();
    let mut next: Vec<String> = hold
        .map(|name| format!("hold {name}: it brings most of the mass at a common grade"))
        .into_iter()
        .collect();
    if !body.let_go.is_empty() {
        next.push(format!(
            "{} may be let go: even the coarsest grade brings little",
            body.let_go.join(", ")
        ));
    }
    if over {
        next.push("narrow a limit that stands, or allow more mass".to_owned());
    }
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: STATION.to_owned(),
        verdict,
        headline: format!(
            "{}: {:.3} g as drawn, {} dimensions",
            body.piece,
            body.mass_g,
            body.dimensions.len()
        ),
        decided_by,
        trust: trust(
            given,
            "mass_g_per_mm",
            "exact derivatives of the drawing; broken edges go with their faces",
        ),
        cautions: cautions(),
        next,
        body,
    }
}

pub(super) fn recut(given: &Given, body: RecutBody) -> Answer<RecutBody> {
    let inside = body.over_g.abs() <= body.mass_within_g + 1e-9;
    let possible = body.cuts.first().is_some_and(|c| c.allowed);
    let verdict = match (inside, possible) {
        (true, _) => Verdict::Good,
        (false, true) => Verdict::Look,
        (false, false) => Verdict::Stop,
    };
    let ways: Vec<&str> = body
        .cuts
        .iter()
        .filter(|c| c.allowed)
        .map(|c| c.words.as_str())
        .collect();
    let headline = match (inside, body.over_g > 0.0, ways.is_empty()) {
        (true, _, _) => format!(
            "{} is {} g off {:.3} g: inside, leave it",
            body.piece,
            signed(body.over_g, 3),
            body.wanted_g
        ),
        (false, true, false) => format!(
            "{} is {:+.3} g over: {}; the bore stays",
            body.piece,
            body.over_g,
            ways.join(", or ")
        ),
        (false, true, true) => format!(
            "{} is {:+.3} g over, and no allowed cut takes that much",
            body.piece, body.over_g
        ),
        (false, false, _) => format!(
            "{} is {:.3} g too light: nothing can be put on",
            body.piece, -body.over_g
        ),
    };
    let decided_by = match body.cuts.first().filter(|_| !inside) {
        Some(first) if first.allowed => format!(
            "after {} it weighs {:.3} g (standard deviation {:.3} g), and {:.1} % of such cuts land within ± {} g",
            first.words,
            first.mass_after_g,
            first.mass_after_sd_g,
            100.0 * first.within_probability,
            body.mass_within_g
        ),
        Some(first) => first.words.clone(),
        None => format!(
            "{:.3} g read, {:.3} ± {} g wanted",
            body.mass_g, body.wanted_g, body.mass_within_g
        ),
    };
    let mut next: Vec<String> = body.two_steps.iter().map(|t| t.words.clone()).collect();
    match verdict {
        Verdict::Good => next.push(
            "leave it; offset the lathe for the next ones only if many lie to one side".to_owned(),
        ),
        Verdict::Look => next.push("cut, deburr, weigh again, and pair by the new mass".to_owned()),
        Verdict::Stop => {
            next.push("lay it aside for a half of the other kind of error, or scrap it".to_owned())
        }
    }
    let mut cautions = cautions();
    cautions.push("a thin ring goes oval in the chuck: soft jaws, light clamping, and the bore measured again after it".to_owned());
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: STATION.to_owned(),
        verdict,
        headline,
        decided_by,
        trust: trust(
            given,
            "mass_after_g",
            &format!(
                "exact for the drawing; the piece at hand differs, so {:.0} % of the cut's mass is left open, beside the scale's {} g and the lathe's {} mm",
                100.0 * given.mass_of_cut_share,
                given.scale_sd_g,
                given.cut_sd_mm
            ),
        ),
        cautions,
        next,
        body,
    }
}

pub(super) fn tray(given: &Given, body: TrayBody, pieces: usize) -> Answer<TrayBody> {
    let lost = body.too_light.len() + body.too_heavy.len();
    let verdict = match (body.cuts.len(), lost) {
        (0, 0) => Verdict::Good,
        (_, lost) if lost == pieces => Verdict::Stop,
        _ => Verdict::Look,
    };
    let decided_by = format!(
        "{} of {pieces} are within {:.3} ± {} g; {} can be cut to it, {} are too light, {} too heavy for any allowed cut",
        body.within_count,
        body.wanted_g,
        body.mass_within_g,
        body.cuts.len(),
        body.too_light.len(),
        body.too_heavy.len()
    );
    let mut next: Vec<String> = body.offset.iter().map(|o| o.words.clone()).collect();
    if !body.cuts.is_empty() {
        next.push(format!(
            "cut in the order of the list: the setting goes {:.2} mm in all, {:.2} mm in the order of the tray",
            body.tool_way_mm, body.tray_way_mm
        ));
    }
    if lost > 0 {
        next.push("pair the ones that cannot be cut with halves of the opposite error before you scrap them".to_owned());
    }
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: STATION.to_owned(),
        verdict,
        headline: format!(
            "{} of {pieces} to be cut, {:.2} g in all",
            body.cuts.len(),
            body.taken_g
        ),
        decided_by,
        trust: trust(
            given,
            "mass_after_g",
            "exact for the drawing; the offset rests on a straight line through the order of the tray",
        ),
        cautions: cautions(),
        next,
        body,
    }
}

fn trust(given: &Given, number: &str, why: &str) -> Vec<Trust> {
    let mut lines = vec![
        Trust {
            number: number.to_owned(),
            basis: Basis::Computed,
            why: why.to_owned(),
        },
        Trust {
            number: "density_g_cm3".to_owned(),
            basis: Basis::Assumed,
            why: format!("{}: {}", given.piece, given.why),
        },
    ];
    lines.extend(given.assumed.iter().map(|why| Trust {
        number: "limits".to_owned(),
        basis: Basis::Assumed,
        why: why.clone(),
    }));
    lines
}

fn cautions() -> Vec<String> {
    vec![
        "guard shut, eye protection, chuck key out, no gloves or loose sleeves near the spindle; chips with a hook".to_owned(),
        "mind the speed limit of the jaws for a thin ring; the machine's manual and local rules win over this page".to_owned(),
    ]
}
