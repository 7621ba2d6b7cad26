//! Unbalance and correction on paper: what to do where, large; the plots; how far to trust it.

use whirlwright_workshop::balance::CorrectBody;
use whirlwright_workshop::part::Answer;

use super::head::Head;
use super::layout::{Layout, TEXT};
use super::table::{self, Column, Plan};
use crate::ink::pdf::PaperError;
use crate::picture::{
    BalanceView, balance_cut_drawing, balance_polar_drawing, balance_rim_drawings, numbered,
};
use crate::{rounding, words};

/// The sheet of a correction as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn balance_sheet(
    answer: &Answer<CorrectBody>,
    view: &BalanceView,
    head: &Head,
) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Balance");
    let body = &answer.body;
    layout.verdict(answer);
    // What can hurt somebody stands before what is to be done.
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    turns(&mut layout, body);
    list(&mut layout, body, view);
    if let Some(cut) = balance_cut_drawing(body, view) {
        layout.picture(&cut);
    }
    planes(&mut layout, body);
    layout.pictures(&balance_rim_drawings(body, view));
    layout.pictures(&[balance_polar_drawing(body, view)]);
    for doubt in &body.doubts {
        layout.paragraph(doubt);
    }
    layout.trust(&answer.trust);
    layout.y += TEXT;
    layout.aside(words::STANDING_LINE);
    layout.finish()
}

/// Turning parts against each other costs nothing, so it comes first.
fn turns(layout: &mut Layout<'_>, body: &CorrectBody) {
    let Some(clocking) = body.clocking.as_ref().filter(|c| !c.turns.is_empty()) else {
        return;
    };
    layout.heading("First: turn the parts");
    for turn in &clocking.turns {
        let mark = turn
            .mark_number
            .map(|mark| format!(" (mark {mark})"))
            .unwrap_or_default();
        let angle = rounding::number(turn.turn_deg, 0);
        let said = format!("turn by {angle}° on {}, the way it turns{mark}", turn.on);
        layout.row(&turn.part, &said);
    }
    layout.paragraph(&clocking.words);
}

/// The list for the bench: a box to tick, the place in large type.
fn list(layout: &mut Layout<'_>, body: &CorrectBody, view: &BalanceView) {
    let rows: Vec<Vec<String>> = numbered(body)
        .map(|(number, hole)| {
            let size = |value: Option<f64>, places| {
                value.map_or_else(String::new, |v| rounding::number(v, places))
            };
            vec![
                number.to_string(),
                hole.plane.clone(),
                rounding::number(hole.angle_deg, 1),
                hole.place_number.to_string(),
                size(hole.diameter_mm, 2),
                size(hole.depth_mm, 2),
                rounding::number(hole.at_radius_mm, 2),
                rounding::signed(hole.mass_g * 1000.0, 1),
            ]
        })
        .collect();
    if rows.is_empty() {
        return;
    }
    layout.heading("What to do where");
    let mark = view.mark.as_deref().unwrap_or("mark");
    layout.aside(&format!(
        "Angles from the {mark}, counted {}.",
        body.sense.word()
    ));
    let columns = [
        Column::numbers("number"),
        Column::words("plane").large(13.0),
        Column::numbers("angle, deg").large(15.0),
        Column::numbers("place"),
        Column::numbers("diameter, mm").large(13.0),
        Column::numbers("depth, mm").large(13.0),
        Column::numbers("radius, mm"),
        Column::numbers("mass, mg"),
    ];
    let plan = Plan {
        columns: &columns,
        row: 30.0,
        tick: true,
        boxed: None,
    };
    table::write(layout, &plan, &rows);
    layout.y += TEXT;
    for (number, hole) in numbered(body) {
        layout.aside(&format!("{number}: {}", hole.words));
    }
}

fn planes(layout: &mut Layout<'_>, body: &CorrectBody) {
    layout.heading("Planes");
    let columns = [
        Column::words("plane"),
        Column::numbers("found, g·mm"),
        Column::numbers("at, deg"),
        Column::numbers("± g·mm"),
        Column::numbers("limit, g·mm"),
        Column::numbers("put on, g").large(12.0),
        Column::numbers("at, deg"),
        Column::numbers("left, g·mm"),
    ];
    let plan = Plan {
        columns: &columns,
        row: 19.0,
        tick: false,
        boxed: None,
    };
    let some = |value: Option<f64>| value.map_or_else(String::new, |v| rounding::figures(v, 3, ""));
    let rows: Vec<Vec<String>> = body
        .planes
        .iter()
        .map(|plane| {
            vec![
                plane.name.clone(),
                rounding::figures(plane.now.mass_distance_g_mm, 3, ""),
                rounding::number(plane.now.angle_deg, 0),
                some(plane.uncertainty_g_mm),
                some(plane.limit_g_mm),
                rounding::figures(plane.correction_mass_g, 3, ""),
                rounding::number(plane.add_at_deg, 0),
                some(plane.residual.map(|left| left.mass_distance_g_mm)),
            ]
        })
        .collect();
    table::write(layout, &plan, &rows);
    layout.y += TEXT;
    for line in &body.acceptance {
        layout.paragraph(&line.words);
    }
}
