//! The press fit on paper: fields, numbers, its life, its conditions.

use whirlwright_workshop::fitting::FitBody;
use whirlwright_workshop::part::Answer;

use super::head::Head;
use super::layout::Layout;
use super::table::{self, Column, Plan};
use crate::ink::pdf::PaperError;
use crate::picture::{fields_drawing, over_temperature_drawing, over_time_drawing};
use crate::text::fit::{cells, condition_lines, whole};
use crate::words::STANDING_LINE;

/// The fit sheet as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn fit_sheet(answer: &Answer<FitBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Fit");
    let body = &answer.body;
    layout.verdict(answer);
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    layout.picture(&fields_drawing(body));
    for (label, value) in whole(body) {
        layout.row(&label, &value);
    }
    layout.heading("Conditions, the one that decides first");
    for line in condition_lines(body) {
        layout.paragraph(&line);
    }
    layout.heading("Over its life");
    let columns = [
        Column::words("moment"),
        Column::numbers("°C"),
        Column::numbers("interference, µm"),
        Column::numbers("pressure, MPa"),
        Column::numbers("ring, MPa"),
        Column::numbers("body, MPa"),
        Column::numbers("torque, N·mm"),
    ];
    let plan = Plan {
        columns: &columns,
        row: 19.0,
        tick: false,
        boxed: None,
    };
    let rows: Vec<_> = body.states.iter().map(cells).collect();
    table::write(&mut layout, &plan, &rows);
    layout.y += 10.0;
    layout.picture(&over_temperature_drawing(body));
    layout.picture(&over_time_drawing(body));
    layout.trust(&answer.trust);
    layout.aside(STANDING_LINE);
    layout.finish()
}
