//! Everything the ledger knows of one part, in the terminal.

use whirlwright_workshop::part::record::{ReadingRecord, Trace};

use super::lot::when;
use super::page::Page;
use super::table::Table;
use crate::{rounding, words};

/// One part: every reading with where it came from, every set with its partners.
#[must_use]
pub fn trace(trace: &Trace) -> String {
    let mut page = Page::default();
    let part = &trace.part;
    page.hanging(
        "",
        &format!(
            "{}, a {} of lot {}",
            part.serial,
            words::kind(part.kind),
            trace.lot
        ),
    );
    let said = [
        (words::origin(part.kind), &part.origin),
        ("colour", &part.colour),
        ("place", &part.tray),
    ];
    for (what, text) in said {
        if let Some(text) = text {
            page.row(what, text);
        }
    }
    for doubt in &part.doubts {
        page.row("in doubt", doubt);
    }
    readings(&mut page, trace);
    page.heading(&match trace.sets.len() {
        0 => "In no set".to_owned(),
        n => format!("In {}", rounding::count(n, "set", "sets")),
    });
    for set in &trace.sets {
        let members: Vec<String> = set
            .members
            .iter()
            .map(|m| format!("{} {}", m.role.key().replace('_', " "), m.serial))
            .collect();
        page.point(&format!(
            "set {}: {}; {}",
            set.number,
            members.join(", "),
            set.state.label()
        ));
    }
    if !trace.decisions.is_empty() {
        page.heading("Decided");
        for decision in &trace.decisions {
            let (what, program) = (&decision.what, &decision.program);
            page.point(&format!("{what} by {program}, {}", when(&decision.written)));
        }
    }
    page.finish()
}

fn readings(page: &mut Page, trace: &Trace) {
    page.heading(&rounding::count(
        trace.readings.len(),
        "reading",
        "readings",
    ));
    let mut table = Table::new(&[">entry", "of", ">as read", "unit", "from", ">line", ""]);
    for reading in &trace.readings {
        table.row(vec![
            reading.written.counter.to_string(),
            words::of_key(reading.quantity.key()),
            reading.text.clone(),
            reading.unit.clone(),
            reading.file.clone(),
            reading.line.to_string(),
            if reading.superseded {
                "superseded".to_owned()
            } else {
                String::new()
            },
        ]);
    }
    if !table.is_empty() {
        table.write(page);
    }
    for reading in &trace.readings {
        if let Some(noted) = beside(reading) {
            page.point(&format!("entry {}: {noted}", reading.written.counter));
        }
    }
}

/// What was noted beside the reading: who, with what, when.
fn beside(reading: &ReadingRecord) -> Option<String> {
    let parts: Vec<String> = [
        reading
            .instrument
            .as_ref()
            .map(|i| format!("scale or gauge {i}")),
        reading.operator.as_ref().map(|o| format!("by {o}")),
        reading.noted_at.as_ref().map(|t| format!("noted at {t}")),
        Some(format!("entered {}", when(&reading.written))),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!parts.is_empty()).then(|| parts.join(", "))
}
