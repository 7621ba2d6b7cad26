//! What a row of a new file adds to a part that is in the lot already.

use whirlwright_workshop::part::{Decimal, LotPart};

use crate::{Clash, ImportRow};

/// What a row adds.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// Everything it says is held already.
    NothingNew,
    /// It adds these of its readings (by their place in the row), or a word or doubt beside them.
    Adds(Vec<usize>),
    /// It contradicts what is held.
    Clashes(Vec<Clash>),
}

/// Compares a row with the part as it is held; `again` says that it was measured again, and
/// then every reading counts, the same number too.
pub(crate) fn compare(row: &ImportRow, held: &LotPart, again: bool) -> Verdict {
    let mut clashes = Vec::new();
    if held.kind != row.part.kind {
        clashes.push(clash(
            row,
            "kind",
            &format!("{:?}", held.kind),
            &format!("{:?}", row.part.kind),
        ));
        return Verdict::Clashes(clashes);
    }
    if again {
        return Verdict::Adds((0..row.readings.len()).collect());
    }
    let mut added = Vec::new();
    for (index, reading) in row.readings.iter().enumerate() {
        match reading.quantity.of(held) {
            None => added.push(index),
            Some(value) if same(value, reading.value) => {}
            Some(value) => {
                let read = format!("{} {}", reading.text, reading.unit);
                let unit = reading.quantity.unit();
                clashes.push(clash(
                    row,
                    reading.quantity.key(),
                    &format!("{value} {unit}"),
                    &read,
                ));
            }
        }
    }
    let words = [
        ("origin", &held.origin, &row.part.origin),
        ("colour", &held.colour, &row.part.colour),
        ("tray", &held.tray, &row.part.tray),
    ];
    let mut says_more = row
        .part
        .doubts
        .iter()
        .any(|doubt| !held.doubts.contains(doubt));
    for (what, held, read) in words {
        match (held, read) {
            (Some(held), Some(read)) if held != read => clashes.push(clash(row, what, held, read)),
            (None, Some(_)) => says_more = true,
            _ => {}
        }
    }
    match (clashes.is_empty(), added.is_empty() && !says_more) {
        (false, _) => Verdict::Clashes(clashes),
        (true, true) => Verdict::NothingNew,
        (true, false) => Verdict::Adds(added),
    }
}

fn clash(row: &ImportRow, what: &str, held: &str, read: &str) -> Clash {
    Clash {
        serial: row.part.serial.clone(),
        what: what.to_owned(),
        held: held.to_owned(),
        read: read.to_owned(),
        line: row.line,
    }
}

/// 10.8 and 10.80 are the same number.
fn same(a: Decimal, b: Decimal) -> bool {
    let places = a.places.max(b.places);
    match (a.units_at(places), b.units_at(places)) {
        (Some(a), Some(b)) => a == b,
        _ => a == b,
    }
}
