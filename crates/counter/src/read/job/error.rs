//! What is wrong with a job file: every fault with its place.

use std::fmt;
use std::ops::Range;

/// One fault of a job file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobError {
    /// The file, as it was named.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// How many characters the fault spans, at least 1.
    pub width: usize,
    /// The line as it stands in the file; of a very long line the stretch around the fault.
    pub source_line: String,
    /// Where the fault stands in `source_line`, in characters from 0.
    pub caret: usize,
    /// What was read and what was expected.
    pub what: String,
    /// What to do, where there is a hint.
    pub help: Option<String>,
}

/// Every fault of a job file, in the order of the file; never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobErrors(pub Vec<JobError>);

/// Most faults said in full; a file of another kind can have thousands.
const MOST_SAID: usize = 50;

impl fmt::Display for JobError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let gutter = self.line.to_string();
        let blank = " ".repeat(gutter.len());
        writeln!(
            f,
            "{}:{}:{}: {}",
            self.file, self.line, self.column, self.what
        )?;
        writeln!(f, "{blank} |")?;
        writeln!(f, "{gutter} | {}", self.source_line)?;
        let carets = "^".repeat(self.width.max(1));
        write!(f, "{blank} | {}{carets}", " ".repeat(self.caret))?;
        if let Some(help) = &self.help {
            write!(f, "\n{blank} = {help}")?;
        }
        Ok(())
    }
}

impl fmt::Display for JobErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (n, error) in self.0.iter().take(MOST_SAID).enumerate() {
            if n > 0 {
                f.write_str("\n\n")?;
            }
            write!(f, "{error}")?;
        }
        match self.0.len() {
            0 | 1 => Ok(()),
            n if n > MOST_SAID => {
                write!(
                    f,
                    "\n\n{n} things to put right in all; the first {MOST_SAID} are shown"
                )
            }
            n => write!(f, "\n\n{n} things to put right in all"),
        }
    }
}

impl std::error::Error for JobErrors {}

/// Characters of a line shown before and after a fault, and most of the fault itself.
const AROUND: usize = 60;

/// A text with the places where its lines start.
pub(in crate::read) struct Source<'a> {
    file: &'a str,
    text: &'a str,
    lines: Vec<usize>,
}

impl<'a> Source<'a> {
    pub(in crate::read) fn new(file: &'a str, text: &'a str) -> Self {
        let after_breaks = text.match_indices('\n').map(|(n, _)| n + 1);
        Self {
            file,
            text,
            lines: std::iter::once(0).chain(after_breaks).collect(),
        }
    }

    /// The error of a stretch of the text.
    pub(in crate::read) fn at(
        &self,
        span: Range<usize>,
        what: String,
        help: Option<String>,
    ) -> JobError {
        let text = self.text;
        let start = floor(text, span.start.min(text.len()));
        let end = floor(text, span.end.clamp(start, text.len()));
        let line = self.lines.partition_point(|&from| from <= start);
        let line_start = self.lines[line - 1];
        let whole_line = text[line_start..].lines().next().unwrap_or("");
        let column = text[line_start..start].chars().count();
        let in_line = text[start..end]
            .lines()
            .next()
            .unwrap_or("")
            .chars()
            .count();
        let cut = column.saturating_sub(AROUND);
        let kept = whole_line.chars().skip(cut).take(3 * AROUND);
        // One column a character: a tab would push the carets aside, a control would do worse.
        let source_line: String = kept.map(|c| if c.is_control() { ' ' } else { c }).collect();
        JobError {
            file: self.file.to_owned(),
            line,
            column: column + 1,
            width: in_line.clamp(1, AROUND),
            source_line,
            caret: column - cut,
            what,
            help,
        }
    }
}

/// The character that holds a byte.
fn floor(text: &str, mut at: usize) -> usize {
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}
