//! XLSX workbooks: looked into before they are unpacked, numbers as the sheet shows them.

use std::borrow::Cow;
use std::io::{Cursor, Read};

use calamine::{Data, DataRef, ExcelDateTime, Reader, SheetType, SheetVisible, Style, Xlsx};

use super::caps;
use super::finding::Finding;
use super::raw::{RawCell, RawRow, RawTable, Sort};

/// Reads the first sheet of a workbook that holds anything.
///
/// The archive's directory is added up before anything is unpacked, and every packed file is
/// unpacked once under the same cap, so that a directory that lies is found out.
///
/// # Errors
/// No XLSX; too large once unpacked; damaged; more rows, columns or cells than a lot can have.
pub fn read(bytes: &[u8]) -> Result<RawTable<'static>, Box<Finding>> {
    check_size(bytes)?;
    let mut book: Xlsx<_> = Xlsx::new(Cursor::new(bytes)).map_err(|error| damaged(&error))?;
    let names: Vec<String> = book
        .sheets_metadata()
        .iter()
        .filter(|sheet| sheet.typ == SheetType::WorkSheet && sheet.visible == SheetVisible::Visible)
        .map(|sheet| sheet.name.clone())
        .collect();
    let mut empty = 0;
    for name in &names {
        let rows = read_sheet(&mut book, name)?;
        if rows.is_empty() {
            empty += 1;
            continue;
        }
        let mut remarks = vec![format!("workbook: sheet `{name}`")];
        let others = names.len() - 1 - empty;
        if others > 0 {
            remarks.push(format!("{others} other sheets not read"));
        }
        return Ok(RawTable {
            rows,
            separator: None,
            remarks,
        });
    }
    Err(Box::new(super::encoding::empty(
        "a workbook without a visible row",
    )))
}

fn damaged(error: &dyn std::fmt::Display) -> Box<Finding> {
    Box::new(Finding {
        field: "file".to_owned(),
        read: format!("an archive that is no XLSX workbook, or a damaged one ({error})"),
        expected: "an XLSX workbook, or a table as text (CSV)".to_owned(),
        advice: "Save it again as .xlsx or as CSV".to_owned(),
        ..Finding::default()
    })
}

fn too_large(read: String) -> Box<Finding> {
    Box::new(Finding {
        field: "file".to_owned(),
        read,
        expected: format!(
            "at most {} bytes once unpacked (200 MB)",
            caps::UNPACKED_BYTES
        ),
        advice: "Keep only the table of the lot in the workbook, or export it as CSV".to_owned(),
        ..Finding::default()
    })
}

/// Adds up what the archive says it holds, then what it holds.
fn check_size(bytes: &[u8]) -> Result<(), Box<Finding>> {
    let mut archive = zip::ZipArchive::new(Cursor::new(bytes)).map_err(|error| damaged(&error))?;
    if archive.len() > caps::PACKED_FILES {
        return Err(too_large(format!("an archive of {} files", archive.len())));
    }
    let mut said = 0u64;
    for at in 0..archive.len() {
        let packed = archive.by_index_raw(at).map_err(|error| damaged(&error))?;
        said = said.saturating_add(packed.size());
    }
    if said > caps::UNPACKED_BYTES {
        return Err(too_large(format!(
            "{said} bytes once unpacked, as the archive says"
        )));
    }
    let mut left = caps::UNPACKED_BYTES;
    for at in 0..archive.len() {
        let packed = archive.by_index(at).map_err(|error| damaged(&error))?;
        let mut within = packed.take(left.saturating_add(1));
        let length =
            std::io::copy(&mut within, &mut std::io::sink()).map_err(|error| damaged(&error))?;
        left = left.checked_sub(length).ok_or_else(|| {
            too_large(format!(
                "more than {} bytes once unpacked",
                caps::UNPACKED_BYTES
            ))
        })?;
    }
    Ok(())
}

