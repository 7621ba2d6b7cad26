//! A spin on paper: the forecast of a design, and what was measured of a piece.

use whirlwright_workshop::part::Answer;
use whirlwright_workshop::spin::SpinBody;

use super::head::Head;
use super::layout::Layout;
use super::table::{self, Column, Plan};
use crate::ink::Drawing;
use crate::ink::pdf::PaperError;
use crate::picture::spin::{levers_drawing, spin_drawings};
use crate::{rounding, words};

/// The forecast of a spin as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn spin_sheet(answer: &Answer<SpinBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Spin");
    layout.verdict(answer);
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    for picture in spin_drawings(&answer.body) {
        layout.picture(&picture);
    }
    layout.heading("The losses");
    losses(&mut layout, &answer.body);
    layout.y += 10.0;
    layout.picture(&levers_drawing(&answer.body));
    end(layout, answer)
}

/// What was measured of a spin, as PDF: its pictures, and its numbers as labels and values.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn spin_test_sheet<B>(
    answer: &Answer<B>,
    head: &Head,
    pictures: &[Drawing],
    rows: &[(String, String)],
) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Spin test");
    layout.verdict(answer);
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    for picture in pictures {
        layout.picture(picture);
    }
    if !rows.is_empty() {
        layout.heading("The numbers");
        for (label, value) in rows {
            layout.row(label, value);
        }
    }
    end(layout, answer)
}

/// What to do next, how far to trust it, and the line that stands on every sheet of this kind.
fn end<B>(mut layout: Layout<'_>, answer: &Answer<B>) -> Result<Vec<u8>, PaperError> {
    if !answer.next.is_empty() {
        layout.heading("Next");
        for (n, step) in answer.next.iter().enumerate() {
            layout.paragraph(&format!("{}. {}", n + 1, words::sentence(step)));
        }
    }
    layout.trust(&answer.trust);
    layout.aside(words::STANDING_LINE);
    layout.finish()
}

fn losses(layout: &mut Layout<'_>, body: &SpinBody) {
    let columns = [
        Column::words("loss"),
        Column::numbers("share, %").large(12.0),
        Column::numbers("energy, J"),
        Column::numbers("at the start, µN·m"),
        Column::numbers("at the end, µN·m"),
        Column::numbers("half gone adds, s"),
    ];
    let plan = Plan {
        columns: &columns,
        row: 19.0,
        tick: false,
        boxed: None,
    };
    let rows: Vec<Vec<String>> = body
        .losses
        .iter()
        .map(|loss| {
            vec![
                loss.name.clone(),
                rounding::number(100.0 * loss.share, 0),
                rounding::number(loss.energy_j, 2),
                rounding::number(loss.torque_at_start_un_m, 1),
                rounding::number(loss.torque_at_end_un_m, 1),
                rounding::signed(loss.half_gone_adds_s, 0),
            ]
        })
        .collect();
    table::write(layout, &plan, &rows);
}
