//! A cavity, insert or pack that does not exist.

use std::collections::BTreeMap;

use crate::part::{Kind, LotPart};

use super::slip::{Slip, Weight};
use super::windows::doubt_least_count;

/// Parts from an origin that is not among the known ones.
///
/// Where none are known, one thing still gives a mistyped cavity away: a single part from a number
/// beyond a gap (cavity 9 where all others come from 1 to 4) while every other has many parts.
#[must_use]
pub fn strangers(parts: &[LotPart], kind: Kind, known: &[String]) -> Vec<Slip> {
    if known.is_empty() {
        return beyond_a_gap(parts, kind).into_iter().collect();
    }
    let expected = format!("{} {}", kind.origin_words(), known.join(", "));
    let stranger = |origin: &String| !known.contains(origin);
    let rows = parts.iter().enumerate();
    rows.filter_map(|(at, part)| {
        let origin = part.origin.as_ref().filter(|origin| stranger(origin))?;
        let advice = format!(
            "Write the right {}, or add it to the tool's list if it is new",
            kind.origin_word()
        );
        Some(slip(at, kind, origin, &expected, advice))
    })
    .collect()
}

fn beyond_a_gap(parts: &[LotPart], kind: Kind) -> Option<Slip> {
    let mut seen: BTreeMap<u64, (usize, usize)> = BTreeMap::new();
    for (at, part) in parts.iter().enumerate() {
        // A part without an origin, or one named by a word, leaves no numbers to have gaps.
        let number = part.origin.as_ref()?.parse().ok()?;
        seen.entry(number).or_insert((0, at)).0 += 1;
    }
    let (last, (count, at)) = seen.pop_last()?;
    let (before, _) = seen.last_key_value()?;
    let others_have_many = seen
        .values()
        .all(|(count, _)| *count >= doubt_least_count());
    if count > 1 || last <= before + 1 || !others_have_many {
        return None;
    }
    let list: Vec<String> = seen.keys().map(u64::to_string).collect();
    let expected = format!(
        "{} {}, from which all other parts come",
        kind.origin_words(),
        list.join(", ")
    );
    let advice = format!(
        "Write the right {0}, or name every {0} of the tool",
        kind.origin_word()
    );
    Some(slip(at, kind, &last.to_string(), &expected, advice))
}

fn slip(at: usize, kind: Kind, origin: &str, expected: &str, advice: String) -> Slip {
    Slip {
        part: Some(at),
        weight: Weight::Refuse,
        quantity: "origin".to_owned(),
        read: format!("{} {origin}", kind.origin_word()),
        expected: expected.to_owned(),
        advice,
    }
}
