//! From the raw table to the parts of a lot: everything or nothing.

use std::collections::hash_map::Entry;
use std::collections::{BTreeMap, HashMap};

use serde::Serialize;
use whirlwright_workshop::measuring::units::Unit;
use whirlwright_workshop::measuring::{NumberColumn, Slip, Weight, look_for_slips};
use whirlwright_workshop::part::{Decimal, Kind, LotPart, Measure};

use super::columns::{self, Columns};
use super::finding::{FileRefusal, Finding, Findings, shortened};
use super::number::{self, Mark};
use super::options::ReadOptions;
use super::raw::RawTable;
use super::rows::{Reader, insisted_unit};
use super::times::Clock;
use super::words::Holds;
use super::{caps, delimited, encoding, sheet};

/// A file of parts that was taken.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LotFile {
    /// Name of the file as it was handed in.
    pub file: String,
    /// What kind of parts.
    pub kind: Kind,
    /// The parts, in the order of the file.
    pub parts: Vec<LotPart>,
    /// What stood in the file, one entry a part, in the same order.
    pub rows: Vec<Row>,
    /// How the file was understood: separator, encoding, decimal mark, columns kept as notes.
    pub remarks: Vec<String>,
    /// Doubts a person should look at; the parts are taken.
    pub flags: Vec<Finding>,
    /// Rows left out because the person said `--skip-refused`.
    pub refused: Vec<Finding>,
}

/// One row as it stood in the file.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Row {
    /// Line of the file, the header being line 1; in a workbook the row.
    pub line: usize,
    /// The row as it stood, cells joined by tabs for a workbook.
    pub raw_text: String,
    /// The numbers as read, in the order of the columns.
    pub readings: Vec<Reading>,
    /// When it was weighed, as written.
    pub weighed_at: Option<String>,
    /// Why the time is doubted, in words.
    pub time_doubt: Option<String>,
    /// Who weighed it.
    pub operator: Option<String>,
    /// Columns kept as they are: header word and text.
    pub notes: Vec<(String, String)>,
}

/// One number as it was read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Reading {
    /// Which number, by its key, which carries the unit of `value`: `mass_g`, `fit_mm` …
    pub quantity: &'static str,
    /// The text in the file.
    pub text: String,
    /// The unit of that text, as the header says.
    pub unit: String,
    /// The number in the unit of the key.
    pub value: Decimal,
    /// Which scale or gauge.
    pub instrument: Option<String>,
}

/// Reads a file of parts: everything in it, or nothing and everything that is wrong with it.
///
/// Text (CSV) or XLSX, told apart by its first bytes. Nothing is guessed that a person could have
/// meant otherwise: separator, encoding and decimal mark are found and said in the remarks.
///
/// # Errors
/// [`FileRefusal`] with every finding at once; no row of a refused file is handed on. With
/// [`ReadOptions::skip_refused`] refused rows are left out and listed, but what is wrong with the
/// whole file (header, unit, swapped columns) still refuses it.
pub fn read_lot(file: &str, bytes: &[u8], options: &ReadOptions) -> Result<LotFile, FileRefusal> {
    let refusal = |findings, good_rows| FileRefusal {
        file: file.to_owned(),
        findings,
        good_rows,
    };
    let decoded = raw_text(bytes).map_err(|finding| refusal(vec![*finding], 0))?;
    let mut table = match &decoded {
        Source::Text(decoded) => {
            let mut table =
                delimited::split(&decoded.text).map_err(|finding| refusal(vec![*finding], 0))?;
            table
                .remarks
                .insert(0, format!("encoding: {}", decoded.remark));
            table
        }
        Source::Workbook => sheet::read(bytes).map_err(|finding| refusal(vec![*finding], 0))?,
    };
    let columns = columns::find(&table, options).map_err(|findings| refusal(findings, 0))?;
    let before = understand(&mut table, &columns, options);
    let (mark, mass_unit) = before.map_err(|findings| refusal(findings, 0))?;
    let reader = Reader::new(
        &columns,
        options,
        mark,
        mass_unit,
        table.separator.is_some(),
    );
    let mut read = read_rows(&table, &columns, &reader);
    read.duplicates();
    read.slips(&table, &columns, mark, options);
    read.times(options);
    let remarks = [table.remarks, columns.remarks].concat();
    read.into_lot(file, options, remarks)
}

