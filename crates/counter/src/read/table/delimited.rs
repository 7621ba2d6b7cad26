//! Text with separators: quoted cells, any line end, the separator found by looking.

use std::borrow::Cow;

use super::caps;
use super::finding::{Finding, shortened};
use super::raw::{RawCell, RawRow, RawTable};

/// Splits a text into rows and cells.
///
/// The separator is the one of `,` `;` and tab that cuts the first lines into most cells, alike in
/// every line. A cell may stand in double quotes, with `""` for a quote in it; rows end with LF, CR
/// or CRLF. Rows without anything in them are left out.
///
/// # Errors
/// A quote that is never closed; more rows, columns or cells than a lot can have.
pub fn split(text: &str) -> Result<RawTable<'_>, Box<Finding>> {
    let (separator, skipped) = find_separator(text);
    let mut splitter = Splitter {
        text,
        at: 0,
        line: 1,
        separator,
    };
    if skipped {
        splitter.next_row()?;
    }
    let (mut rows, mut cells, mut blank) = (Vec::new(), 0, 0usize);
    while let Some(row) = splitter.next_row()? {
        if row.is_blank() {
            blank += usize::from(!row.text.trim().is_empty());
            continue;
        }
        cells += row.cells.len();
        if rows.len() > caps::ROWS || cells > caps::CELLS {
            return Err(Box::new(too_many(rows.len(), row.line)));
        }
        rows.push(row);
    }
    let mut remarks = vec![format!("separator: {}", separator_word(separator))];
    if blank > 0 {
        remarks.push(format!("{blank} rows of nothing but separators left out"));
    }
    Ok(RawTable {
        rows,
        separator: Some(separator),
        remarks,
    })
}

fn separator_word(separator: char) -> &'static str {
    match separator {
        ';' => "semicolon (;)",
        '\t' => "tab",
        _ => "comma (,)",
    }
}

/// The separator, and whether the first line does nothing but name it (`sep=;`).
fn find_separator(text: &str) -> (char, bool) {
    let first = text.lines().next().unwrap_or_default().trim();
    match first.to_ascii_lowercase().as_str() {
        "sep=," => return (',', true),
        "sep=;" => return (';', true),
        "sep=\t" => return ('\t', true),
        _ => {}
    }
    let score = |separator: char| {
        /// Lines that are looked at.
        const LOOKED_AT: usize = 10;
        let mut splitter = Splitter {
            text,
            at: 0,
            line: 1,
            separator,
        };
        let rows = std::iter::from_fn(|| splitter.next_row().ok().flatten());
        let counts: Vec<usize> = rows
            .filter(|row| !row.is_blank())
            .take(LOOKED_AT)
            .map(|row| row.cells.len())
            .collect();
        let width = counts.first().copied().unwrap_or(0);
        let alike = counts.iter().filter(|count| **count == width).count();
        (usize::from(width > 1) * alike, width)
    };
    let mut best = (',', score(','));
    for separator in [';', '\t'] {
        let found = score(separator);
        // A separator that cuts nothing is no separator, however little the comma did.
        if found.0 > 0 && found > best.1 {
            best = (separator, found);
        }
    }
    (best.0, false)
}

fn too_many(rows: usize, line: usize) -> Finding {
    Finding {
        line: Some(line),
        field: "file".to_owned(),
        read: format!("more than {rows} rows so far"),
        expected: format!("at most {} rows and {} cells", caps::ROWS, caps::CELLS),
        advice: "Cut the file into lots".to_owned(),
        ..Finding::default()
    }
}

struct Splitter<'t> {
    text: &'t str,
    at: usize,
    line: usize,
    separator: char,
}

/// How a cell ended.
enum End {
    Separator,
    Line,
    File,
}

