//! What a log can and cannot tell: terms, other laws, how much longer to log, what each loss is worth.

use whirlwright_kit::least_squares::quantiles::fisher_beyond;
use whirlwright_kit::least_squares::runs;

use super::log_body::{
    AdviceLine, CorrelationLine, RunsLine, SlowingLine, TermLine, TriedLine, TriedTerm, WorthLine,
};
use super::log_curve::{energy_shares, time_between};
use super::log_fit::{Fitted, fit_terms};
use super::log_given::RPM_PER_RAD_S;
use super::log_laws::Term;
use crate::part::SpinLog;
use crate::shelf::log_windows;

/// kg·m² in one g·mm², and µN·m in one N·m.
const KG_M2_PER_G_MM2: f64 = 1e-9;
pub(super) const UN_M_PER_N_M: f64 = 1e6;

/// Correlation from which on two terms are one to the log.
const ALIKE_COEFFICIENT: f64 = 0.995;

/// Inertia and its standard deviation in kg·m².
pub(super) fn in_kg_m2(inertia: Option<(f64, f64)>) -> Option<(f64, f64)> {
    inertia.map(|(value, sd)| (value * KG_M2_PER_G_MM2, sd * KG_M2_PER_G_MM2))
}

/// Whether a term stands far enough from nought to be reported.
pub(super) fn carries(fitted: &Fitted, term: usize) -> bool {
    fitted.theta()[term] > 0.0
        && fitted.fit.relative_sd(term + 1) <= log_windows().refused_share.number
}

pub(super) fn term_lines(fitted: &Fitted, inertia: Option<(f64, f64)>) -> Vec<TermLine> {
    let whole: f64 = fitted.theta().iter().sum();
    let line = |(at, term): (usize, &Term)| {
        let (theta, sd) = (fitted.theta()[at], fitted.fit.sd(at + 1));
        let open_share = fitted.fit.relative_sd(at + 1);
        let reported = carries(fitted, at);
        let torque = in_kg_m2(inertia).map(|(i, i_sd)| {
            let torque = UN_M_PER_N_M * theta * i;
            (torque, torque.abs() * open_share.hypot(i_sd / i))
        });
        TermLine {
            term: *term,
            name: term.words().to_owned(),
            slowing_rad_per_s2: theta,
            slowing_sd_rad_per_s2: sd,
            coefficient: term
                .power()
                .map(|power| theta / fitted.reference_rad_s.powf(power)),
            torque_un_m: torque.map(|t| t.0),
            torque_sd_un_m: torque.map(|t| t.1),
            share: theta / whole,
            open_share,
            reported,
            words: how_well(theta, open_share, reported),
        }
    };
    fitted.terms.iter().enumerate().map(line).collect()
}

fn how_well(theta: f64, open_share: f64, reported: bool) -> String {
    let windows = log_windows();
    if !reported && theta <= 0.0 {
        "comes out at or below nought: the log does not show it".to_owned()
    } else if !reported {
        format!(
            "not reported: the log leaves it open by {:.0} %, more than the {:.0} % at which a term is no longer told \
             from nought and from the other terms",
            100.0 * open_share,
            100.0 * windows.refused_share.number
        )
    } else if open_share <= windows.well_known_share.number {
        format!("known to {}", percent(open_share))
    } else {
        format!("known roughly, to {}", percent(open_share))
    }
}

/// A share with two figures.
pub(super) fn percent(share: f64) -> String {
    let value = 100.0 * share;
    if value < 0.995 {
        format!("{value:.2} %")
    } else if value < 9.95 {
        format!("{value:.1} %")
    } else {
        format!("{value:.0} %")
    }
}

pub(super) fn correlation_lines(fitted: &Fitted) -> Vec<CorrelationLine> {
    let mut lines = Vec::new();
    for first in 0..fitted.terms.len() {
        for second in first + 1..fitted.terms.len() {
            lines.push(CorrelationLine {
                first: fitted.terms[first].words().to_owned(),
                second: fitted.terms[second].words().to_owned(),
                correlation_coefficient: fitted.fit.correlation(first + 1, second + 1),
            });
        }
    }
    lines
}

