//! One row being read: what is taken so far, and everything that is wrong with it.

use whirlwright_workshop::part::{LotPart, Measure};

use super::columns::Column;
use super::finding::{Finding, shortened};
use super::lot::Row;
use super::options::ReadOptions;
use super::raw::{RawCell, RawRow, Sort};
use super::words::Holds;

/// One row being read.
pub(super) struct Draft<'a> {
    row: &'a RawRow<'a>,
    /// The part, as far as it is read.
    pub(super) part: LotPart,
    /// What stood in the row.
    pub(super) out: Row,
    scale: Option<String>,
    place: Option<String>,
    findings: Vec<Finding>,
}

impl<'a> Draft<'a> {
    /// Before the first cell.
    pub(super) fn new(row: &'a RawRow<'a>, options: &ReadOptions) -> Self {
        let out = Row {
            line: row.line,
            raw_text: row.text.clone().into_owned(),
            readings: Vec::new(),
            weighed_at: None,
            time_doubt: None,
            operator: None,
            notes: Vec::new(),
        };
        let part = LotPart::new("", options.kind);
        Self {
            row,
            part,
            out,
            scale: None,
            place: None,
            findings: Vec::new(),
        }
    }

    /// Notes that a cell cannot be taken, with its text as what was read.
    pub(super) fn refuse(
        &mut self,
        at: usize,
        column: &Column,
        cell: &RawCell<'_>,
        expected: &str,
        advice: &str,
    ) {
        self.refuse_as(at, column, shortened(cell.trimmed()), expected, advice);
    }

    /// Notes that a cell cannot be taken.
    pub(super) fn refuse_as(
        &mut self,
        at: usize,
        column: &Column,
        read: String,
        expected: &str,
        advice: &str,
    ) {
        self.findings.push(Finding {
            line: Some(self.row.line),
            column: Some(at + 1),
            field: shortened(&column.word),
            read,
            expected: expected.to_owned(),
            advice: advice.to_owned(),
            source_line: shortened(&self.row.text),
        });
    }

    /// Whether a cell is short enough; notes it if not.
    pub(super) fn fits(
        &mut self,
        at: usize,
        column: &Column,
        cell: &RawCell<'_>,
        most: usize,
    ) -> bool {
        // Letters are at most as many as bytes: counting is for the rare long cell.
        if cell.text.len() <= most {
            return true;
        }
        let letters = cell.text.chars().count();
        if letters <= most {
            return true;
        }
        let head: String = cell.text.chars().take(12).collect();
        let read =
            format!("{letters} characters, beginning {head}…: longer than {most} characters");
        self.refuse_as(
            at,
            column,
            read,
            &format!("at most {most} characters"),
            "Write less",
        );
        false
    }

    /// Takes the serial.
    pub(super) fn serial(&mut self, at: usize, column: &Column, cell: &RawCell<'_>) {
        let text = cell.trimmed();
        let allowed = |letter: char| letter.is_alphanumeric() || letter == '-' || letter == '_';
        let expected = "a serial of letters, digits, - and _, beginning with a letter or a digit";
        if matches!(cell.sort, Sort::Number | Sort::Date) {
            let advice = "The workbook has made a number or a date of it, and zeros or letters may be \
                          lost: set the cell to text and write the serial again";
            let what = if cell.sort == Sort::Date {
                "a date"
            } else {
                "a number"
            };
            self.refuse_as(
                at,
                column,
                format!("{what}: {text}"),
                "a serial as text",
                advice,
            );
        } else if text.is_empty() {
            self.refuse_as(
                at,
                column,
                "nothing".to_owned(),
                expected,
                "Write the serial",
            );
        } else if super::write::is_formula_like(text) {
            let read = format!("{}, which a spreadsheet would reckon with", shortened(text));
            self.refuse_as(
                at,
                column,
                read,
                expected,
                "Write the serial as it stands on the part",
            );
        } else if !text.chars().all(allowed) {
            self.refuse(
                at,
                column,
                cell,
                expected,
                "Write the serial as it stands on the part",
            );
        } else {
            text.clone_into(&mut self.part.serial);
        }
    }

    /// Takes a word: an origin, a tray, a name.
    pub(super) fn word(
        &mut self,
        at: usize,
        column: &Column,
        cell: &RawCell<'_>,
        holds: &Holds,
        text: &str,
    ) {
        if text.is_empty() {
            return;
        }
        if text.chars().any(char::is_control) {
            self.refuse(
                at,
                column,
                cell,
                "one line of text",
                "Take the line break out",
            );
            return;
        }
        let text = Some(text.to_owned());
        match holds {
            Holds::Origin => self.part.origin = text,
            Holds::Colour => self.part.colour = text,
            Holds::Tray => self.part.tray = text,
            Holds::Place => self.place = text,
            Holds::WeighedAt => self.out.weighed_at = text,
            Holds::Operator => self.out.operator = text,
            Holds::Scale => self.scale = text,
            _ => {}
        }
    }

    /// The part and its row, or everything that is wrong with them.
    pub(super) fn finish(mut self) -> Result<(LotPart, Row), Vec<Finding>> {
        if !self.findings.is_empty() {
            return Err(self.findings);
        }
        self.part.tray = match (self.part.tray.take(), self.place) {
            (Some(tray), Some(place)) => Some(format!("{tray}/{place}")),
            (tray, place) => tray.or(place),
        };
        // The scale weighs; what the other numbers were read with the file does not say.
        let masses = self
            .out
            .readings
            .iter_mut()
            .filter(|read| read.quantity == Measure::MassG.key());
        for reading in masses {
            reading.instrument.clone_from(&self.scale);
        }
        Ok((self.part, self.out))
    }
}
