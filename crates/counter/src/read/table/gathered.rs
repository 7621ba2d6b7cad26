//! All rows together: serials that stand twice, readings that cannot be believed, times that go
//! back; and the verdict, everything or nothing.

use std::collections::hash_map::Entry;
use std::collections::{BTreeMap, HashMap};

use whirlwright_workshop::measuring::{NumberColumn, Slip, Weight, look_for_slips};
use whirlwright_workshop::part::{Decimal, LotPart, Measure};

use super::columns::Columns;
use super::finding::{FileRefusal, Finding, Findings, shortened};
use super::lot::{LotFile, Row};
use super::number::{self, Mark};
use super::options::ReadOptions;
use super::raw::RawTable;
use super::times::Clock;
use super::words::Holds;

/// What has been read so far: good rows on one side, what is wrong on the other.
#[derive(Default)]
pub(super) struct Gathered {
    /// The parts that could be read.
    pub(super) parts: Vec<LotPart>,
    /// Their rows.
    pub(super) rows: Vec<Row>,
    /// What refuses a row or the file.
    pub(super) findings: Findings,
    flags: Vec<Finding>,
}

impl Gathered {
    /// Takes the rows out whose places are named, which stand in the findings already.
    fn drop_rows(&mut self, mut bad: Vec<usize>) {
        bad.sort_unstable();
        bad.dedup();
        let keep = |at: usize| bad.binary_search(&at).is_err();
        let mut at = 0..;
        self.parts.retain(|_| at.next().is_some_and(keep));
        let mut at = 0..;
        self.rows.retain(|_| at.next().is_some_and(keep));
    }

    fn finding_at(&self, at: usize, field: &str) -> Finding {
        let row = self.rows.get(at);
        Finding {
            line: row.map(|row| row.line),
            field: field.to_owned(),
            source_line: row.map_or(String::new(), |row| shortened(&row.raw_text)),
            ..Finding::default()
        }
    }

    /// Refuses every row whose serial stands in more than one row.
    pub(super) fn duplicates(&mut self) {
        let mut first: HashMap<&str, usize> = HashMap::with_capacity(self.parts.len());
        // By the row that had the serial first, so that the findings stand as the file does.
        let mut again: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (at, part) in self.parts.iter().enumerate() {
            match first.entry(part.serial.as_str()) {
                Entry::Vacant(place) => _ = place.insert(at),
                Entry::Occupied(place) => {
                    again
                        .entry(*place.get())
                        .or_insert_with(|| vec![*place.get()])
                        .push(at);
                }
            }
        }
        let mut bad = Vec::new();
        for places in again.into_values() {
            let serial = places.first().and_then(|at| self.parts.get(*at));
            let serial = serial.map_or(String::new(), |part| part.serial.clone());
            let lines: Vec<String> = places
                .iter()
                .filter_map(|at| self.rows.get(*at).map(|row| row.line.to_string()))
                .collect();
            let lines = lines.join(" and ");
            for at in &places {
                let finding = Finding {
                    read: format!("serial {serial} twice in the file, in lines {lines}"),
                    expected: "every serial once".to_owned(),
                    advice: "One label is wrong, or the part was weighed twice: keep one row"
                        .to_owned(),
                    ..self.finding_at(*at, "serial")
                };
                self.findings.push(finding);
            }
            bad.extend(places);
        }
        self.drop_rows(bad);
    }

    /// Asks the measuring station what of the good rows can be believed.
    pub(super) fn slips(
        &mut self,
        table: &RawTable<'_>,
        columns: &Columns,
        mark: Mark,
        options: &ReadOptions,
    ) {
        let others = number_columns(table, columns, mark);
        let slips = look_for_slips(&self.parts, &options.windows, &others);
        let mut bad = Vec::new();
        for slip in slips {
            let finding = self.in_words(columns, &slip);
            match (slip.weight, slip.part) {
                (Weight::Refuse, at) => {
                    bad.extend(at);
                    self.findings.push(finding);
                }
                (Weight::Doubt, Some(at)) => {
                    if let Some(part) = self.parts.get_mut(at) {
                        part.doubts.push(slip.advice);
                    }
                    self.flags.push(finding);
                }
                (Weight::Doubt, None) => self.flags.push(finding),
            }
        }
        self.drop_rows(bad);
    }

