//! What the fitting station says in sentences.

use super::body::FitBody;
use super::conditions::safe_words;
use super::given::Given;
use super::section_body::SectionFitBody;
use crate::part::figures::fixed;
use crate::part::{Basis, Trust, Verdict};

/// Where the sections as drawn press harder or softer than plain rings by more than this share, it must be said.
const MUCH_SHARE: f64 = 0.25;
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
    let drawn = body.section.as_ref();
    let drawn = drawn.map(|s| (s.mean_pressure_mpa, " as drawn"));
    let plain = body.states.first().map(|s| (s.pressure_mpa, ""));
    let pressure = drawn.or(plain).map_or_else(String::new, |(p, how)| {
        format!(", {:.2} to {:.2} MPa when new{how}", p.low, p.high)
    });
    let told = match verdict {
        Verdict::Good => "holds and does not break",
        Verdict::Look => "is near a limit",
        Verdict::Stop => "is not to be made so",
    };
    format!(
        "{} on {}: {} to {} µm of interference{pressure}; it {told}",
        body.ring,
        body.body,
        fixed(i.low, 0),
        fixed(i.high, 0)
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
        why: "closed form for two plain rings in plane stress; ranges run over the limits, the softest and the stiffest grade; flanges, steps and the ends of the seat are not in the moments and conditions".to_owned(),
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
    let mut lines: Vec<String> = body.section.as_ref().and_then(differ).into_iter().collect();
    lines.extend([
        format!(
            "press behind a shield with its guard shut: plastic can burst; stop where the force passes {:.0} N, and follow the press's manual and local rules",
            body.press_by_n().high
        ),
        "wear eye protection; keep hands out of the press".to_owned(),
    ]);
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

/// The one line that says which figures to go by where the drawing is far from two plain rings.
fn differ(section: &SectionFitBody) -> Option<String> {
    let (drawn, plain) = (section.mean_pressure_mpa.likely, section.plain_rings_mpa);
    let share = if plain > 0.0 { drawn / plain } else { 1.0 };
    if (share - 1.0).abs() <= MUCH_SHARE {
        return None;
    }
    let side = if share > 1.0 {
        "the careful side for holding"
    } else {
        "too hopeful for holding: go by the drawn sections"
    };
    let f = section.push_on_n;
    Some(format!(
        "as drawn the seat presses {share:.1} times as hard as two plain rings of its walls ({drawn:.2}, not {plain:.2} MPa): set the press by the drawn sections, {:.0} to {:.0} N; the moments and the conditions without `as drawn` are those of plain rings, {side}",
        f.low, f.high
    ))
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
