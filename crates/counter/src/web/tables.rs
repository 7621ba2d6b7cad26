//! Tables that several pages show.

use maud::{Markup, html};
use whirlwright_paper::{rounding, words};
use whirlwright_workshop::measuring::{Doubt, Spread};
use whirlwright_workshop::pairing::{PairSet, RecutLine};
use whirlwright_workshop::part::record::{FileRecord, SetRecord};

use super::layout::{self, link};

/// Count, middle and spread by origin.
pub fn spreads(spreads: &[Spread]) -> Markup {
    html! {
        div.wide { table {
            thead { tr { th { "Origin" } th.n { "Parts" } th.n { "Mean, g" } th.n { "Spread (sd), g" } th.n { "Lightest, g" } th.n { "Heaviest, g" } } }
            tbody { @for s in spreads { tr {
                td { (words::kinds(s.kind)) @if let Some(origin) = &s.origin { ", " (words::origin(s.kind)) " " (origin) } }
                td.n { (s.count) }
                td.n { (rounding::number(s.mean_mass_g, 3)) }
                td.n { @if let Some(sd) = s.sd_mass_g { (rounding::number(sd, 3)) } @else { "–" } }
                td.n { (rounding::number(s.min_mass_g, 2)) }
                td.n { (rounding::number(s.max_mass_g, 2)) }
            } } }
        } }
    }
}

/// Parts to be weighed again.
pub fn doubts(lot: &str, doubts: &[Doubt]) -> Markup {
    html! {
        @if !doubts.is_empty() {
            h2 { "Weigh these again before pairing" }
            ul { @for doubt in doubts { li { (part(lot, &doubt.serial)) ": " (doubt.why) } } }
        }
    }
}

/// Files that came in.
pub fn files(files: &[FileRecord]) -> Markup {
    html! {
        div.wide { table {
            thead { tr { th { "File" } th { "Lists" } th.n { "Rows" } th { "Came in" } th { "Check sum (SHA-256)" } } }
            tbody { @for file in files { tr {
                td { (file.name) } td { (words::kinds(file.kind)) } td.n { (file.rows) }
                td { (layout::time(&file.written)) }
                td { code { (file.sha256.get(..12).unwrap_or(&file.sha256)) "…" } }
            } } }
        } }
    }
}

/// A serial that leads to its trace.
pub fn part(lot: &str, serial: &str) -> Markup {
    html! { a.serial href=(link(&["lot", lot, "part", serial])) { (serial) } }
}

/// Sets as the record has them.
pub fn recorded(lot: &str, sets: &[SetRecord]) -> Markup {
    html! {
        div.wide { table {
            thead { tr { th.n { "Set" } th { "Parts" } th.n { "Difference, g" } th { "State" } th { "Written" } } }
            tbody { @for set in sets { tr {
                td.n { (set.number) }
                td { @for member in &set.members { (part(lot, &member.serial)) " " } }
                td.n { (set.differences.get("mass_difference_g").and_then(serde_json::Value::as_f64).map_or_else(|| "–".to_owned(), |d| rounding::number(d, 2))) }
                td { (set.state.label()) }
                td { (layout::time(&set.written)) }
            } } }
        } }
    }
}

/// Sets of an answer.
pub fn sets(lot: &str, sets: &[PairSet]) -> Markup {
    let number = |value: Option<f64>, places| {
        value.map_or_else(|| "–".to_owned(), |v| rounding::number(v, places))
    };
    let has = |of: fn(&PairSet) -> Option<f64>| sets.iter().any(|s| of(s).is_some());
    let (piece, unbalance, offset) = (
        has(|s| s.piece_mass_g),
        has(|s| s.unbalance_difference_g_mm),
        has(|s| s.offset_difference_mm),
    );
    html! {
        div.wide { table {
            thead { tr {
                th.n { "Set" } th { "Left" } th { "Right" } th.n { "Difference, g" }
                @if unbalance { th.n { "Unbalance, g·mm" } } @if offset { th.n { "Offset, mm" } }
                @if piece { th.n { "Piece, g" } }
            } }
            tbody { @for s in sets { tr {
                td.n { (s.number) @if !s.within_limits { span.stop title="outside a limit" { " ■" } } }
                td { (side(lot, &s.left, s.left_half.as_ref().zip(s.left_rim.as_ref()))) }
                td { (side(lot, &s.right, s.right_half.as_ref().zip(s.right_rim.as_ref()))) @if let Some(mark) = s.clock_mark { " at mark " (mark) } }
                td.n { (number(s.mass_difference_g, 2)) }
                @if unbalance { td.n { (number(s.unbalance_difference_g_mm, 3)) } }
                @if offset { td.n { (number(s.offset_difference_mm, 4)) } }
                @if piece { td.n { (number(s.piece_mass_g, 2)) } }
            } } }
        } }
    }
}

fn side(lot: &str, whole: &str, apart: Option<(&String, &String)>) -> Markup {
    match apart {
        Some((half, rim)) => html! { (part(lot, half)) " + " (part(lot, rim)) },
        None => part(lot, whole),
    }
}

/// Rims to cut, in tray order.
pub fn recuts(lot: &str, recuts: &[RecutLine]) -> Markup {
    html! {
        div.wide { table {
            thead { tr { th { "Rim" } th.n { "Face off, mm" } th.n { "Taken off, g" } th.n { "Before, g" } th.n { "After, g" } th { "For half" } th.n { "Set" } } }
            tbody { @for r in recuts { tr {
                td { (part(lot, &r.id)) }
                td.n { strong { (rounding::number(r.face_mm, 2)) } }
                td.n { (rounding::number(r.mass_g, 2)) }
                td.n { (rounding::number(r.mass_before_g, 2)) }
                td.n { (rounding::number(r.mass_after_g, 2)) }
                td { (part(lot, &r.half)) }
                td.n { (r.set) }
            } } }
        } }
    }
}
