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
        write!(
            f,
            "{}: read {}; expected {}. {}",
            self.field, self.read, self.expected, self.advice
        )?;
        if !self.source_line.is_empty() {
            write!(f, "\n    | {}", self.source_line)?;
        }
        Ok(())
    }
}

/// A line or a cell in at most 160 characters.
#[must_use]
pub fn shortened(text: &str) -> String {
    /// Two lines of a terminal.
    const LETTERS: usize = 160;
    let mut letters = text.chars();
    let head: String = letters.by_ref().take(LETTERS).collect();
    if letters.next().is_some() {
        head + "…"
    } else {
        head
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
            text.push_str(&format!(
                "\n  … and {} more",
                self.findings.len() - PRINTED_FINDINGS
            ));
        }
        text
    }
}

/// Findings as they come in: the first of them with their lines, the rest counted.
#[derive(Debug, Clone, Default)]
pub struct Findings {
    list: Vec<Finding>,
    more: usize,
}

impl Findings {
    /// One more.
    pub fn push(&mut self, finding: Finding) {
        if self.list.len() < super::caps::FINDINGS {
            self.list.push(finding);
        } else {
            self.more += 1;
        }
    }

    /// Those kept so far.
    #[must_use]
    pub fn list(&self) -> &[Finding] {
        &self.list
    }

    /// All of them in the order of the lines, what concerns the whole file first.
    #[must_use]
    pub fn into_list(mut self) -> Vec<Finding> {
        self.list
            .sort_by_key(|finding| (finding.line, finding.column));
        if self.more > 0 {
            self.list.push(Finding {
                field: "rows".to_owned(),
                read: format!("{} findings more", self.more),
                expected: "rows that can be read".to_owned(),
                advice: "Mend what is listed first, and read the file again".to_owned(),
                ..Finding::default()
            });
        }
        self.list
    }
}

impl Extend<Finding> for Findings {
    fn extend<T: IntoIterator<Item = Finding>>(&mut self, findings: T) {
        for finding in findings {
            self.push(finding);
        }
    }
}
