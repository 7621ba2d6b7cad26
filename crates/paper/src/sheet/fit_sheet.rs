//! The press fit on paper: fields, numbers, its life, its conditions.

use whirlwright_workshop::fitting::{FitBody, SectionFitBody, StressPicture};
use whirlwright_workshop::part::Answer;

use super::head::Head;
use super::layout::Layout;
use super::table::{self, Column, Plan};
use crate::ink::pdf::PaperError;
use crate::picture::{fields_drawing, over_temperature_drawing, over_time_drawing, stress_drawing};
use crate::text::fit::{cells, condition_lines, life_heading, whole};
use crate::text::fit_section;
use crate::words::STANDING_LINE;

/// The fit sheet as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn fit_sheet(
    answer: &Answer<FitBody>,
    stress: Option<&StressPicture>,
    head: &Head,
) -> Result<Vec<u8>, PaperError> {
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
    if let Some(section) = &body.section {
        as_drawn(&mut layout, section, stress);
    }
    layout.heading(&life_heading(body));
    let columns = [
        Column::words("moment"),
        Column::numbers("°C"),
        Column::numbers("µm left"),
        Column::numbers("pressure, MPa"),
        Column::numbers("ring, MPa"),
        Column::numbers("body, MPa"),
        Column::numbers("torque, N·mm"),
    ];
    let rows: Vec<_> = body.states.iter().map(cells).collect();
    rows_of(&mut layout, &columns, &rows);
    layout.pictures(&[over_temperature_drawing(body), over_time_drawing(body)]);
    layout.trust(&answer.trust);
    layout.aside(STANDING_LINE);
    layout.finish()
}

/// The sections as they are drawn: numbers, the two bounds of friction, the stress.
fn as_drawn(layout: &mut Layout<'_>, section: &SectionFitBody, stress: Option<&StressPicture>) {
    layout.heading(&fit_section::heading(section));
    for (label, value) in fit_section::whole(section) {
        layout.row(&label, &value);
    }
    let [usual, slip, stick] = fit_section::BOUNDS;
    let columns = [
        Column::words(usual),
        Column::numbers(slip),
        Column::numbers(stick),
    ];
    rows_of(layout, &columns, &fit_section::bounds(section));
    if let Some(field) = stress {
        layout.picture(&stress_drawing(section, field));
    }
}

fn rows_of(layout: &mut Layout<'_>, columns: &[Column], rows: &[Vec<String>]) {
    let plan = Plan {
        columns,
        row: 19.0,
        tick: false,
        boxed: None,
    };
    table::write(layout, &plan, rows);
    layout.y += 10.0;
}
