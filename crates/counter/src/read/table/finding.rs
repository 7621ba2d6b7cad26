//! What is wrong with a file, said so that a person can put it right.

use std::fmt;

use serde::Serialize;

/// One thing found in a file, with its place.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct Finding {
    /// Line of the file, the header being line 1; in a workbook the row. None for the whole file.
    pub line: Option<usize>,
    /// Column, counted from 1; none for the whole line.
    pub column: Option<usize>,
    /// The header word of the column, or what the finding is about.
    pub field: String,
    /// What was read.
    pub read: String,
    /// What was expected.
    pub expected: String,
    /// What to do.
    pub advice: String,
    /// The line as it stands in the file, shortened to 160 characters; empty for the whole file.
    pub source_line: String,
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(line) = self.line {
            write!(f, "line {line}, ")?;
        }
        if let Some(column) = self.column {
            write!(f, "column {column}, ")?;
        }
        write!(f, "{}: read {}; expected {}. {}", self.field, self.read, self.expected, self.advice)?;
        if !self.source_line.is_empty() {
            write!(f, "\n    | {}", self.source_line)?;
        }
        Ok(())
    }
}

/// A file that was not taken: everything found in it at once, and nothing of it stored.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, thiserror::Error)]
#[error("{}", self.in_words())]
pub struct FileRefusal {
    /// Name of the file as it was handed in.
    pub file: String,
    /// Everything found, in the order of the lines.
    pub findings: Vec<Finding>,
    /// How many rows could have been taken.
    pub good_rows: usize,
}

/// More findings than this are counted and not printed: nobody reads the hundred-and-first.
const PRINTED_FINDINGS: usize = 100;

impl FileRefusal {
    fn in_words(&self) -> String {
        let mut text = format!("{}: refused, nothing was stored", self.file);
        for finding in self.findings.iter().take(PRINTED_FINDINGS) {
            text.push_str(&format!("\n  {finding}"));
        }
        if self.findings.len() > PRINTED_FINDINGS {
            text.push_str(&format!("\n  … and {} more", self.findings.len() - PRINTED_FINDINGS));
        }
        text
    }
}
