//! The design on paper: the cut, mass and inertia, piece by piece.

use whirlwright_workshop::design::SectionBody;
use whirlwright_workshop::part::Answer;

use super::head::Head;
use super::layout::Layout;
use super::table::{self, Column, Plan};
use crate::ink::pdf::PaperError;
use crate::picture::{cut_drawing, shares_drawing};
use crate::rounding;
use crate::text::{limit_lines, whole};

/// The section sheet as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn section_sheet(answer: &Answer<SectionBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Section");
    let body = &answer.body;
    layout.verdict(answer);
    layout.picture(&cut_drawing(body));
    layout.heading("The whole");
    for (label, value) in whole(body) {
        layout.row(&label, &value);
    }
    let limits = limit_lines(body);
    if !limits.is_empty() {
        layout.heading("Limits");
        for line in limits {
            layout.paragraph(&line);
        }
    }
    layout.heading("Pieces");
    pieces(&mut layout, body);
    layout.y += 10.0;
    layout.picture(&shares_drawing(body));
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    layout.trust(&answer.trust);
    layout.finish()
}

fn pieces(layout: &mut Layout<'_>, body: &SectionBody) {
    let columns = [
        Column::words("piece"),
        Column::words("side"),
        Column::numbers("mass, g").large(12.0),
        Column::numbers("volume, mm³"),
        Column::numbers("centre, mm"),
        Column::numbers("polar, g·mm²"),
        Column::numbers("transverse, g·mm²"),
    ];
    let plan = Plan {
        columns: &columns,
        row: 19.0,
        tick: false,
        boxed: None,
    };
    let rows: Vec<Vec<String>> = body
        .pieces
        .iter()
        .map(|piece| {
            vec![
                piece.name.clone(),
                piece.side.word().to_owned(),
                rounding::number(piece.mass_g, 3),
                rounding::number(piece.volume_mm3, 1),
                rounding::number(piece.centre_of_mass_mm, 3),
                rounding::number(piece.polar_inertia_g_mm2, 1),
                rounding::number(piece.transverse_inertia_g_mm2, 1),
            ]
        })
        .collect();
    table::write(layout, &plan, &rows);
}
