//! How logs are to be read, as flags or as fields of a form.

use std::fs::File;
use std::io::{BufRead, BufReader};
use std::path::Path;

use clap::Args;
use whirlwright_workshop::part::{Dimension, Quantity, SpinLog};
use whirlwright_workshop::spin::LogGiven;

use super::Stop;
use crate::error::Trouble;
use crate::keep;
use crate::read::log::{LogFile, LogOptions, header, read_log};

/// How logs are to be read.
#[derive(Debug, Clone, Default, Args)]
pub struct Reading {
    /// Marks that pass in one turn, for pulses and recordings.
    #[arg(long, value_name = "COUNT", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=100))]
    pub marks: u32,
    /// The unit of the speeds, whatever the header says: rpm, rad/s, Hz. Also: the unit is sure.
    #[arg(long, value_name = "UNIT")]
    pub speed_unit: Option<String>,
    /// Leave out lines that cannot be read, and say which.
    #[arg(long)]
    pub skip_refused: bool,
}

impl Reading {
    /// The same for the reader of files.
    ///
    /// # Errors
    /// A unit that is none of speed.
    pub fn options(&self) -> Result<LogOptions, Trouble> {
        let known = Dimension::AngularSpeed.known_units();
        let factor = |word: &String| {
            header::speed_factor(&word.to_lowercase()).ok_or_else(|| {
                Trouble::Input(format!(
                    "--speed-unit: `{word}` is no unit of a speed of turning; known units: {known}"
                ))
            })
        };
        Ok(LogOptions {
            speed_unit: self.speed_unit.as_ref().map(factor).transpose()?,
            skip_refused: self.skip_refused,
            marks: self.marks,
        })
    }

    /// A log as the fit takes it; its first speed is doubted unless the unit was said.
    ///
    /// # Errors
    /// A first speed that no throw has.
    pub fn given(&self, log: SpinLog) -> Result<LogGiven, Trouble> {
        if self.speed_unit.is_some() {
            return Ok(LogGiven::sure(log));
        }
        let name = log.name.clone();
        LogGiven::new(log).map_err(|why| {
            Trouble::Input(format!(
                "{name}: {why}; --speed-unit says the unit of the column, or that it is sure"
            ))
        })
    }

    /// Reads the log of one file.
    ///
    /// # Errors
    /// The file cannot be read, or is no log; or the person stopped it.
    pub fn file(&self, path: &Path, stop: Stop<'_>) -> Result<LogFile, Trouble> {
        let file = open(path)?;
        let bytes = file.metadata().map_or(0, |about| about.len()).max(1);
        let name = keep::file_name(path);
        let doing = format!("reading {name}");
        self.log(&name, BufReader::new(file), &mut |read| {
            stop(read as f64 / bytes as f64, &doing)
        })
    }

    /// Reads the log of one file that was sent.
    ///
    /// # Errors
    /// It is no log; or the person stopped it.
    pub fn log(
        &self,
        name: &str,
        reader: impl BufRead,
        stop: &mut dyn FnMut(u64) -> bool,
    ) -> Result<LogFile, Trouble> {
        let read = read_log(name, reader, &self.options()?, stop);
        read.map_err(|refusal| refusal.map_or(Trouble::Stopped, Trouble::from))
    }
}

/// Opens a file to be read line by line.
///
/// # Errors
/// It is missing, or a folder.
pub fn open(path: &Path) -> Result<File, Trouble> {
    if path.is_dir() {
        return Err(Trouble::Input(format!(
            "{} is a folder; a file was expected",
            path.display()
        )));
    }
    File::open(path).map_err(|why| Trouble::file(path, "read", &why))
}

/// A quantity that was typed beside a flag.
///
/// # Errors
/// It is none, or not above 0.
pub fn typed(flag: &str, text: &str, wanted: Dimension) -> Result<f64, Trouble> {
    let read =
        Quantity::read(text, wanted).map_err(|why| Trouble::Input(format!("{flag}: {why}")))?;
    if read.value > 0.0 {
        return Ok(read.value);
    }
    Err(Trouble::Input(format!(
        "{flag}: `{text}` was read; more than 0 was expected"
    )))
}
