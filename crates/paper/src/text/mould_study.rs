//! A study of mould and press, in the terminal.

use whirlwright_workshop::moulding::{StudyBody, StudyRun};
use whirlwright_workshop::part::Answer;

use super::page::Page;
use super::table::Table;
use crate::rounding::{figures, number, places};

/// What the study finds, its runs, and the list to try at the press.
#[must_use]
pub fn mould_study(answer: &Answer<StudyBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading("What to take");
    page.hanging("  ", &body.why);
    for mark in &body.marks {
        let unit = body.along.split_once(", in ").map_or("", |(_, unit)| unit);
        page.point(&format!(
            "{}: {}",
            mark.words,
            figures(mark.along_at, 3, unit)
        ));
    }
    page.heading("Runs");
    let mut table = Table::new(&RUN_HEADS);
    for row in rows(body) {
        table.row(row);
    }
    table.write(&mut page);
    if body.left_out_count > 0 {
        page.line(&format!(
            "  … {} runs were not made: stopped",
            body.left_out_count
        ));
    }
    page.heading("To try at the press");
    let mut table = Table::new(&PRESS_HEADS);
    for row in press_rows(body) {
        table.row(row);
    }
    table.write(&mut page);
    page.end(answer)
}

/// Heads of the table of runs.
pub const RUN_HEADS: [&str; 9] = [
    ">melt, °C",
    ">wall, °C",
    ">fill, s",
    ">hold, MPa",
    ">hold, s",
    ">half, g",
    ">pull, g·mm",
    ">clamp, kN",
    "breaks",
];

/// Its cells; what never changes from run to run is left empty, and with it its column.
pub fn rows(body: &StudyBody) -> Vec<Vec<String>> {
    let changes = |of: fn(&StudyRun) -> f64| {
        let first = body.runs.first().map(of);
        body.runs.iter().any(|r| Some(of(r)) != first)
    };
    let shown = |shows: bool, value: f64, behind: usize| {
        if shows {
            number(value, behind)
        } else {
            String::new()
        }
    };
    let melt = changes(|r| r.melt_degc);
    let wall = changes(|r| r.wall_degc);
    let fill = changes(|r| r.fill_s);
    let pressure = changes(|r| r.hold_mpa);
    let time = changes(|r| r.hold_s);
    body.runs
        .iter()
        .map(|r| {
            vec![
                shown(melt, r.melt_degc, 0),
                shown(wall, r.wall_degc, 0),
                shown(fill, r.fill_s, 2),
                shown(pressure, r.hold_mpa, 0),
                shown(time, r.hold_s, 1),
                number(r.mass_g, 3),
                number(r.toward_gate_g_mm, 3),
                number(r.opening_kn, 0),
                r.breaks.clone(),
            ]
        })
        .collect()
}

/// Heads of the list for the press.
pub const PRESS_HEADS: [&str; 8] = [
    ">run",
    ">melt, °C",
    ">wall, °C",
    ">fill, s",
    ">hold, MPa",
    ">hold, s",
    "shots",
    "expected",
];

/// Its cells.
pub fn press_rows(body: &StudyBody) -> Vec<Vec<String>> {
    body.run_list
        .iter()
        .map(|r| {
            vec![
                r.number.to_string(),
                places(r.melt_degc, 0, ""),
                places(r.wall_degc, 0, ""),
                places(r.fill_s, 2, ""),
                places(r.hold_mpa, 0, ""),
                places(r.hold_s, 1, ""),
                r.shots.clone(),
                r.expect.clone(),
            ]
        })
        .collect()
}
