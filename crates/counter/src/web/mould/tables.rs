//! Tables of the mould's page.

use maud::{Markup, html};
use whirlwright_paper::{rounding, text};
use whirlwright_workshop::moulding::{MouldBody, Stands, StudyBody, StudyKind};

/// The studies: their word in an address, their title, and which they are.
pub const STUDIES: [(&str, &str, StudyKind); 5] = [
    ("freeze", "When the gate freezes", StudyKind::Freeze),
    ("hold", "Hold time and pressure", StudyKind::Hold),
    ("fill", "Time of filling", StudyKind::Fill),
    ("cooling", "Cooling", StudyKind::Cooling),
    ("window", "The window", StudyKind::Window),
];

/// The conditions with what to change.
pub fn conditions(body: &MouldBody) -> Markup {
    html! {
        ul { @for c in &body.conditions { li {
            @match c.stands { Stands::Kept => "✓ ", Stands::Edge => "▲ ", Stands::Broken => "■ " }
            (c.words) @if !c.change.is_empty() { " To change: " (c.change) "." }
        } } }
    }
}

/// What is asked most.
pub fn facts(body: &MouldBody) -> Markup {
    html! {
        dl.facts {
            div { dt { "half" } dd { (rounding::places(body.half.mass_g, 3, "g")) } }
            div { dt { "pull" } dd { (rounding::figures(body.half.unbalance_g_mm, 2, "g·mm")) } }
            div { dt { "gate frozen" } dd { @if let Some(s) = body.hold.gate_freeze_s { (rounding::places(s, 1, "s")) } @else { "open" } } }
            div { dt { "at the switch-over" } dd { (rounding::places(body.fill.switch_mpa, 0, "MPa")) } }
            div { dt { "clamp" } dd { (rounding::places(body.clamp.opening_kn, 0, "kN")) } }
            div { dt { "cycle" } dd { (rounding::places(body.cycle.cycle_s, 1, "s")) } }
        }
    }
}

/// One row a cavity.
pub fn cavities(body: &MouldBody) -> Markup {
    table(&text::CAVITY_HEADS, &text::cavities(body))
}

/// Everything that stands on the sheet.
pub fn whole(body: &MouldBody) -> Markup {
    html! {
        details { summary { "The whole reckoning" }
            div.wide { table { tbody { @for (label, value) in text::mould_rows(body) { tr { th { (label) } td { (value) } } } } } }
        }
    }
}

/// The runs of a study, and the list for the press.
pub fn runs(body: &StudyBody) -> Markup {
    html! {
        h2 { "To try at the press" }
        (table(&text::PRESS_HEADS, &text::press_rows(body)))
        h2 { "What was reckoned" }
        (table(&text::RUN_HEADS, &text::run_rows(body)))
    }
}

/// Heads that begin with `>` stand over numbers; columns with nothing in them are left out.
fn table(heads: &[&str], rows: &[Vec<String>]) -> Markup {
    let used: Vec<usize> = (0..heads.len())
        .filter(|n| {
            rows.iter()
                .any(|row| row.get(*n).is_some_and(|cell| !cell.is_empty()))
        })
        .collect();
    let class = |n: usize| heads[n].starts_with('>').then_some("n");
    html! {
        div.wide { table {
            thead { tr { @for n in &used { th class=[class(*n)] { (heads[*n].trim_start_matches('>')) } } } }
            tbody { @for row in rows { tr { @for n in &used { td class=[class(*n)] { (row[*n]) } } } } }
        } }
    }
}
