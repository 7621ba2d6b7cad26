//! The sentences of the answer: verdict, headline, trust, cautions, what next.

use super::body::{Baselines, PairBody};
use crate::part::answer::ANSWER_FORMAT;
use crate::part::{Answer, Basis, Decimal, Trust, Verdict};

/// What the sentences need to know beside the body.
#[derive(Debug, Clone)]
pub(super) struct Telling {
    /// Sets there could be if every part found a partner.
    pub possible: usize,
    /// Why none is possible at all, where that is known before the search.
    pub none_because: Option<String>,
    /// What is counted: `halves and rims`, `dressed halves`, `parts`.
    pub of: &'static str,
    pub mass_limit: Option<Decimal>,
    pub scale_step: Option<Decimal>,
    /// The step was told, not taken from the digits seen.
    pub step_told: bool,
    pub stopped: bool,
    pub from_faces: bool,
}

/// Puts the answer together.
pub(super) fn answer(body: PairBody, telling: &Telling) -> Answer<PairBody> {
    let outside = body.sets.iter().filter(|set| !set.within_limits).count();
    let verdict = match (body.set_count, outside) {
        (0, _) => Verdict::Stop,
        (sets, outside) if outside == sets => Verdict::Stop,
        (sets, 0) if sets >= telling.possible && !fine_band(telling) => Verdict::Good,
        _ => Verdict::Look,
    };
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "pairing".to_owned(),
        verdict,
        headline: headline(&body, telling, outside),
        decided_by: decided_by(&body, telling, outside),
        trust: trust(&body, telling),
        cautions: cautions(&body, telling),
        next: next(&body, outside),
        body,
    }
}

fn fine_band(telling: &Telling) -> bool {
    matches!((telling.mass_limit, telling.scale_step), (Some(limit), Some(step))
        if limit.to_f64() < step.to_f64())
}

fn headline(body: &PairBody, telling: &Telling, outside: usize) -> String {
    if body.set_count == 0 {
        let why = telling
            .none_because
            .clone()
            .unwrap_or_else(|| format!("no two {} keep all the limits and may meet", telling.of));
        return format!("No sets possible because {why}.");
    }
    let proved = if body.sets_optimal {
        "proved the most possible".to_owned()
    } else {
        format!("at most {} are possible", body.possible_sets_upper_bound)
    };
    let cuts = match &body.recut_sum {
        Some(sum) if sum.rims > 0 => {
            format!("; recut {} rims, {:.2} g in all", sum.rims, sum.mass_g)
        }
        _ => String::new(),
    };
    let beyond = if outside > 0 {
        format!("; {outside} of them outside a limit")
    } else {
        String::new()
    };
    format!(
        "{} of {} sets, {proved}{cuts}{beyond}.",
        body.set_count, telling.possible
    )
}

fn decided_by(body: &PairBody, telling: &Telling, outside: usize) -> String {
    if telling.stopped {
        return "the search was stopped: the best sets so far".to_owned();
    }
    if outside > 0 {
        return format!(
            "{outside} sets are outside a limit, because every part had to find a partner"
        );
    }
    let asked: Vec<String> = body
        .limits
        .iter()
        .map(|limit| format!("{} {}", limit.what, limit.limit))
        .collect();
    format!(
        "{} of {} sets keep {}",
        body.set_count,
        telling.possible,
        asked.join(", ")
    )
}

