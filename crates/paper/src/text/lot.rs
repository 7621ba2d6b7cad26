//! What the ledger knows of a lot, in the terminal.

use whirlwright_workshop::part::record::{LotLine, LotRecord, SetState, Written};

use super::page::Page;
use super::table::Table;
use crate::{rounding, words};

/// Sets and doubts that are shown; the JSON answer has them all.
const LINES_SHOWN: usize = 12;

/// Every lot of the ledger, one line each.
#[must_use]
pub fn lots(lots: &[LotLine]) -> String {
    let mut page = Page::default();
    if lots.is_empty() {
        page.line("The ledger holds no lot yet.");
        page.line("Next: whirlwright lot import NAME --halves FILE --rims FILE");
        return page.finish();
    }
    page.line(&rounding::count(lots.len(), "lot", "lots"));
    let mut table = Table::new(&["lot", ">parts", ">sets", "opened", "last entry"]);
    for line in lots {
        table.row(vec![
            line.lot.clone(),
            line.parts.to_string(),
            line.sets.to_string(),
            when(&line.first),
            when(&line.last),
        ]);
    }
    table.write(&mut page);
    page.finish()
}

/// One lot: what came in, what is in doubt, which sets stand, what was decided.
#[must_use]
pub fn lot(record: &LotRecord) -> String {
    let mut page = Page::default();
    page.hanging("", &format!("Lot {}", record.lot));
    counts(&mut page, record);
    files(&mut page, record);
    if !record.doubts.is_empty() {
        page.heading(&format!(
            "In doubt: {}",
            rounding::count(record.doubts.len(), "part", "parts")
        ));
        for doubt in record.doubts.iter().take(LINES_SHOWN) {
            page.hanging(&format!("  {}  ", doubt.serial), &doubt.doubts.join("; "));
        }
        more(&mut page, record.doubts.len());
    }
    sets(&mut page, record);
    if !record.decisions.is_empty() {
        page.heading("Decided");
        for decision in &record.decisions {
            let sets = rounding::count(decision.sets as usize, "set", "sets");
            page.point(&format!(
                "{}: {sets}, {}",
                decision.what,
                when(&decision.written)
            ));
        }
    }
    page.finish()
}

fn counts(page: &mut Page, record: &LotRecord) {
    if record.kinds.is_empty() {
        page.line("No part has come in yet.");
        return;
    }
    let mut table = Table::new(&["kind", ">parts", ">weighed", ">in doubt", ">in sets"]);
    for kind in &record.kinds {
        table.row(vec![
            words::kinds(kind.kind).to_owned(),
            kind.parts.to_string(),
            kind.weighed.to_string(),
            kind.in_doubt.to_string(),
            kind.in_sets.to_string(),
        ]);
    }
    table.write(page);
}

fn files(page: &mut Page, record: &LotRecord) {
    if record.files.is_empty() {
        return;
    }
    page.heading("Came in");
    let mut table = Table::new(&["file", "kind", ">rows", "when", "SHA-256 begins"]);
    for file in &record.files {
        table.row(vec![
            file.name.clone(),
            words::kinds(file.kind).to_owned(),
            file.rows.to_string(),
            when(&file.written),
            file.sha256.chars().take(12).collect(),
        ]);
    }
    table.write(page);
}

fn sets(page: &mut Page, record: &LotRecord) {
    if record.sets.is_empty() {
        return;
    }
    let good = record
        .sets
        .iter()
        .filter(|set| set.state == SetState::Good)
        .count();
    page.heading(&format!(
        "Sets: {} recorded, {good} good, next number {}",
        record.sets.len(),
        record.next_set_number
    ));
    // What needs a hand comes first.
    let order = record.sets.iter().filter(|s| s.state != SetState::Good);
    let order = order.chain(record.sets.iter().filter(|s| s.state == SetState::Good));
    let mut table = Table::new(&[">set", "parts", "state"]);
    for set in order.take(LINES_SHOWN) {
        let parts: Vec<&str> = set.members.iter().map(|m| m.serial.as_str()).collect();
        let pairs: Vec<String> = parts.chunks(2).map(|two| two.join(" + ")).collect();
        let label = set.state.label();
        let mut state = label.split(':').next().unwrap_or_default().to_owned();
        for (n, pair) in pairs.iter().enumerate() {
            let number = if n == 0 {
                set.number.to_string()
            } else {
                String::new()
            };
            table.row(vec![number, pair.clone(), std::mem::take(&mut state)]);
        }
    }
    table.write(page);
    more(page, record.sets.len());
    for set in record.sets.iter().filter(|set| set.state != SetState::Good) {
        page.point(&format!("set {}: {}", set.number, set.state.label()));
    }
}

fn more(page: &mut Page, all: usize) {
    if all > LINES_SHOWN {
        page.line(&format!("  … and {} more", all - LINES_SHOWN));
    }
}

/// The clock's word, with a warning where it cannot be right; the counter keeps the order.
pub(super) fn when(written: &Written) -> String {
    let doubt = if written.clock_doubtful {
        " (clock doubtful)"
    } else {
        ""
    };
    format!("{}{doubt}", written.time)
}
