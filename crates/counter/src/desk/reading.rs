//! Files of parts, read as the person asked.

use std::path::Path;

use clap::Args;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use whirlwright_workshop::measuring::Windows;
use whirlwright_workshop::part::Kind;

use crate::error::Trouble;
use crate::keep;
use crate::read::table::{LotFile, ReadOptions, read_lot};

/// How files of parts are to be read.
#[derive(Debug, Clone, Default, Args, Deserialize, Serialize)]
#[serde(default)]
pub struct Reading {
    /// Header words for a file without a header, in the order of its columns, e.g.
    /// "serial,cavity,mass_g" ("-" leaves a column out).
    #[arg(long, value_name = "WORDS", help_heading = "Reading")]
    pub columns: Option<String>,
    /// Take the good rows of a file and list the refused ones.
    #[arg(long, help_heading = "Reading")]
    pub skip_refused: bool,
    /// A blank or "n/a" mass means the part was not weighed.
    #[arg(long, help_heading = "Reading")]
    pub blank_as_not_weighed: bool,
    /// The masses of the file are in this unit, whatever its header says, e.g. "oz".
    #[arg(long, value_name = "UNIT", help_heading = "Reading")]
    pub unit: Option<String>,
}

impl Reading {
    /// Reads one file of parts of one kind from the disk.
    ///
    /// # Errors
    /// The file is not there, or something in it cannot be taken; then nothing of it is.
    pub fn file(&self, path: &Path, kind: Kind, windows: &Windows) -> Result<Taken, Trouble> {
        let bytes = keep::read(path)?;
        self.bytes(&keep::file_name(path), bytes, kind, windows)
    }

    /// Reads one file of parts of one kind that was handed in.
    ///
    /// # Errors
    /// Something in it cannot be taken; then nothing of it is.
    pub fn bytes(
        &self,
        name: &str,
        bytes: Vec<u8>,
        kind: Kind,
        windows: &Windows,
    ) -> Result<Taken, Trouble> {
        let words = |text: &String| text.split(',').map(|w| w.trim().to_owned()).collect();
        let options = ReadOptions {
            now: Some(Timestamp::now()),
            columns: self.columns.as_ref().map(words),
            skip_refused: self.skip_refused,
            blank_as_not_weighed: self.blank_as_not_weighed,
            mass_unit: self.unit.clone(),
            ..ReadOptions::new(kind, windows.clone())
        };
        Ok(Taken {
            file: read_lot(name, &bytes, &options)?,
            bytes,
        })
    }
}

/// A file that was taken, with its bytes as they came.
#[derive(Debug)]
pub struct Taken {
    /// What stood in it.
    pub file: LotFile,
    /// The bytes themselves; the record keeps them.
    pub bytes: Vec<u8>,
}

/// Reads several files; if any is refused, everything found in all of them is said at once.
///
/// # Errors
/// The first file that could not be read at all, or all the refusals together.
pub fn all(taken: Vec<Result<Taken, Trouble>>) -> Result<Vec<Taken>, Trouble> {
    let mut good = Vec::new();
    let mut refused = Vec::new();
    for one in taken {
        match one {
            Ok(taken) => good.push(taken),
            Err(Trouble::Files(files)) => refused.extend(files),
            Err(other) => return Err(other),
        }
    }
    if refused.is_empty() {
        Ok(good)
    } else {
        Err(Trouble::Files(refused))
    }
}
