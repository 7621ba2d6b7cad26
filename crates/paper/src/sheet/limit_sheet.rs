//! The permissible unbalance on paper: the limit in sizes of the bench, and who uses it up.

use whirlwright_workshop::balance::LimitBody;
use whirlwright_workshop::part::Answer;

use super::head::Head;
use super::layout::{Layout, TEXT};
use super::table::{self, Column, Plan};
use crate::ink::pdf::PaperError;
use crate::picture::budget_drawing;
use crate::{rounding, words};

/// The sheet of a limit as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn limit_sheet(answer: &Answer<LimitBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Balance limit");
    let body = &answer.body;
    layout.verdict(answer);
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    layout.heading("The limit in sizes of the bench");
    for (label, value) in sizes(body) {
        layout.row(label, &value);
    }
    layout.pictures(&[budget_drawing(body)]);
    budget(&mut layout, body);
    layout.heading("The design");
    layout.paragraph(&body.design.words);
    grades(&mut layout, body);
    layout.trust(&answer.trust);
    layout.y += TEXT;
    layout.aside(words::STANDING_LINE);
    layout.finish()
}

fn sizes(body: &LimitBody) -> Vec<(&'static str, String)> {
    let sizes = &body.sizes;
    let micron = |value: f64| rounding::figures(value, 3, "µm");
    let gram = |value: f64| rounding::figures(value, 2, "g");
    let radius = rounding::places(sizes.rim_radius_mm, 1, "mm");
    let mut rows = vec![
        ("whole piece", rounding::figures(body.limit_g_mm, 3, "g·mm")),
        (
            "at the rim",
            format!("{} at one place, {radius} out", gram(sizes.rim_mass_g)),
        ),
        (
            "at the seat",
            format!("{} off centre", micron(sizes.seat_um)),
        ),
    ];
    if let Some(wobble) = sizes.wobble_um {
        rows.push((
            "rim wobble",
            format!("{}, if all of it is couple", micron(wobble)),
        ));
    }
    for plane in &body.planes {
        let share = rounding::figures(plane.limit_g_mm, 3, "g·mm");
        rows.push((
            "plane",
            format!(
                "{}: {share}, {} at the rim",
                plane.name,
                gram(plane.rim_mass_g)
            ),
        ));
    }
    rows
}

fn budget(layout: &mut Layout<'_>, body: &LimitBody) {
    if body.budget.is_empty() {
        return;
    }
    layout.heading("Errors of the drawing");
    let columns = [
        Column::words("error"),
        Column::words("side"),
        Column::words("tolerance"),
        Column::numbers("static, g·mm"),
        Column::numbers("of limit, %"),
        Column::numbers("couple, g·mm²"),
    ];
    let rows: Vec<Vec<String>> = body
        .budget
        .iter()
        .map(|line| {
            vec![
                line.name.clone(),
                line.side.word().to_owned(),
                line.tolerance_said.clone(),
                rounding::number(line.static_g_mm, 3),
                rounding::number(line.limit_share * 100.0, 0),
                rounding::number(line.couple_g_mm2, 2),
            ]
        })
        .collect();
    table::write(layout, &plan(&columns), &rows);
}

fn grades(layout: &mut Layout<'_>, body: &LimitBody) {
    layout.heading("What every grade would allow at this speed");
    let columns = [
        Column::words("grade").large(12.0),
        Column::numbers("limit, g·mm"),
        Column::numbers("seat, µm"),
        Column::words("the table names"),
    ];
    let rows: Vec<Vec<String>> = body
        .grades
        .iter()
        .map(|line| {
            vec![
                line.name.clone(),
                rounding::figures(line.limit_g_mm, 3, ""),
                rounding::figures(line.permissible_um, 3, ""),
                line.examples.clone(),
            ]
        })
        .collect();
    table::write(layout, &plan(&columns), &rows);
}

fn plan<'a>(columns: &'a [Column]) -> Plan<'a> {
    Plan {
        columns,
        row: 19.0,
        tick: false,
        boxed: None,
    }
}
