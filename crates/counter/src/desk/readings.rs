//! Files of balance readings that lie beside a record.

use std::path::{Path, PathBuf};

/// The files of readings of a folder, by name: TOML with a line `balance_readings = …`.
#[must_use]
pub fn in_folder(folder: &Path) -> Vec<PathBuf> {
    let starts = |line: &str| {
        line.trim_start()
            .strip_prefix("balance_readings")
            .is_some_and(|rest| rest.trim_start().starts_with('='))
    };
    super::job::with_line(folder, starts)
}
