//! Spin: the forecast of a design, and what a log, a recording, several throws or a tray of bearings say.

pub mod compare;
pub mod design;
pub mod files;
pub mod log;
pub mod reading;
pub mod recording;
pub mod rehearsal;
pub mod sent;
pub mod tray;

use std::path::PathBuf;

use whirlwright_workshop::part::Answer;

/// An answer, and the files that were written.
#[derive(Debug)]
pub struct Spun<B> {
    /// What the station says.
    pub answer: Answer<B>,
    /// The files, as they were named.
    pub written: Vec<PathBuf>,
}

/// Told how far the work has come (0 to 1) and what it is doing; `true` ends it.
pub type Stop<'a> = &'a mut dyn FnMut(f64, &str) -> bool;
