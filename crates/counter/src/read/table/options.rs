//! What the person said beforehand about a file.

use jiff::Timestamp;
use whirlwright_workshop::measuring::Windows;
use whirlwright_workshop::part::Kind;

/// How a file of parts is to be read; only a person sets what is not the default.
#[derive(Debug, Clone)]
pub struct ReadOptions {
    /// What kind of parts the file holds.
    pub kind: Kind,
    /// The time of reading, handed in; a reading later than this is doubted. None: no check.
    pub now: Option<Timestamp>,
    /// What is believable for each kind, and which cavities exist.
    pub windows: Windows,
    /// Header words in the order of the columns for a file without a header (`-` leaves one out).
    pub columns: Option<Vec<String>>,
    /// `--skip-refused`: take the good rows and list the refused ones.
    pub skip_refused: bool,
    /// `--blank-as-not-weighed`: a blank or `n/a` mass means the part was not weighed.
    pub blank_as_not_weighed: bool,
    /// `--unit oz`: the person says the masses are in this unit, whatever the header says.
    pub mass_unit: Option<String>,
}

impl ReadOptions {
    /// Plain reading of one kind of parts with the workshop's usual windows.
    #[must_use]
    pub fn new(kind: Kind, windows: Windows) -> Self {
        Self {
            kind,
            now: None,
            windows,
            columns: None,
            skip_refused: false,
            blank_as_not_weighed: false,
            mass_unit: None,
        }
    }
}
