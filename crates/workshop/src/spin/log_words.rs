//! What the fit of a log says.

use super::log_body::{LogBody, TermLine};
use super::log_given::LogGiven;
use super::log_judge::{hangs_together, percent};
use crate::part::{Basis, Trust, Verdict};
use crate::shelf::log_windows;

fn torque_words(term: &TermLine) -> String {
    match (term.torque_un_m, term.torque_sd_un_m) {
        (Some(torque), Some(sd)) => format!("{torque:.1} ± {sd:.1} µN·m"),
        _ => format!(
            "{:.4} ± {:.4} rad/s²",
            term.slowing_rad_per_s2, term.slowing_sd_rad_per_s2
        ),
    }
}

pub(super) fn headline(body: &LogBody) -> String {
    let known: Vec<String> = body
        .terms
        .iter()
        .filter(|t| t.reported)
        .map(|t| format!("{} is {}", t.name, torque_words(t)))
        .collect();
    let known = if known.is_empty() {
        format!(
            "the log does not tell the losses apart; all together slow it by {:.3} rad/s² at {:.0} rpm",
            body.slowing.slowing_rad_per_s2, body.slowing.at_rpm
        )
    } else {
        format!("at the start {}", known.join(", "))
    };
    let first = body.worth.first().map_or(String::new(), |w| {
        format!(
            " Attack first: {}; half of it is worth {:.0} s of sleep.",
            w.name, w.half_is_worth_s
        )
    });
    format!(
        "{} slows from {:.0} to {:.0} rpm in {:.0} s; {known}. It sleeps {:.0} ± {:.0} s down to {:.0} rpm.{first}",
        body.log,
        body.start_rpm,
        body.end_rpm,
        body.length_s,
        body.sleep_s,
        body.sleep_sd_s.max(1.0),
        body.ends_at_rpm,
    )
}

pub(super) fn verdict(body: &LogBody) -> (Verdict, String) {
    if let Some(runs) = body.runs.as_ref().filter(|r| hangs_together(r)) {
        return (
            Verdict::Look,
            format!(
                "residuals hang together: {} runs where {:.0} are expected; the law misses something",
                runs.runs, runs.expected_count
            ),
        );
    }
    if let Some(ratio) = body.scatter_ratio.filter(|r| !(0.5..2.0).contains(r)) {
        return (
            Verdict::Look,
            format!("readings scatter {ratio:.1} times as much as was stated"),
        );
    }
    match body.terms.iter().find(|t| !t.reported) {
        Some(term) => (
            Verdict::Look,
            format!(
                "the {} is {}; the log covers a speed ratio of {:.2}",
                term.name, term.words, body.speed_ratio
            ),
        ),
        None => {
            let worst = body.terms.iter().map(|t| t.open_share).fold(0.0, f64::max);
            (
                Verdict::Good,
                format!(
                    "every term is known to {} or better; the log covers a speed ratio of {:.2}",
                    percent(worst),
                    body.speed_ratio
                ),
            )
        }
    }
}

pub(super) fn trust(given: &LogGiven, body: &LogBody) -> Vec<Trust> {
    let mut trust = Vec::new();
    let mut say = |number: &str, basis, why: String| {
        trust.push(Trust {
            number: number.to_owned(),
            basis,
            why,
        });
    };
    let scatter = match body.scatter_ratio {
        Some(ratio) => format!(
            "readings scatter by {:.2} rpm, {ratio:.2} of what was stated; uncertainties are from the stated one",
            body.scatter_rpm
        ),
        None => format!(
            "readings scatter by {:.2} rpm about the curve; uncertainties are from that",
            body.scatter_rpm
        ),
    };
    say("speed_rpm", Basis::Measured, scatter);
    say(
        "terms",
        Basis::Computed,
        "least squares; only torque by inertia is seen in a log, so an inertia that is off by some per cent moves every \
         torque as much, and no share"
            .to_owned(),
    );
    match given.inertia {
        Some((inertia, sd)) => say(
            "torque_un_m",
            Basis::Computed,
            format!("with a polar inertia of {inertia:.0} ± {sd:.0} g·mm²"),
        ),
        None => say(
            "slowing_rad_per_s2",
            Basis::Computed,
            "no inertia was given, so no torque is stated".to_owned(),
        ),
    }
    let beyond = if body.extrapolated {
        "the sleep ends below the last reading: the law is carried on beyond what it was fitted to"
    } else {
        "the sleep ends within the log"
    };
    say("sleep_s", Basis::Computed, beyond.to_owned());
    say(
        "reported",
        Basis::Assumed,
        format!(
            "a term is reported while it is known to {:.0} %: {}",
            100.0 * log_windows().refused_share.number,
            log_windows().refused_share.note
        ),
    );
    trust
}

pub(super) fn cautions() -> Vec<String> {
    vec![
        "A piece at speed is tested behind a guard, with eye protection on and nobody in its plane.".to_owned(),
        "Follow your machine maker's instructions, local law and the advice of licensed people; where they differ \
         from this page, they win."
            .to_owned(),
    ]
}

pub(super) fn next(body: &LogBody) -> Vec<String> {
    let mut next = Vec::new();
    if let Some(runs) = body.runs.as_ref().filter(|r| hangs_together(r)) {
        next.push(format!("look at the residuals: {}", runs.words));
    }
    let aim = log_windows().well_known_share.number;
    for (term, advice) in body.terms.iter().zip(&body.advice) {
        if term.open_share > aim || !term.reported {
            next.push(advice.words.clone());
        }
    }
    if let Some(first) = body.worth.first() {
        next.push(format!(
            "attack the {} first: half of it brings the sleep from {:.0} to {:.0} s",
            first.name, body.sleep_s, first.sleep_with_half_s
        ));
    }
    next.push(
        "throw at least three times in both senses of turning and compare; note temperature, air pressure and what is \
         in the bearing"
            .to_owned(),
    );
    next
}
