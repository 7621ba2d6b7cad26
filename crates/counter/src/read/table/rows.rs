//! From one row of the file to one part.

use whirlwright_workshop::measuring::units::{Dimension, Unit};
use whirlwright_workshop::part::{Decimal, LotPart, Measure};

use super::caps;
use super::columns::{Column, Columns};
use super::draft::Draft;
use super::finding::{Finding, shortened};
use super::lot::{Reading, Row};
use super::number::{self, Mark};
use super::options::ReadOptions;
use super::raw::{RawCell, RawRow, Sort};
use super::words::Holds;

/// What holds for all rows of a file.
pub struct Reader<'a> {
    columns: &'a Columns,
    options: &'a ReadOptions,
    mark: Mark,
    /// The unit of the masses that the person insists on.
    mass_unit: Option<&'static Unit>,
    /// Texts of a text file may carry a `'` that keeps a spreadsheet from reckoning with them.
    text_file: bool,
}

impl<'a> Reader<'a> {
    /// A reader for the rows under these columns.
    pub fn new(
        columns: &'a Columns,
        options: &'a ReadOptions,
        mark: Mark,
        mass_unit: Option<&'static Unit>,
        text_file: bool,
    ) -> Self {
        Self {
            columns,
            options,
            mark,
            mass_unit,
            text_file,
        }
    }

    /// Reads one row.
    ///
    /// # Errors
    /// Everything that is wrong with it.
    pub fn row(&self, row: &RawRow<'_>) -> Result<(LotPart, Row), Vec<Finding>> {
        let width = self.columns.list.len();
        let extra = row
            .cells
            .iter()
            .skip(width)
            .any(|cell| !cell.trimmed().is_empty());
        if row.cells.len() < width || extra {
            return Err(vec![self.wrong_width(row)]);
        }
        let mut draft = Draft::new(row, self.options);
        for (at, (column, cell)) in self.columns.list.iter().zip(&row.cells).enumerate() {
            self.cell(&mut draft, at, column, cell);
        }
        draft.finish()
    }

    fn wrong_width(&self, row: &RawRow<'_>) -> Finding {
        let width = self.columns.list.len();
        let finding = Finding {
            line: Some(row.line),
            field: "row".to_owned(),
            read: format!("{} cells", row.cells.len()),
            expected: format!("{width} cells, as in the header"),
            source_line: shortened(&row.text),
            ..Finding::default()
        };
        if !row.closed && row.cells.len() < width {
            let read = format!(
                "half a row ({} cells) without a line end: the file is cut here",
                row.cells.len()
            );
            let advice = "Export or copy the file again".to_owned();
            return Finding {
                read,
                advice,
                ..finding
            };
        }
        let advice = if row.cells.len() > width {
            "A comma inside a cell (a decimal comma?) splits it: use ; or tabs, or put the cell in quotes"
        } else {
            "Write every cell, an empty one too"
        };
        Finding {
            advice: advice.to_owned(),
            ..finding
        }
    }

    fn cell(&self, draft: &mut Draft<'_>, at: usize, column: &Column, cell: &RawCell<'_>) {
        let note = matches!(column.holds, Holds::Note | Holds::Unknown);
        if matches!(column.holds, Holds::LeftOut) {
            return;
        }
        if !draft.fits(
            at,
            column,
            cell,
            if note {
                caps::NOTE_LETTERS
            } else {
                caps::ID_LETTERS
            },
        ) {
            return;
        }
        if cell.sort == Sort::Error && !note {
            draft.refuse(
                at,
                column,
                cell,
                "a value",
                "Mend the formula in the workbook",
            );
            return;
        }
        match &column.holds {
            Holds::Serial => draft.serial(at, column, cell),
            Holds::Number { measure, unit } => self.number(draft, at, column, cell, *measure, unit),
            Holds::Note | Holds::Unknown => {
                let text = if self.text_file {
                    unguarded(&cell.text)
                } else {
                    &cell.text
                };
                if !text.is_empty() {
                    draft.out.notes.push((column.word.clone(), text.to_owned()));
                }
            }
            holds => {
                let trimmed = cell.trimmed();
                let text = if self.text_file {
                    unguarded(trimmed)
                } else {
                    trimmed
                };
                draft.word(at, column, cell, holds, text);
            }
        }
    }

