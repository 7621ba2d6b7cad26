//! Tables out of the house: what is written reads back as the same lot, and no text in it is ever
//! reckoned with by a spreadsheet.

use rust_xlsxwriter::{Format, Workbook, XlsxError};
use whirlwright_workshop::part::{Decimal, Kind, LotPart, Measure};

/// One value of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Value {
    /// Nothing.
    Blank,
    /// Text; a serial is text, whatever it looks like.
    Text(String),
    /// A number with the digits it was read with.
    Number(Decimal),
}

impl From<Option<&str>> for Value {
    fn from(text: Option<&str>) -> Self {
        text.map_or(Self::Blank, |text| Self::Text(text.to_owned()))
    }
}

impl From<Option<Decimal>> for Value {
    fn from(number: Option<Decimal>) -> Self {
        number.map_or(Self::Blank, Self::Number)
    }
}

/// A table to be written: header words and rows of the same width.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Table {
    /// Header words, numbers with their unit.
    pub header: Vec<String>,
    /// Rows.
    pub rows: Vec<Vec<Value>>,
}

/// Why a table could not be written.
#[derive(Debug, thiserror::Error)]
pub enum WriteError {
    /// The text form.
    #[error("the table could not be written as CSV: {0}")]
    Csv(#[from] csv::Error),
    /// The workbook form.
    #[error("the table could not be written as XLSX: {0}")]
    Xlsx(#[from] XlsxError),
}

/// The table of some parts of one kind, with every column that any of them fills.
#[must_use]
pub fn table_of_parts(kind: Kind, parts: &[LotPart]) -> Table {
    let (origin, fit) = match kind {
        Kind::Half => ("cavity", "spigot_mm"),
        Kind::Rim => ("insert", "bore_mm"),
        Kind::Dressed => ("cavity", "fit_mm"),
        Kind::Other => ("pack", "fit_mm"),
    };
    let number = |measure: Measure| move |part: &LotPart| Value::from(measure.of(part));
    type Column<'a> = (&'a str, Box<dyn Fn(&LotPart) -> Value>);
    let columns: Vec<Column<'_>> = vec![
        ("serial", Box::new(|part| Value::Text(part.serial.clone()))),
        (origin, Box::new(|part| part.origin.as_deref().into())),
        ("mass_g", Box::new(number(Measure::MassG))),
        (fit, Box::new(number(Measure::FitMm))),
        ("unbalance_g_mm", Box::new(number(Measure::UnbalanceGMm))),
        (
            "unbalance_angle_deg",
            Box::new(number(Measure::UnbalanceAngleDeg)),
        ),
        ("offset_mm", Box::new(number(Measure::OffsetMm))),
        ("colour", Box::new(|part| part.colour.as_deref().into())),
        ("tray", Box::new(|part| part.tray.as_deref().into())),
    ];
    let needed = |(word, value): &Column<'_>| {
        matches!(*word, "serial" | "mass_g") || parts.iter().any(|part| value(part) != Value::Blank)
    };
    let columns: Vec<Column<'_>> = columns.into_iter().filter(needed).collect();
    Table {
        header: columns.iter().map(|(word, _)| (*word).to_owned()).collect(),
        rows: parts
            .iter()
            .map(|part| columns.iter().map(|(_, value)| value(part)).collect())
            .collect(),
    }
}

/// Whether a spreadsheet would reckon with a text, or may take it for a command.
#[must_use]
pub fn is_formula_like(text: &str) -> bool {
    // Behind any number of `'` too, so that what was guarded once is guarded again and comes back.
    text.trim_start_matches('\'')
        .starts_with(['=', '+', '-', '@', '\t', '\r', '\n'])
}

/// The table as CSV: comma, decimal point, UTF-8, LF.
///
/// A text that a spreadsheet would reckon with gets a `'` before it, which reading takes off again.
///
/// # Errors
/// [`WriteError::Csv`], which a table in memory does not bring about.
pub fn to_csv(table: &Table) -> Result<Vec<u8>, WriteError> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(table.header.iter().map(|word| guarded(word)))?;
    for row in &table.rows {
        writer.write_record(row.iter().map(|value| match value {
            Value::Blank => String::new(),
            Value::Text(text) => guarded(text),
            Value::Number(number) => number.to_string(),
        }))?;
    }
    writer
        .into_inner()
        .map_err(|error| WriteError::Csv(error.into_error().into()))
}

fn guarded(text: &str) -> String {
    if is_formula_like(text) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// The table as an XLSX workbook with one sheet: texts as text cells, numbers as number cells in a
/// format that shows the digits they were read with.
///
/// # Errors
/// [`WriteError::Xlsx`], as for a table with more rows than a sheet can have.
pub fn to_xlsx(table: &Table, sheet_name: &str) -> Result<Vec<u8>, WriteError> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.set_name(sheet_name)?;
    let text_format = Format::new().set_num_format("@");
    let mut formats: Vec<Format> = Vec::new();
    for (at, word) in (0u16..).zip(&table.header) {
        sheet.write_string(0, at, word)?;
    }
    for (line, row) in (1u32..).zip(&table.rows) {
        for (at, value) in (0u16..).zip(row) {
            match value {
                Value::Blank => {}
                Value::Text(text) => {
                    sheet.write_string_with_format(line, at, text, &text_format)?;
                }
                Value::Number(number) => {
                    while formats.len() <= usize::from(number.places) {
                        formats.push(number_format(formats.len()));
                    }
                    let format = formats
                        .get(usize::from(number.places))
                        .unwrap_or(&text_format);
                    sheet.write_number_with_format(line, at, number.to_f64(), format)?;
                }
            }
        }
    }
    Ok(book.save_to_buffer()?)
}

fn number_format(places: usize) -> Format {
    let code = if places == 0 {
        "0".to_owned()
    } else {
        format!("0.{}", "0".repeat(places))
    };
    Format::new().set_num_format(code)
}