/// The speed of the log at which the slowing of all terms together is known best.
pub(super) fn best_known(
    fitted: &Fitted,
    last_rad_s: f64,
    inertia: Option<(f64, f64)>,
) -> SlowingLine {
    const STEPS: u32 = 40;
    let first = fitted.start_rad_s();
    let at = |n: u32| {
        let speed = first + (last_rad_s - first) * f64::from(n) / f64::from(STEPS);
        let (slowing, sd) = fitted.slowing(speed);
        (speed, slowing, sd / slowing)
    };
    let best = (0..=STEPS)
        .map(at)
        .min_by(|a, b| a.2.total_cmp(&b.2))
        .unwrap_or_else(|| at(0));
    SlowingLine {
        at_rpm: best.0 * RPM_PER_RAD_S,
        slowing_rad_per_s2: best.1,
        open_share: best.2,
        torque_un_m: in_kg_m2(inertia).map(|(i, _)| UN_M_PER_N_M * best.1 * i),
    }
}

/// Whether neighbouring residuals hang together, and what that means.
pub(super) fn runs_line(scaled: &[f64]) -> Option<RunsLine> {
    let found = runs(scaled)?;
    let chance = log_windows().chance_probability.number;
    let words = if found.probability >= chance {
        "readings scatter about the curve without order: the law meets the log".to_owned()
    } else if found.sigmas < 0.0 {
        "neighbouring residuals hang together: the law misses something (a string that rubs at times, a touch, warming \
         oil, a speed averaged by the instrument), and the uncertainties here are too small; look at the residuals"
            .to_owned()
    } else {
        "residuals change sign too often: neighbouring speeds share a pulse, or the instrument rounds coarsely; the \
         uncertainties here are rather too large"
            .to_owned()
    };
    Some(RunsLine {
        runs: found.runs,
        expected_count: found.expected,
        probability: found.probability,
        words,
    })
}

/// Whether residuals hang together beyond chance, for want of terms.
pub(super) fn hangs_together(line: &RunsLine) -> bool {
    line.probability < log_windows().chance_probability.number
        && (line.runs as f64) < line.expected_count
}

/// What the log says to the base law with one more term; with the fit, where it was found.
pub(super) fn tried(log: &SpinLog, base: &Fitted, added: Term) -> (TriedLine, Option<Fitted>) {
    let mut terms = base.terms.clone();
    terms.push(added);
    let law = law_words(&terms);
    let Ok(found) = fit_terms(log, &terms) else {
        let words = format!(
            "the log cannot carry a {} beside the others: no combination of the three is better than another",
            added.words()
        );
        let line = TriedLine {
            law,
            terms: Vec::new(),
            correlation_coefficient: 1.0,
            probability: 1.0,
            told_apart: false,
            words,
        };
        return (line, None);
    };
    let count = terms.len();
    let mut most = 0.0f64;
    for first in 1..=count {
        for second in first + 1..=count {
            let correlation = found.fit.correlation(first, second);
            if correlation.abs() > most.abs() {
                most = correlation;
            }
        }
    }
    let told_apart = (0..count).all(|t| carries(&found, t)) && most.abs() < ALIKE_COEFFICIENT;
    let gain = (base.fit.sum_of_squares - found.fit.sum_of_squares).max(0.0);
    let below = found.fit.degrees_of_freedom as f64;
    let probability = fisher_beyond(gain / (found.fit.sum_of_squares / below), 1.0, below);
    let line = TriedLine {
        law,
        terms: tried_terms(&found),
        correlation_coefficient: most,
        probability,
        told_apart,
        words: tried_words(added, &found, most, probability, told_apart),
    };
    (line, Some(found))
}

fn tried_terms(found: &Fitted) -> Vec<TriedTerm> {
    let term = |(at, term): (usize, &Term)| TriedTerm {
        term: *term,
        name: term.words().to_owned(),
        open_share: found.fit.relative_sd(at + 1),
    };
    found.terms.iter().enumerate().map(term).collect()
}

