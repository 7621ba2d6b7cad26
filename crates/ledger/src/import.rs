//! Files of parts come in: all of one or nothing.
use crate::{Error, Import, ImportReceipt, Ledger};

impl Ledger {
    /// Takes a file in, all of it or nothing, and returns when it is on the disk.
    ///
    /// # Errors
    /// See [`Error`]; nothing came in.
    pub async fn import(&self, import: &Import) -> Result<ImportReceipt, Error> {
        let _ = import;
        todo!()
    }
}
