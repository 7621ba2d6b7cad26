//! A table as it stands in the file, before anything is made of it.

use std::borrow::Cow;

/// What sort of cell it was; text files know only text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sort {
    /// Text.
    Text,
    /// A number cell of a workbook.
    Number,
    /// A date or time cell of a workbook.
    Date,
    /// A workbook's own error, such as `#REF!`.
    Error,
}

/// One cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RawCell<'t> {
    /// Its text, without the quotes around it.
    pub text: Cow<'t, str>,
    /// What sort of cell.
    pub sort: Sort,
}

/// One row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RawRow<'t> {
    /// Line of the file, or row of the sheet, counted from 1.
    pub line: usize,
    /// The row as it stands, without its line end; cells of a workbook are joined by tabs.
    pub text: Cow<'t, str>,
    /// Its cells.
    pub cells: Vec<RawCell<'t>>,
    /// Whether a line end closes it; only the last row of a text file can lack one.
    pub closed: bool,
}

/// The whole table.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct RawTable<'t> {
    /// The rows that hold anything, in the order of the file.
    pub rows: Vec<RawRow<'t>>,
    /// What separates the cells of a text file; none for a workbook.
    pub separator: Option<char>,
    /// How the file was understood, in words.
    pub remarks: Vec<String>,
}

impl<'t> RawCell<'t> {
    /// A cell of text.
    pub fn text(text: impl Into<Cow<'t, str>>) -> Self {
        Self {
            text: text.into(),
            sort: Sort::Text,
        }
    }

    /// The text without the spaces around it.
    #[must_use]
    pub fn trimmed(&self) -> &str {
        self.text.trim()
    }
}

impl RawRow<'_> {
    /// Whether nothing stands in it.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        self.cells.iter().all(|cell| cell.trimmed().is_empty())
    }
}
