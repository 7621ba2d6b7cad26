//! The rim as a turned part on paper: what each dimension does and may be off by.

use whirlwright_workshop::part::Answer;
use whirlwright_workshop::turning::RimBody;

use super::head::Head;
use super::layout::Layout;
use super::table::{self, Column, Plan};
use crate::ink::pdf::PaperError;
use crate::picture::rim_drawing;
use crate::text::rim::{doing, may, sums};

/// The rim sheet as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn rim_sheet(answer: &Answer<RimBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Rim");
    let body = &answer.body;
    layout.verdict(answer);
    layout.heading("What 0.01 mm more does");
    let columns = [
        Column::words("dimension"),
        Column::numbers("size, mm"),
        Column::numbers("mass, g"),
        Column::numbers("polar, g·mm²"),
        Column::numbers("centre, µm"),
        Column::numbers("run-out, g·mm"),
        Column::numbers("and g·mm²"),
    ];
    let rows: Vec<_> = body.dimensions.iter().map(doing).collect();
    write(&mut layout, &columns, &rows);
    layout.heading(&format!(
        "What each may be off, for ± {} g",
        body.mass_within_g
    ));
    let columns = [
        Column::words("dimension"),
        Column::numbers("worst, ± mm"),
        Column::words("grade"),
        Column::numbers("statistical, ± mm"),
        Column::words("grade"),
        Column::numbers("share, %"),
        Column::words("held"),
    ];
    let open = body.dimensions.iter().filter(|d| !d.datum);
    let rows: Vec<_> = open.map(may).collect();
    write(&mut layout, &columns, &rows);
    for (label, value) in sums(body) {
        layout.row(&label, &value);
    }
    layout.y += 10.0;
    layout.picture(&rim_drawing(body));
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    layout.trust(&answer.trust);
    layout.finish()
}

fn write(layout: &mut Layout<'_>, columns: &[Column], rows: &[Vec<String>]) {
    let plan = Plan {
        columns,
        row: 19.0,
        tick: false,
        boxed: None,
    };
    table::write(layout, &plan, rows);
    layout.y += 8.0;
}
