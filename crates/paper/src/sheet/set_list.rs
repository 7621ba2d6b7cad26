//! The list of sets: what belongs together, and room for the mass after pressing.

use whirlwright_workshop::pairing::{PairBody, PairSet};
use whirlwright_workshop::part::Answer;

use super::head::Head;
use super::layout::Layout;
use super::pick_columns::SET;
use super::table::{self, Column, Plan};
use crate::ink::pdf::PaperError;
use crate::rounding;

/// The list of sets, in their order, with a box for the mass of the finished piece.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn set_list(answer: &Answer<PairBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Sets");
    layout.verdict(answer);
    let sets = &answer.body.sets;
    if sets.is_empty() {
        layout.paragraph("There is no set.");
        return layout.finish();
    }
    layout.aside(
        "Tick a set when its parts are together. Weigh the two sides of every set once more after \
         pressing: it is the cheapest insurance there is.",
    );
    table::write(&mut layout, &plan(sets), &rows(sets));
    layout.finish()
}

const COLUMNS: [Column; 8] = [
    Column::numbers("set").large(SET),
    Column::words("left"),
    Column::words("right"),
    Column::numbers("mark"),
    Column::numbers("turn, °"),
    Column::numbers("difference, g"),
    Column::numbers("two sides, g"),
    Column::words("weighed, g"),
];

fn plan(sets: &[PairSet]) -> Plan<'static> {
    let two_lines = sets.iter().any(|set| set.left.contains('+'));
    let row = if two_lines { 34.0 } else { 24.0 };
    Plan {
        columns: &COLUMNS,
        row,
        tick: true,
        boxed: Some((COLUMNS.len() - 1, 62.0)),
    }
}

fn rows(sets: &[PairSet]) -> Vec<Vec<String>> {
    let masses = sets
        .iter()
        .flat_map(|s| [s.mass_difference_g, s.piece_mass_g])
        .flatten();
    let figures = rounding::shared_places(masses, 4);
    let mass = |value: Option<f64>| {
        value
            .map(|v| rounding::number(v, figures))
            .unwrap_or_default()
    };
    let row = |set: &PairSet| {
        // The advised setting stands first; a keyed joint is set by its mark alone.
        let turn = set.clocking.first().filter(|_| set.clock_mark.is_none());
        vec![
            set.number.to_string(),
            set.left.replace('+', "\n"),
            set.right.replace('+', "\n"),
            set.clock_mark
                .map(|mark| mark.to_string())
                .unwrap_or_default(),
            turn.map(|option| rounding::number(option.turn_deg, 0))
                .unwrap_or_default(),
            mass(set.mass_difference_g),
            mass(set.piece_mass_g),
        ]
    };
    sets.iter().map(row).collect()
}
