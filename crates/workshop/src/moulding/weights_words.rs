//! What a comparison with weighed halves means, in a moulder's words.

use super::weights_body::{CavityCause, WeightsBody};
use crate::part::answer::ANSWER_FORMAT;
use crate::part::figures::signed;
use crate::part::{Answer, Basis, Trust, Verdict};

pub(super) fn answer(body: WeightsBody) -> Answer<WeightsBody> {
    let uneven = body
        .cavities
        .iter()
        .filter(|c| c.cause != CavityCause::Even)
        .count();
    let verdict = if uneven == 0 {
        Verdict::Good
    } else {
        Verdict::Look
    };
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "moulding".to_owned(),
        verdict,
        headline: headline(&body, uneven),
        decided_by: decided_by(&body, uneven),
        trust: trust(&body),
        cautions: vec![super::words::HOT.to_owned()],
        next: next(&body),
        body,
    }
}

fn headline(body: &WeightsBody, uneven: usize) -> String {
    let cavities = match uneven {
        0 => "no cavity stands out".to_owned(),
        1 => "one cavity stands out".to_owned(),
        n => format!("{n} cavities stand out"),
    };
    format!(
        "{} weighings of {} fitted to {:.4} g; {cavities}",
        body.weighings_count, body.piece, body.left_over_sd_g
    )
}

fn decided_by(body: &WeightsBody, uneven: usize) -> String {
    let most = body
        .cavities
        .iter()
        .max_by(|a, b| a.settled_percent.abs().total_cmp(&b.settled_percent.abs()));
    match most {
        Some(c) if uneven > 0 => c.words.clone(),
        Some(c) => format!(
            "cavity {} is farthest from the middle with the gate frozen: {} ± {:.2} %",
            c.name,
            signed(c.settled_percent, 2),
            c.settled_sd_percent
        ),
        None => String::new(),
    }
}

fn trust(body: &WeightsBody) -> Vec<Trust> {
    let line = |number: &str, basis, why: String| Trust {
        number: number.to_owned(),
        basis,
        why,
    };
    vec![
        line("read_g", Basis::Measured, "as weighed; the scale's own error is not in it".to_owned()),
        line(
            "foretold_mass_g",
            Basis::Computed,
            format!(
                "± {:.4} g (sd) by the scatter of the fit; the shape of the curve rests on the resin's card (constructed, from memory)",
                body.foretold_sd_g
            ),
        ),
        line(
            "found_ratio",
            Basis::Computed,
            "the ratios carry whatever else the reckoning has wrong: take them for corrections of this mould with this resin, not for properties".to_owned(),
        ),
    ]
}

fn next(body: &WeightsBody) -> Vec<String> {
    let mut next: Vec<String> = body
        .cavities
        .iter()
        .filter(|c| c.cause != CavityCause::Even)
        .map(|c| c.words.clone())
        .collect();
    if let Some(freeze) = body.gate_freeze_s {
        next.push(format!("hold until {freeze:.1} s after the start of filling, and half a second to two seconds longer"));
    }
    next.push(format!(
        "1 MPa more hold makes a half {:.4} g heavier: change the hold by that, not by habit",
        body.mass_per_mpa_g
    ));
    next
}