fn trust(body: &PairBody, telling: &Telling) -> Vec<Trust> {
    let mut trust = Vec::new();
    if let Some(step) = telling.scale_step {
        let told = if telling.step_told {
            "as told"
        } else {
            "taken from the digits read"
        };
        trust.push(Trust {
            number: "mass_difference_g".to_owned(),
            basis: Basis::Measured,
            why: format!(
                "the scale's last digit is {step} g ({told}): rounding alone gives each mass a standard uncertainty of {:.4} g (digit/√12) and a difference {:.4} g; the scale's own scatter comes on top",
                step.to_f64() / 12f64.sqrt(),
                step.to_f64() / 6f64.sqrt()
            ),
        });
    }
    trust.push(Trust {
        number: "set_count".to_owned(),
        basis: Basis::Computed,
        why: body.proof.clone(),
    });
    if body.recut_sum.is_some() {
        trust.push(Trust {
            number: "recuts".to_owned(),
            basis: Basis::Computed,
            why: "mass taken off is face area times density times depth, all taken as given; weigh every rim again after the cut".to_owned(),
        });
    }
    if !body.leftovers.if_more.is_empty() {
        trust.push(Trust {
            number: "if_more".to_owned(),
            basis: Basis::Assumed,
            why: "simulated: the rims to come are drawn from the rims of this lot".to_owned(),
        });
    }
    trust
}

fn cautions(body: &PairBody, telling: &Telling) -> Vec<String> {
    let mut cautions = Vec::new();
    if fine_band(telling)
        && let (Some(limit), Some(step)) = (telling.mass_limit, telling.scale_step)
    {
        cautions.push(format!(
            "Band {limit} g is under the {step} g step of the scale: only equal readings can meet, and two equal readings may still be {step} g apart."
        ));
    }
    cautions.push(
        "Equal mass is not smoothness: a mass difference makes the piece turn about its string; off-centre and tilt make it shake.".to_owned(),
    );
    cautions.push(
        "Weigh and measure parts that have rested and are at 20 °C, after the last thing that changes their mass.".to_owned(),
    );
    if telling.from_faces && !body.recuts.is_empty() {
        cautions.push("Cut the faces named here, never the bore: the bore is a fit.".to_owned());
        cautions.push(
            "At the lathe: guard shut, no gloves near a turning spindle, chips with a hook; a thin ring has a speed limit in the jaws; fine aluminium chips burn, and never water on burning metal.".to_owned(),
        );
        cautions.push(
            "Follow your machine maker's instructions, local law and the advice of licensed people; where they differ from this page, they win.".to_owned(),
        );
    }
    cautions
}

fn next(body: &PairBody, outside: usize) -> Vec<String> {
    let mut next = Vec::new();
    let doubtful = body.left_over.iter().filter(|part| part.left_out).count();
    if doubtful > 0 {
        next.push(format!(
            "Weigh {doubtful} left-out parts again and pair once more."
        ));
    }
    if !body.recuts.is_empty() {
        next.push(format!(
            "Recut {} rims in tray order, weigh them again, then marry.",
            body.recuts.len()
        ));
        next.push(
            "The lightest cuts end at the edge of the limits: to leave room for scale and lathe, ask with a narrower limit.".to_owned(),
        );
    }
    if outside > 0 {
        next.push("Look at the sets outside a limit before they are put together.".to_owned());
    }
    if body.set_count > 0 {
        next.push("Pick the sets in tray order and weigh every finished piece once.".to_owned());
    } else {
        next.push("Widen a limit, or bring parts nearer to the wanted mass.".to_owned());
    }
    next.extend(body.leftovers.wish.iter().cloned());
    next
}

/// Whether trays would do, in a sentence.
pub(super) fn baselines(
    as_it_comes_sets: usize,
    trays_sets: usize,
    half_and_rim_trays_sets: Option<usize>,
    sheet_sets: usize,
    found: usize,
) -> Baselines {
    let best = trays_sets.max(half_and_rim_trays_sets.unwrap_or(0));
    // Whole sets: 99 of 100 without rounding.
    let trays_would_do = found > 0 && best * 100 >= found * 99;
    let sentence = if found == 0 {
        "There is nothing to compare: no set is possible.".to_owned()
    } else if trays_would_do {
        format!("Trays will do: sorted by hand they bring {best} of these {found} sets.")
    } else {
        format!(
            "Trays will not do: {best} sets by trays, {sheet_sets} by the spreadsheet trick, {as_it_comes_sets} as it comes, {found} here."
        )
    };
    Baselines {
        as_it_comes_sets,
        trays_sets,
        half_and_rim_trays_sets,
        sheet_sets,
        trays_would_do,
        sentence,
    }
}
