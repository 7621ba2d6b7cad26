//! Opening a ledger.

use std::path::{Path, PathBuf};

use sqlx::SqlitePool;
use tokio::sync::Mutex;

use crate::Error;

/// An open ledger. Clones of the handle are not needed: every method takes `&self`.
#[derive(Debug)]
pub struct Ledger {
    pub(crate) pool: SqlitePool,
    pub(crate) path: PathBuf,
    /// Writers of this process queue here, so that none of them waits on the file's lock.
    pub(crate) writer: Mutex<()>,
}

impl Ledger {
    /// Opens the ledger at `path` for reading and writing, and makes it if it is not there.
    ///
    /// An older format is brought up to this program's after a copy `….before-vN` was made.
    ///
    /// # Errors
    /// [`Error::Newer`], [`Error::Damaged`], [`Error::NotALedger`], [`Error::CannotOpen`],
    /// [`Error::DiskFull`] or [`Error::Busy`]; the file is left as it is.
    pub async fn open(path: &Path) -> Result<Self, Error> {
        let _ = path;
        todo!()
    }

    /// Opens an existing ledger for reading only, even a damaged one: what can be read is read.
    ///
    /// # Errors
    /// [`Error::NotThere`], [`Error::Newer`], [`Error::NotALedger`].
    pub async fn open_read_only(path: &Path) -> Result<Self, Error> {
        let _ = path;
        todo!()
    }

    /// Where it lies.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Folds the journal into the file and closes it.
    pub async fn close(self) {
        self.pool.close().await;
    }
}