    fn in_words(&self, columns: &Columns, slip: &Slip) -> Finding {
        let holds = |holds: &Holds| match holds {
            Holds::Number { measure, .. } => measure.key() == slip.quantity,
            Holds::Origin => slip.quantity == "origin",
            _ => false,
        };
        let place = columns.list.iter().position(|column| holds(&column.holds));
        let word = place
            .and_then(|place| columns.list.get(place))
            .map(|column| &column.word);
        let field = word.map_or(slip.quantity.as_str(), String::as_str);
        let base = match slip.part {
            Some(at) => self.finding_at(at, field),
            None => Finding {
                field: field.to_owned(),
                ..Finding::default()
            },
        };
        Finding {
            column: place.map(|place| place + 1),
            read: slip.read.clone(),
            expected: slip.expected.clone(),
            advice: slip.advice.clone(),
            ..base
        }
    }

    /// Doubts the times; the order of the rows stands.
    pub(super) fn times(&mut self, options: &ReadOptions) {
        /// More are counted in one line: a file sorted by serial goes back in every other row.
        const FLAGGED: usize = 10;
        let mut clock = Clock::new(options.now);
        let mut doubted = Vec::new();
        for (at, row) in self.rows.iter_mut().enumerate() {
            let Some(text) = &row.weighed_at else {
                continue;
            };
            row.time_doubt = clock.doubt(text);
            if row.time_doubt.is_some() {
                doubted.push(at);
            }
        }
        for at in doubted.iter().take(FLAGGED) {
            let Some(row) = self.rows.get(*at) else {
                continue;
            };
            let time = row.weighed_at.as_deref().unwrap_or_default();
            let why = row.time_doubt.as_deref().unwrap_or_default();
            let flag = Finding {
                read: format!("{time}; {why}"),
                expected: "times that go on and have been".to_owned(),
                advice:
                    "The reading is taken and its time doubted; order comes from the rows. Look \
                         at the clock of the scale"
                        .to_owned(),
                ..self.finding_at(*at, "weighed_at")
            };
            self.flags.push(flag);
        }
        if let Some(more) = doubted.len().checked_sub(FLAGGED).filter(|more| *more > 0) {
            self.flags.push(Finding {
                field: "weighed_at".to_owned(),
                read: format!("{more} more times that go back, lie ahead or cannot be read"),
                expected: "times that go on and have been".to_owned(),
                advice: "Order comes from the rows".to_owned(),
                ..Finding::default()
            });
        }
    }

    /// The lot, or the refusal.
    pub(super) fn into_lot(
        self,
        file: &str,
        options: &ReadOptions,
        remarks: Vec<String>,
    ) -> Result<LotFile, FileRefusal> {
        let whole_file = self
            .findings
            .list()
            .iter()
            .any(|finding| finding.line.is_none());
        let refused = self.findings.into_list();
        let leave_out = options.skip_refused && !whole_file && !self.parts.is_empty();
        if !refused.is_empty() && !leave_out {
            let good_rows = if whole_file { 0 } else { self.parts.len() };
            return Err(FileRefusal {
                file: file.to_owned(),
                findings: refused,
                good_rows,
            });
        }
        Ok(LotFile {
            file: file.to_owned(),
            kind: options.kind,
            parts: self.parts,
            rows: self.rows,
            remarks,
            flags: self.flags,
            refused,
        })
    }
}

/// The measured columns other than the mass, as numbers with a fraction: candidates for a swap.
fn number_columns(table: &RawTable<'_>, columns: &Columns, mark: Mark) -> Vec<NumberColumn> {
    let mut found = Vec::new();
    for (at, column) in columns.list.iter().enumerate() {
        let mass = matches!(
            column.holds,
            Holds::Number {
                measure: Measure::MassG,
                ..
            }
        );
        let number = matches!(
            column.holds,
            Holds::Number { .. } | Holds::Note | Holds::Unknown
        );
        if mass || !number {
            continue;
        }
        let rows = table.rows.iter().skip(columns.header_rows);
        let texts = rows.filter_map(|row| row.cells.get(at));
        let values: Vec<Decimal> = texts
            .filter_map(|cell| number::read(cell.trimmed(), mark).ok())
            .collect();
        // Whole numbers count something (shots, places); a scale or a gauge shows fractions.
        if values.iter().any(|value| value.places > 0) {
            found.push(NumberColumn {
                name: column.word.clone(),
                column: at + 1,
                values,
            });
        }
    }
    found
}