enum Source {
    Text(encoding::Decoded),
    Workbook,
}

fn raw_text(bytes: &[u8]) -> Result<Source, Box<Finding>> {
    /// The first bytes of a zip archive, which an XLSX workbook is.
    const ZIP: &[u8] = b"PK\x03\x04";
    /// The first bytes of the older compound files (`.xls`).
    const COMPOUND: &[u8] = b"\xd0\xcf\x11\xe0";
    if bytes.is_empty() {
        return Err(Box::new(encoding::empty("an empty file (0 bytes)")));
    }
    if bytes.len() > caps::FILE_BYTES {
        return Err(Box::new(Finding {
            field: "file".to_owned(),
            read: format!("{} bytes", bytes.len()),
            expected: format!("at most {} bytes (20 MB)", caps::FILE_BYTES),
            advice: "Cut the file into lots".to_owned(),
            ..Finding::default()
        }));
    }
    if bytes.starts_with(ZIP) {
        return Ok(Source::Workbook);
    }
    if bytes.starts_with(COMPOUND) {
        return Err(Box::new(Finding {
            field: "file".to_owned(),
            read: "not text: a workbook of the older kind (.xls)".to_owned(),
            expected: "XLSX or CSV".to_owned(),
            advice: "Save it as .xlsx or as CSV".to_owned(),
            ..Finding::default()
        }));
    }
    encoding::decode(bytes).map(Source::Text)
}

/// Decimal mark and unit, before the rows are read.
fn understand(
    table: &mut RawTable<'_>,
    columns: &Columns,
    options: &ReadOptions,
) -> Result<(Mark, Option<&'static Unit>), Vec<Finding>> {
    let rows = || table.rows.iter().skip(columns.header_rows);
    if rows().next().is_none() {
        return Err(vec![encoding::empty("a header and no parts")]);
    }
    let is_number = |holds: &Holds| matches!(holds, Holds::Number { .. });
    let texts = rows().flat_map(|row| {
        let cells = columns.list.iter().zip(&row.cells);
        let numbers = cells.filter(|(column, _)| is_number(&column.holds));
        numbers.map(|(_, cell)| (row.line, cell.trimmed()))
    });
    let mark = number::find_mark(texts, table.separator).map_err(|(read, expected)| {
        vec![Finding {
            field: "decimal mark".to_owned(),
            read,
            expected,
            advice: "Export the file again with one decimal mark".to_owned(),
            ..Finding::default()
        }]
    })?;
    let unit = insisted_unit(options).map_err(|finding| vec![*finding])?;
    table.remarks.push(format!("numbers: {}", mark.word()));
    if let Some(unit) = unit {
        let (name, factor) = (unit.name(), unit.factor);
        table.remarks.push(format!(
            "masses taken as {name}, as said (--unit {name}): × {factor} g, rounded four digits \
             beyond those read; the text is kept"
        ));
    }
    Ok((mark, unit))
}

fn read_rows(table: &RawTable<'_>, columns: &Columns, reader: &Reader<'_>) -> Gathered {
    let mut gathered = Gathered::default();
    for row in table.rows.iter().skip(columns.header_rows) {
        match reader.row(row) {
            Ok((part, out)) => {
                gathered.parts.push(part);
                gathered.rows.push(out);
            }
            Err(findings) => gathered.findings.extend(findings),
        }
    }
    gathered
}

/// What has been read so far: good rows on one side, what is wrong on the other.
#[derive(Default)]
struct Gathered {
    parts: Vec<LotPart>,
    rows: Vec<Row>,
    findings: Findings,
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
    fn duplicates(&mut self) {
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
    fn slips(
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
    fn times(&mut self, options: &ReadOptions) {
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

    fn into_lot(
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
