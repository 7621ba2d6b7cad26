//! The one place where the command prints.

use std::io::{ErrorKind, IsTerminal, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use clap::ValueEnum;
use indicatif::{ProgressBar, ProgressStyle};
use serde::Serialize;
use whirlwright_workshop::pairing::Progress;
use whirlwright_workshop::part::{Answer, Verdict};

use crate::desk::spin::Spun;
use crate::error::Trouble;

/// How an answer is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Format {
    /// For a person.
    Text,
    /// For another program: one JSON object.
    Json,
}

/// Where answers go.
#[derive(Debug, Clone, Copy)]
pub struct Out {
    format: Format,
}

impl Out {
    /// An output in this format.
    #[must_use]
    pub fn new(format: Format) -> Self {
        Self { format }
    }

    /// Writes a station's answer; the exit code is 1 if its verdict is "stop".
    ///
    /// # Errors
    /// The answer could not be written.
    pub fn answer<B: Serialize>(
        &self,
        answer: &Answer<B>,
        text: impl FnOnce(&Answer<B>) -> String,
    ) -> Result<u8, Trouble> {
        self.value(answer, |a| text(a))?;
        Ok(u8::from(answer.verdict == Verdict::Stop))
    }

    /// Writes an answer about a spin, and which files were written beside it.
    ///
    /// # Errors
    /// The answer could not be written.
    pub fn spun<B: Serialize>(
        &self,
        spun: &Spun<B>,
        text: impl FnOnce(&Answer<B>) -> String,
    ) -> Result<u8, Trouble> {
        self.written(&spun.written);
        self.answer(&spun.answer, text)
    }

    /// Writes anything that is no station's answer: a list, a receipt, a trace.
    ///
    /// # Errors
    /// The answer could not be written.
    pub fn value<T: Serialize>(
        &self,
        value: &T,
        text: impl FnOnce(&T) -> String,
    ) -> Result<(), Trouble> {
        let written = match self.format {
            Format::Text => text(value),
            Format::Json => serde_json::to_string_pretty(value)
                .map_err(|e| Trouble::Ours(format!("cannot write the answer as JSON: {e}")))?,
        };
        put(&mut std::io::stdout().lock(), &written)
    }

    /// A remark beside the answer (where a file went); on standard error, so that JSON stays JSON.
    pub fn remark(&self, text: &str) {
        // A remark nobody can read is no reason to fail.
        put(&mut std::io::stderr().lock(), text).unwrap_or_default();
    }

    /// Says which files were written.
    pub fn written(&self, paths: &[PathBuf]) {
        for path in paths {
            self.remark(&format!("written: {}", path.display()));
        }
    }

    /// Writes what went wrong to standard error, and gives the exit code.
    #[must_use]
    pub fn trouble(&self, trouble: &Trouble) -> ExitCode {
        let text = match self.format {
            Format::Text => format!("whirlwright: {trouble}"),
            Format::Json => trouble.json().to_string(),
        };
        self.remark(&text);
        ExitCode::from(trouble.exit_code())
    }
}

/// A bar that moves on standard error, and only where a person would see it.
#[derive(Debug)]
pub struct Bar {
    bar: ProgressBar,
}

/// The bar's length: thousandths of the work.
const THOUSANDTHS: u64 = 1000;

impl Bar {
    /// A bar at its start.
    #[must_use]
    pub fn new(out: &Out) -> Self {
        let seen = out.format == Format::Text && std::io::stderr().is_terminal();
        let bar = if seen {
            ProgressBar::new(THOUSANDTHS)
        } else {
            ProgressBar::hidden()
        };
        if let Ok(style) = ProgressStyle::with_template("{wide_bar} {percent} %  {msg}") {
            bar.set_style(style);
        }
        Self { bar }
    }

    /// Shows how far the work has come.
    pub fn show(&self, progress: Progress) {
        self.bar
            .set_position((progress.share * THOUSANDTHS as f64) as u64);
        self.bar
            .set_message(format!("{}, {} sets", progress.doing, progress.sets));
    }

    /// Shows how far work that is not pairing has come.
    pub fn work(&self, share: f64, doing: &str) {
        self.bar
            .set_position((share.clamp(0.0, 1.0) * THOUSANDTHS as f64) as u64);
        self.bar.set_message(doing.to_owned());
    }
}

impl Drop for Bar {
    fn drop(&mut self) {
        self.bar.finish_and_clear();
    }
}

/// Writes text with a line end. A reader that went away (`| head`) is no failure.
fn put(to: &mut impl Write, text: &str) -> Result<(), Trouble> {
    let end = if text.ends_with('\n') { "" } else { "\n" };
    match to
        .write_all(text.as_bytes())
        .and_then(|()| to.write_all(end.as_bytes()))
        .and_then(|()| to.flush())
    {
        Err(why) if why.kind() != ErrorKind::BrokenPipe => {
            Err(Trouble::Ours(format!("cannot write the answer: {why}")))
        }
        _ => Ok(()),
    }
}

/// Help and version go to standard output with code 0; wrong usage to standard error with code 2.
#[must_use]
pub fn usage(usage: &clap::Error) -> ExitCode {
    usage.print().unwrap_or_default();
    ExitCode::from(if usage.use_stderr() { 2 } else { 0 })
}

/// A fault of ours is told in one line with its place; the rest follows as the answer's error.
pub fn no_panic_is_shown_raw() {
    std::panic::set_hook(Box::new(|fault| {
        let place = fault
            .location()
            .map(ToString::to_string)
            .unwrap_or_default();
        put(
            &mut std::io::stderr().lock(),
            &format!("whirlwright: a fault in the program, at {place}"),
        )
        .unwrap_or_default();
    }));
}