impl<'t> Splitter<'t> {
    fn next_row(&mut self) -> Result<Option<RawRow<'t>>, Box<Finding>> {
        if self.at >= self.text.len() {
            return Ok(None);
        }
        let (line, start) = (self.line, self.at);
        let mut cells = Vec::new();
        loop {
            let (text, end_at, end) = self.next_cell(line)?;
            cells.push(RawCell::text(text));
            if cells.len() > caps::COLUMNS {
                return Err(Box::new(too_wide(line)));
            }
            let closed = match end {
                End::Separator => continue,
                End::Line => true,
                End::File => false,
            };
            let text = Cow::Borrowed(self.text.get(start..end_at).unwrap_or_default());
            return Ok(Some(RawRow {
                line,
                text,
                cells,
                closed,
            }));
        }
    }

    /// The next cell, where it ends, and by what.
    fn next_cell(&mut self, line: usize) -> Result<(Cow<'t, str>, usize, End), Box<Finding>> {
        let quoted = self.rest().starts_with('"');
        let inside = if quoted {
            Some(self.quoted(line)?)
        } else {
            None
        };
        let rest = self.rest();
        let length = rest
            .find([self.separator, '\n', '\r'])
            .unwrap_or(rest.len());
        let tail = rest.get(..length).unwrap_or_default();
        let text = match inside {
            None => Cow::Borrowed(tail),
            Some(inside) if tail.trim().is_empty() => inside,
            Some(inside) => Cow::Owned(format!("{inside}{tail}")),
        };
        let end_at = self.at + length;
        self.at = end_at;
        Ok((text, end_at, self.take_end()))
    }

    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn take_end(&mut self) -> End {
        let rest = self.rest().as_bytes();
        let (length, end) = match rest.first() {
            None => return End::File,
            Some(b'\r') if rest.get(1) == Some(&b'\n') => (2, End::Line),
            Some(b'\r' | b'\n') => (1, End::Line),
            Some(_) => (self.separator.len_utf8(), End::Separator),
        };
        self.line += usize::from(matches!(end, End::Line));
        self.at += length;
        end
    }

    /// The inside of a quoted cell; leaves off after its closing quote.
    fn quoted(&mut self, line: usize) -> Result<Cow<'t, str>, Box<Finding>> {
        let opened = self.at;
        self.at += 1;
        let mut text: Cow<'t, str> = Cow::Borrowed("");
        loop {
            let rest = self.rest();
            let Some(length) = rest.find('"') else {
                let source = self.text.get(opened..).unwrap_or_default().lines().next();
                return Err(Box::new(never_closed(line, source.unwrap_or_default())));
            };
            let piece = rest.get(..length).unwrap_or_default();
            self.line += line_ends(piece);
            self.at += length + 1;
            if text.is_empty() {
                text = Cow::Borrowed(piece);
            } else {
                text.to_mut().push_str(piece);
            }
            if !self.rest().starts_with('"') {
                return Ok(text);
            }
            text.to_mut().push('"');
            self.at += 1;
        }
    }
}

fn line_ends(text: &str) -> usize {
    let bytes = text.as_bytes();
    let crlf = bytes.windows(2).filter(|pair| *pair == b"\r\n").count();
    bytes
        .iter()
        .filter(|byte| matches!(byte, b'\r' | b'\n'))
        .count()
        - crlf
}

fn too_wide(line: usize) -> Finding {
    Finding {
        line: Some(line),
        field: "row".to_owned(),
        read: format!("more than {} columns", caps::COLUMNS),
        expected: "a column for every measure".to_owned(),
        advice: "Choose the table itself, or export it again".to_owned(),
        ..Finding::default()
    }
}

fn never_closed(line: usize, source: &str) -> Finding {
    Finding {
        line: Some(line),
        field: "row".to_owned(),
        read: "a double quote that is never closed".to_owned(),
        expected: "cells in a pair of double quotes, or without any".to_owned(),
        advice: "Close the quote or take it out; if the file was cut, export it again".to_owned(),
        source_line: shortened(source),
        ..Finding::default()
    }
}
