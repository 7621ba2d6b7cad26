//! From the raw table to the parts of a lot: everything or nothing.

use serde::Serialize;
use whirlwright_workshop::measuring::units::Unit;
use whirlwright_workshop::part::{Decimal, Kind, LotPart};

use super::columns::{self, Columns};
use super::finding::{FileRefusal, Finding};
use super::gathered::Gathered;
use super::number::{self, Mark};
use super::options::ReadOptions;
use super::raw::RawTable;
use super::rows::{Reader, insisted_unit};
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
