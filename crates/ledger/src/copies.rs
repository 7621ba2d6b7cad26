//! Copies of the whole ledger.
use std::path::Path;

use crate::{Error, Ledger};

impl Ledger {
    /// Writes a copy of the whole ledger, as it stands now, to a new file.
    ///
    /// # Errors
    /// [`Error::CannotOpen`] if the file is there already or cannot be made; [`Error::DiskFull`].
    pub async fn copy_to(&self, path: &Path) -> Result<(), Error> {
        let _ = path;
        todo!()
    }
}
