//! One line of a log: its cells, and the numbers in them.

use super::header::Header;
use crate::read::table::finding::{Finding, shortened};

/// The most columns of a log.
const MOST_CELLS: usize = 64;

/// The cells of a line.
///
/// # Errors
/// Not as many cells as the header names.
pub fn cells<'l>(
    line: &'l str,
    number: usize,
    header: &Header,
) -> Result<Vec<&'l str>, Box<Finding>> {
    let mut cells: Vec<&str> = line
        .split(header.separator)
        .take(MOST_CELLS)
        .map(str::trim)
        .collect();
    let wanted = header.words.len();
    // An instrument may end every line with its separator.
    if cells.len() == wanted + 1 && cells.last() == Some(&"") {
        cells.pop();
    }
    if cells.len() == wanted {
        return Ok(cells);
    }
    let comma = cells.len() > wanted && header.separator == ',';
    Err(Box::new(Finding {
        line: Some(number),
        field: "line".to_owned(),
        read: format!("{} cells", cells.len()),
        expected: format!("{wanted} cells, as in the header"),
        advice: if comma {
            "A decimal comma splits a number: separate the columns by ; or tab".to_owned()
        } else {
            "Mend the line; if it is the last one, the file was cut off".to_owned()
        },
        source_line: shortened(line),
        ..Finding::default()
    }))
}

/// The number in one cell.
///
/// # Errors
/// Nothing in it, or no number.
pub fn number(
    cells: &[&str],
    at: usize,
    line: usize,
    header: &Header,
) -> Result<f64, Box<Finding>> {
    let text = cells.get(at).copied().unwrap_or_default().trim_matches('"');
    if let Ok(number) = text.parse::<f64>()
        && number.is_finite()
    {
        return Ok(number);
    }
    let plain = text.replace('\u{2212}', "-").replace(['\u{a0}', ' '], "");
    // Where the comma does not separate cells it is a decimal mark.
    let plain = match header.separator {
        ',' if header.words.len() > 1 => plain,
        _ => plain.replace(',', "."),
    };
    if let Ok(number) = plain.parse::<f64>()
        && number.is_finite()
    {
        return Ok(number);
    }
    Err(Box::new(Finding {
        line: Some(line),
        column: Some(at + 1),
        field: header.words.get(at).cloned().unwrap_or_default(),
        read: if text.is_empty() {
            "nothing".to_owned()
        } else {
            format!("`{}`", shortened(text))
        },
        expected: "a number".to_owned(),
        advice: "Mend the line, take it out, or say --skip-refused to leave such lines out"
            .to_owned(),
        source_line: shortened(&cells.join(&header.separator.to_string())),
    }))
}
