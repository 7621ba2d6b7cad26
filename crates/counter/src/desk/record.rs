//! Opening the record, and telling it the time.

use std::path::Path;

use jiff::ZonedDateTime;
use whirlwright_ledger::{Error, Ledger, Moment};

use crate::error::Trouble;

/// The version of the program, as the record keeps it.
pub const PROGRAM: &str = concat!("whirlwright ", env!("CARGO_PKG_VERSION"));

/// Opens a record that must be there already.
///
/// # Errors
/// There is none at that place, or it cannot be used.
pub async fn open(path: &Path) -> Result<Ledger, Trouble> {
    if !path.exists() {
        return Err(Error::NotThere {
            path: path.to_owned(),
        }
        .into());
    }
    Ok(Ledger::open(path).await?)
}

/// Opens a record, and begins one if there is none.
///
/// # Errors
/// It cannot be made or used.
pub async fn open_or_begin(path: &Path) -> Result<Ledger, Trouble> {
    Ok(Ledger::open(path).await?)
}

/// What the clock of this machine says now.
#[must_use]
pub fn now() -> Moment {
    Moment::from(&ZonedDateTime::now())
}
