//! Looks a lot over: spread by kind and by origin, and what should be weighed again.

use crate::part::answer::ANSWER_FORMAT;
use crate::part::{Answer, Basis, Kind, LotPart, Trust, Verdict};

use super::body::{MeasuringBody, Spread};
use super::doubts::doubts;
use super::histogram::histogram;
use super::readings::Readings;
use super::slips::outside;
use super::spread;
use super::windows::{PRACTICE, Windows, doubt_distance};

/// Looks the parts over: how many, how heavy, how they spread by cavity, what to weigh again.
///
/// The parts are taken as they are; what cannot be believed is named, never changed. Nothing weighed
/// is an answer (`stop`), not an error.
#[must_use]
pub fn look_over(parts: &[LotPart], windows: &Windows) -> Answer<MeasuringBody> {
    let readings: Vec<Readings> = Kind::ALL
        .into_iter()
        .filter_map(|kind| Readings::of(parts, kind))
        .collect();
    let by_origin: Vec<Vec<Spread>> = readings.iter().map(spread::of_origins).collect();
    let body = MeasuringBody {
        parts: parts.len(),
        weighed: readings.iter().map(|readings| readings.masses.len()).sum(),
        by_kind: readings.iter().filter_map(spread::of_kind).collect(),
        differences: by_origin
            .iter()
            .filter_map(|group| spread::differences(group))
            .collect(),
        by_origin: by_origin.into_iter().flatten().collect(),
        histograms: readings.iter().filter_map(histogram).collect(),
        doubts: doubts(parts),
    };
    let beyond = outside(parts, windows);
    let (verdict, decided_by) = judge(&body, &beyond);
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "measuring".to_owned(),
        verdict,
        headline: headline(&body),
        decided_by,
        trust: trust(&readings, !body.doubts.is_empty() || !beyond.is_empty()),
        cautions: Vec::new(),
        next: next(&body, &beyond),
        body,
    }
}

fn headline(body: &MeasuringBody) -> String {
    if body.weighed == 0 {
        return format!("None of {} parts has been weighed.", body.parts);
    }
    let kinds: Vec<String> = body.by_kind.iter().map(one_kind).collect();
    format!(
        "{} of {} parts weighed: {}.",
        body.weighed,
        body.parts,
        kinds.join("; ")
    )
}

fn one_kind(spread: &Spread) -> String {
    let words = if spread.count == 1 {
        spread.kind.word()
    } else {
        spread.kind.words()
    };
    let sd = spread.sd_mass_g.map_or(String::new(), |sd| {
        format!(" with a spread (sd) of {sd:.3} g")
    });
    format!(
        "{} {words}, mean {:.3} g{sd}",
        spread.count, spread.mean_mass_g
    )
}

fn judge(body: &MeasuringBody, beyond: &[String]) -> (Verdict, String) {
    if body.weighed == 0 {
        return (Verdict::Stop, "no mass".to_owned());
    }
    if let Some(first) = beyond.first() {
        return (
            Verdict::Look,
            format!("{} outside what is believed: {first}", beyond.len()),
        );
    }
    let limit = doubt_distance();
    let farthest = body
        .doubts
        .iter()
        .max_by(|a, b| a.robust_distance.total_cmp(&b.robust_distance));
    match farthest {
        Some(doubt) => (
            Verdict::Look,
            format!(
                "{} lies {:.1} robust standard deviations from its origin; {limit} is the limit",
                doubt.serial, doubt.robust_distance,
            ),
        ),
        None => (
            Verdict::Good,
            format!("no mass farther than {limit} robust standard deviations from its origin"),
        ),
    }
}

fn trust(readings: &[Readings], doubted: bool) -> Vec<Trust> {
    let mut trust: Vec<Trust> = readings
        .iter()
        .map(|readings| {
            let step = readings.step_units() as f64 / readings.per_gram;
            Trust {
                number: format!("mass_g of {}", readings.kind.words()),
                basis: Basis::Measured,
                why: format!(
                    "read in steps of {step} g, so each is good to half a step at best; the \
                     scale's own check is not in the file"
                ),
            }
        })
        .collect();
    trust.push(Trust {
        number: "mean_mass_g, sd_mass_g".to_owned(),
        basis: Basis::Computed,
        why: "two passes over the readings as whole last digits; divisor n − 1".to_owned(),
    });
    if doubted {
        trust.push(Trust {
            number: "doubts".to_owned(),
            basis: Basis::Assumed,
            why: format!(
                "limit of {} robust standard deviations: {PRACTICE}",
                doubt_distance()
            ),
        });
    }
    trust
}

fn next(body: &MeasuringBody, beyond: &[String]) -> Vec<String> {
    let mut next: Vec<String> = beyond
        .iter()
        .map(|part| format!("look at {part}: read the scale again"))
        .collect();
    next.extend(
        body.doubts
            .iter()
            .map(|doubt| format!("weigh {} again: {}", doubt.serial, doubt.why)),
    );
    let missing = body.parts - body.weighed;
    if missing > 0 {
        next.push(format!("weigh the {missing} parts that have no mass yet"));
    }
    if next.is_empty() {
        next.push("pair the lot".to_owned());
    }
    next
}