    fn number(
        &self,
        draft: &mut Draft<'_>,
        at: usize,
        column: &Column,
        cell: &RawCell<'_>,
        measure: Measure,
        stated: &'static Unit,
    ) {
        let text = cell.trimmed();
        let is_mass = measure == Measure::MassG;
        if text.is_empty() && (!is_mass || self.options.blank_as_not_weighed) {
            return;
        }
        if number::is_not_measured(text) {
            if !self.options.blank_as_not_weighed {
                let advice = "Weigh it; or say --blank-as-not-weighed to take it in without a mass";
                let read = if text.is_empty() {
                    "nothing".to_owned()
                } else {
                    text.to_owned()
                };
                draft.refuse_as(at, column, read, "a number", advice);
            }
            return;
        }
        if cell.sort == Sort::Date {
            draft.refuse(
                at,
                column,
                cell,
                "a number",
                "The workbook has made a date of it: set the cell to text and write it again",
            );
            return;
        }
        let unit = if is_mass {
            self.mass_unit.unwrap_or(stated)
        } else {
            stated
        };
        let value = match number::read(text, self.mark) {
            Ok(value) => value,
            Err(expected) => {
                draft.refuse(
                    at,
                    column,
                    cell,
                    &expected,
                    "Read the scale again and write it",
                );
                return;
            }
        };
        match (unit.to_base(value), refused_size(measure, value)) {
            (Some(base), None) => {
                measure.set(&mut draft.part, base);
                let (text, unit) = (text.to_owned(), unit_word(measure, unit));
                let reading = Reading {
                    quantity: measure.key(),
                    text,
                    unit,
                    value: base,
                    instrument: None,
                };
                draft.out.readings.push(reading);
            }
            (_, Some((what, expected))) => {
                let read = format!("{what}: {text}");
                draft.refuse_as(
                    at,
                    column,
                    read,
                    expected,
                    "Read the scale again and write it",
                );
            }
            (None, _) => draft.refuse(
                at,
                column,
                cell,
                "fewer digits",
                "Write what the scale shows",
            ),
        }
    }
}

/// How the unit is written in the record: `g·mm` where the key says `g_mm`.
fn unit_word(measure: Measure, unit: &Unit) -> String {
    match measure {
        Measure::UnbalanceGMm => unit.name().replace('_', "·"),
        _ => unit.name().to_owned(),
    }
}

/// What cannot be, whatever the part.
fn refused_size(measure: Measure, value: Decimal) -> Option<(&'static str, &'static str)> {
    match measure {
        Measure::MassG if value.units < 0 => Some(("negative mass", "a mass above 0")),
        Measure::MassG if value.units == 0 => Some(("a mass of zero", "a mass above 0")),
        Measure::FitMm if value.units <= 0 => {
            Some(("a diameter of zero or less", "a diameter above 0"))
        }
        Measure::UnbalanceGMm if value.units < 0 => Some((
            "negative unbalance",
            "a size of 0 or more, the direction in unbalance_angle_deg",
        )),
        _ => None,
    }
}

/// The unit a person insists on for masses.
///
/// # Errors
/// A unit that is none of mass.
pub fn insisted_unit(options: &ReadOptions) -> Result<Option<&'static Unit>, Box<Finding>> {
    let Some(word) = &options.mass_unit else {
        return Ok(None);
    };
    let names: Vec<&str> = Dimension::Mass.units().map(Unit::name).collect();
    let found = Dimension::Mass.unit(word);
    found.map(Some).ok_or_else(|| {
        Box::new(Finding {
            field: "--unit".to_owned(),
            read: shortened(word),
            expected: format!("one of {}", names.join(", ")),
            advice: "Say the unit of the masses in the file".to_owned(),
            ..Finding::default()
        })
    })
}

/// A text without the `'` that [`super::write`] puts before what a spreadsheet would reckon with.
fn unguarded(text: &str) -> &str {
    match text.strip_prefix('\'') {
        Some(rest) if super::write::is_formula_like(rest) => rest,
        _ => text,
    }
}
