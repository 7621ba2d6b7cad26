//! What the fitting station says in sentences.

use super::body::FitBody;
use super::conditions::safe_words;
use super::given::Given;
use crate::part::{Basis, Trust, Verdict};

/// A share of bad pairs above which a good verdict becomes a look: one in a hundred.
const MANY_BAD_SHARE: f64 = 0.01;

pub(super) fn verdict(body: &FitBody) -> Verdict {
    let missed = body.conditions.iter().any(|c| !c.kept);
    let bad = body
        .chance
        .loose_probability
        .max(body.chance.over_stressed_probability);
    match (missed, bad > MANY_BAD_SHARE) {
        (true, true) => Verdict::Stop,
        (true, false) | (false, true) => Verdict::Look,
        (false, false) => Verdict::Good,
    }
}

pub(super) fn headline(body: &FitBody, verdict: Verdict) -> String {
    let i = body.interference_um;
    let new = body.states.first();
    let pressure = new.map_or_else(String::new, |s| {
        format!(
            ", {:.2} to {:.2} MPa when new",
            s.pressure_mpa.low, s.pressure_mpa.high
        )
    });
    let told = match verdict {
        Verdict::Good => "holds and does not break",
        Verdict::Look => "is near a limit",
        Verdict::Stop => "is not to be made so",
    };
    format!(
        "{} on {}: {:.0} to {:.0} µm of interference{pressure}; it {told}",
        body.ring, body.body, i.low, i.high
    )
}

pub(super) fn decided_by(body: &FitBody) -> String {
    let first = body.conditions.first();
    first.map_or_else(|| "no condition was asked".to_owned(), |c| c.words.clone())
}

pub(super) fn trust(given: &Given) -> Vec<Trust> {
    let mut lines = vec![Trust {
        number: "pressure_mpa".to_owned(),
        basis: Basis::Computed,
        why: "closed form for two plain rings in plane stress; ranges run over the limits, the softest and the stiffest grade; flanges, steps and the ends of the seat are not in it".to_owned(),
    }];
    for member in [&given.ring, &given.body] {
        for why in &member.why {
            lines.push(Trust {
                number: "modulus_mpa".to_owned(),
                basis: Basis::Assumed,
                why: format!("{}: {why}; typical, test your own", member.name),
            });
        }
        lines.push(Trust {
            number: "at_most_um".to_owned(),
            basis: Basis::Assumed,
            why: format!("{}: {}", member.name, safe_words(member)),
        });
    }
    lines.extend(given.assumed.iter().map(|why| Trust {
        number: "conditions".to_owned(),
        basis: Basis::Assumed,
        why: why.clone(),
    }));
    lines.push(Trust {
        number: "chance".to_owned(),
        basis: Basis::Computed,
        why: format!(
            "bores and spigots taken for normal about the middle of their limits, standard deviations {:.1} and {:.1} µm; measure your own",
            given.hole_sd_um, given.shaft_sd_um
        ),
    });
    lines
}

pub(super) fn cautions(given: &Given, body: &FitBody) -> Vec<String> {
    let mut lines = vec![
        format!(
            "press behind a shield with its guard shut: plastic can burst; stop where the force passes {:.0} N, and follow the press's manual and local rules",
            body.push_on_n.high
        ),
        "wear eye protection; keep hands out of the press".to_owned(),
    ];
    if body.slip_on_warmer_k > 0.0 {
        let hot = given.measured_at_degc + body.slip_on_warmer_k;
        let most = given.body.temperature_degc.map(|(_, most)| most);
        let over = most.is_some_and(|most| hot > most);
        let more = if over {
            format!(
                ", and above what {} stands: press cold instead, or cool the body",
                body.body
            )
        } else {
            String::new()
        };
        lines.push(format!(
            "a ring heated to about {hot:.0} °C burns skin{more}; no hot air gun on the resin, and frozen parts burn too"
        ));
    }
    lines
}

pub(super) fn next(body: &FitBody) -> Vec<String> {
    let mut lines = vec![body.advice.words.clone()];
    for missed in body.conditions.iter().filter(|c| !c.kept).skip(1) {
        lines.push(missed.words.clone());
    }
    lines.push(
        "press five pairs of the largest interference and look at them after a week before you make the lot"
            .to_owned(),
    );
    lines
}
