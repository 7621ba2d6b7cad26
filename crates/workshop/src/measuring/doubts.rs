//! A plausible wrong number: a mass far from its own kin, by a measure that wrong numbers cannot
//! move.

use whirlwright_kit::describe;

use crate::part::{Kind, LotPart};

use super::body::Doubt;
use super::readings::{Mass, Readings};
use super::windows::{doubt_distance, doubt_least_count};

/// Masses to take again, in the order of the parts.
///
/// Each is compared with the median of its own cavity, insert or pack, in robust standard
/// deviations (the scaled median absolute deviation, but never less than the step of the scale:
/// a spread finer than the step cannot be seen). An origin of fewer parts than the shelf asks for
/// is judged within the whole kind; a kind of fewer parts is not judged.
#[must_use]
pub fn doubts(parts: &[LotPart]) -> Vec<Doubt> {
    let mut found = Vec::new();
    for kind in Kind::ALL {
        if let Some(readings) = Readings::of(parts, kind) {
            found.extend(doubts_of_kind(parts, &readings));
        }
    }
    found.sort_by_key(|doubt| doubt.part);
    found
}

/// The middle and the robust spread that a mass is held against, in units.
struct Measure {
    middle: f64,
    spread: f64,
    of: String,
}

fn doubts_of_kind(parts: &[LotPart], readings: &Readings) -> Vec<Doubt> {
    let step = readings.step_units();
    let whole = measure(&readings.units(), step, "all parts of its kind".to_owned());
    let groups: Vec<_> = readings
        .by_origin()
        .into_iter()
        .map(|(origin, units)| {
            let word = readings.kind.origin_word();
            let name = origin
                .as_deref()
                .map_or("its kind".to_owned(), |name| format!("{word} {name}"));
            measure(&units, step, name)
        })
        .collect();
    let held_against = |mass: &Mass| {
        let own = groups.get(mass.origin);
        own.and_then(Option::as_ref).or(whole.as_ref())
    };
    readings
        .masses
        .iter()
        .filter_map(|mass| doubt(parts, readings, mass, held_against(mass)?))
        .collect()
}

fn measure(units: &[i64], step: i64, of: String) -> Option<Measure> {
    if units.len() < doubt_least_count() {
        return None;
    }
    let numbers: Vec<f64> = units.iter().map(|&unit| unit as f64).collect();
    let (middle, spread) = describe::robust(&numbers)?;
    Some(Measure {
        middle,
        spread: spread.max(step as f64),
        of,
    })
}

fn doubt(parts: &[LotPart], readings: &Readings, mass: &Mass, held: &Measure) -> Option<Doubt> {
    let robust_distance = (mass.units as f64 - held.middle).abs() / held.spread;
    if robust_distance <= doubt_distance() {
        return None;
    }
    let part = parts.get(mass.part)?;
    let read = part.mass_g?;
    let places = usize::from(read.places);
    let why = format!(
        "{read} g lies {robust_distance:.1} robust standard deviations from the middle of {} \
         ({:.places$} g): weigh it again before pairing",
        held.of,
        held.middle / readings.per_gram,
    );
    let serial = part.serial.clone();
    Some(Doubt {
        part: mass.part,
        serial,
        mass_g: read.to_f64(),
        robust_distance,
        why,
    })
}
