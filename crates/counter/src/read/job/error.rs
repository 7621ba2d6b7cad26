//! What is wrong with a job file: every fault with its place.

use std::fmt;

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
    /// The line as it stands in the file.
    pub source_line: String,
    /// What was read and what was expected.
    pub what: String,
    /// What to do, where there is a hint.
    pub help: Option<String>,
}

/// Every fault of a job file, in the order of the file; never empty.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobErrors(pub Vec<JobError>);

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
        write!(f, "{blank} | {}{carets}", " ".repeat(self.column - 1))?;
        if let Some(help) = &self.help {
            write!(f, "\n{blank} = {help}")?;
        }
        Ok(())
    }
}

impl fmt::Display for JobErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (n, error) in self.0.iter().enumerate() {
            if n > 0 {
                f.write_str("\n\n")?;
            }
            write!(f, "{error}")?;
        }
        if self.0.len() > 1 {
            write!(f, "\n\n{} things to put right in all", self.0.len())?;
        }
        Ok(())
    }
}

impl std::error::Error for JobErrors {}