fn tried_words(
    added: Term,
    found: &Fitted,
    most: f64,
    probability: f64,
    told_apart: bool,
) -> String {
    let open = found.fit.relative_sd(found.terms.len());
    let chance = log_windows().chance_probability.number;
    let name = added.words();
    match (told_apart, probability < chance) {
        (true, true) => format!(
            "the log shows a {name} beside the others, to {}",
            percent(open)
        ),
        (true, false) => format!("the log would carry a {name}, and needs none"),
        (false, true) => format!(
            "the log is met better with a {name}, but cannot say how much of it there is (open by {:.0} %, correlation \
             {most:.4}): something is missing from the law, not necessarily this",
            100.0 * open
        ),
        (false, false) => format!(
            "the log cannot tell a {name} from the others: open by {:.0} %, correlation {most:.4}; it is not reported",
            100.0 * open
        ),
    }
}

/// The law in words.
pub(super) fn law_words(terms: &[Term]) -> String {
    let words: Vec<&str> = terms.iter().map(|t| t.words()).collect();
    words.join(" + ")
}

/// How long to log for every term to be known to a twentieth.
pub(super) fn advice(fitted: &Fitted, log: &SpinLog) -> Vec<AdviceLine> {
    let aim = log_windows().well_known_share.number;
    let weights: f64 = (0..log.times_s.len()).map(|i| log.weight(i)).sum();
    let rate = weights / fitted.span_s;
    // Further down than a twentieth of the first speed no one logs: the piece wobbles and stops.
    let lowest = 0.05 * fitted.start_rad_s();
    let longest = time_between(&fitted.shapes, fitted.theta(), fitted.start_rad_s(), lowest);
    let line = |(at, term): (usize, &Term)| {
        let now = fitted.fit.relative_sd(at + 1);
        let name = term.words().to_owned();
        let open = |length: f64| {
            fitted
                .planned(length, rate)
                .map_or(f64::INFINITY, |sd| sd[at])
        };
        if now <= aim && fitted.theta()[at] > 0.0 {
            return AdviceLine {
                words: format!("{name}: this log is long enough"),
                name,
                open_share: aim,
                length_s: Some(fitted.span_s),
                end_rpm: None,
            };
        }
        match longest.filter(|longest| open(*longest) <= aim) {
            None => AdviceLine {
                words: format!(
                    "{name}: no longer log of this kind will tell it to {}; read more often or more finely, or change \
                     one thing alone (the bearing, a smooth disc) and compare",
                    percent(aim)
                ),
                name,
                open_share: aim,
                length_s: None,
                end_rpm: None,
            },
            Some(longest) => {
                let (mut short, mut long) = (fitted.span_s.min(longest), longest);
                for _ in 0..30 {
                    let middle = (short * long).sqrt();
                    if open(middle) <= aim {
                        long = middle;
                    } else {
                        short = middle;
                    }
                }
                let end =
                    fitted.speeds(&[fitted.first_s, fitted.first_s + long])[1].0 * RPM_PER_RAD_S;
                AdviceLine {
                    words: format!(
                        "{name}: log {long:.0} s, down to {end:.0} rpm, to know it to {}",
                        percent(aim)
                    ),
                    name,
                    open_share: aim,
                    length_s: Some(long),
                    end_rpm: Some(end),
                }
            }
        }
    };
    fitted.terms.iter().enumerate().map(line).collect()
}

/// What half of each term is worth in seconds of sleep, the best first.
pub(super) fn worth(fitted: &Fitted, end_rad_s: f64) -> Vec<WorthLine> {
    let shares = energy_shares(
        &fitted.shapes,
        fitted.theta(),
        fitted.start_rad_s(),
        end_rad_s,
    )
    .unwrap_or_default();
    let line = |(at, term): (usize, &Term)| {
        let time = |p: &[f64]| time_between(&fitted.shapes, &p[1..], p[0], end_rad_s);
        let gain = |p: &[f64]| {
            let mut halved = p.to_vec();
            halved[at + 1] *= 0.5;
            Some(time(&halved)? - time(p)?)
        };
        let (gain_s, sd_s) = fitted.with_sd(gain)?;
        Some(WorthLine {
            name: term.words().to_owned(),
            energy_share: *shares.get(at)?,
            sleep_with_half_s: time(&fitted.fit.parameters)? + gain_s,
            half_is_worth_s: gain_s,
            half_is_worth_sd_s: sd_s,
        })
    };
    let mut lines: Vec<WorthLine> = fitted.terms.iter().enumerate().filter_map(line).collect();
    lines.sort_by(|a, b| b.half_is_worth_s.total_cmp(&a.half_is_worth_s));
    lines
}