fn read_sheet(
    book: &mut Xlsx<Cursor<&[u8]>>,
    name: &str,
) -> Result<Vec<RawRow<'static>>, Box<Finding>> {
    let mut reader = book
        .worksheet_cells_reader(name)
        .map_err(|error| damaged(&error))?;
    let mut rows: Vec<RawRow<'static>> = Vec::new();
    let mut cells = 0;
    while let Some((cell, style)) = reader
        .next_cell_with_style_id()
        .map_err(|error| damaged(&error))?
    {
        let (row, column) = cell.get_position();
        let (line, column) = (row as usize + 1, column as usize);
        let value = match cell.get_value() {
            DataRef::Empty => continue,
            value => raw_cell(value, reader.styles().get(style)),
        };
        if value.trimmed().is_empty() {
            continue;
        }
        if column >= caps::COLUMNS {
            return Err(too_many(line, format!("a cell in column {}", column + 1)));
        }
        if rows.last().is_none_or(|last| last.line < line) {
            rows.push(RawRow {
                line,
                text: Cow::Borrowed(""),
                cells: Vec::new(),
                closed: true,
            });
        }
        let Some(last) = rows.last_mut().filter(|last| last.line == line) else {
            return Err(damaged(&"its rows are out of order"));
        };
        let before = last.cells.len();
        if last.cells.len() <= column {
            last.cells.resize(column + 1, RawCell::text(""));
        }
        cells += last.cells.len() - before;
        if let Some(place) = last.cells.get_mut(column) {
            *place = value;
        }
        if rows.len() > caps::ROWS + 1 || cells > caps::CELLS {
            return Err(too_many(line, format!("{} rows so far", rows.len())));
        }
    }
    square(&mut rows);
    Ok(rows)
}

/// A sheet leaves empty cells out: every row gets the width of the first.
fn square(rows: &mut [RawRow<'static>]) {
    let width = rows.first().map_or(0, |row| row.cells.len());
    for row in rows {
        if row.cells.len() < width {
            row.cells.resize(width, RawCell::text(""));
        }
        let texts: Vec<&str> = row.cells.iter().map(|cell| cell.text.as_ref()).collect();
        row.text = Cow::Owned(texts.join("\t"));
    }
}

fn too_many(line: usize, read: String) -> Box<Finding> {
    Box::new(Finding {
        line: Some(line),
        field: "file".to_owned(),
        read,
        expected: format!(
            "at most {} rows, {} columns and {} cells",
            caps::ROWS,
            caps::COLUMNS,
            caps::CELLS
        ),
        advice: "Keep only the table of the lot in the workbook".to_owned(),
        ..Finding::default()
    })
}

fn raw_cell(value: &DataRef<'_>, style: Option<&Style>) -> RawCell<'static> {
    let (text, sort) = match value {
        DataRef::Empty => (String::new(), Sort::Text),
        DataRef::String(text) => (text.clone(), Sort::Text),
        DataRef::SharedString(text) => ((*text).to_owned(), Sort::Text),
        DataRef::Int(number) => (number.to_string(), Sort::Number),
        DataRef::Float(number) => (shown(*number, style), Sort::Number),
        DataRef::Bool(yes) => (yes.to_string(), Sort::Text),
        DataRef::DateTime(time) => (time_text(time), Sort::Date),
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => (text.clone(), Sort::Date),
        DataRef::Error(error) => (Data::Error(error.clone()).to_string(), Sort::Error),
    };
    RawCell {
        text: Cow::Owned(text),
        sort,
    }
}

fn time_text(time: &ExcelDateTime) -> String {
    let (year, month, day, hour, minute, second, _) = time.to_ymd_hms_milli();
    format!("{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}")
}

/// The digits that stand in the cell, with the trailing zeros its number format shows.
///
/// A workbook keeps a 64-bit float: fifteen digits are what was typed, the rest is its noise.
fn shown(number: f64, style: Option<&Style>) -> String {
    let fifteen: f64 = format!("{number:.14e}").parse().unwrap_or(number);
    let plain = fifteen.to_string();
    let format = style.and_then(|style| style.number_format.as_ref());
    let code = format.map_or("General", |format| format.format_code.as_str());
    let places = places_shown(code);
    let digits = plain
        .split_once('.')
        .map_or(0, |(_, fraction)| fraction.len());
    let padded = if digits < places {
        format!("{fifteen:.places$}")
    } else {
        plain
    };
    // What is shown as a share is another number than the one in the cell.
    if code.contains('%') {
        padded + " (a share in %)"
    } else {
        padded
    }
}

/// Digits behind the point that a number format such as `0.00` always shows.
fn places_shown(code: &str) -> usize {
    let positive = code.split(';').next().unwrap_or_default();
    let behind = positive.split_once('.').map_or("", |(_, behind)| behind);
    behind.chars().take_while(|letter| *letter == '0').count()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_numbers_as_the_sheet_shows_them() {
        for (code, number, text) in [
            ("0.00", 10.7, "10.70"),
            ("0.00", 10.704, "10.704"),
            ("General", 10.7, "10.7"),
            ("General", 0.1 + 0.2, "0.3"),
            ("#,##0.000;[Red]-0.0", 1234.5, "1234.500"),
            ("0", -3.0, "-3"),
        ] {
            let mut style = Style::default();
            let mut format = calamine::NumberFormat::default();
            format.format_code = code.to_owned();
            style.number_format = Some(format);
            assert_eq!(shown(number, Some(&style)), text, "{code}");
        }
    }
}
