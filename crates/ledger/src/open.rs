//! Opening a ledger: made if new, brought up if old, refused if newer, never mended by itself.

use std::path::{Path, PathBuf};
use std::time::Duration;

use sqlx::migrate::Migrator;
use sqlx::sqlite::{
    SqliteConnectOptions, SqliteConnection, SqliteJournalMode, SqlitePoolOptions, SqliteSynchronous,
};
use sqlx::{ConnectOptions, Connection, SqlitePool, Transaction};
use tokio::sync::{Mutex, MutexGuard};

use crate::error::BUSY_WAIT_S;
use crate::{Error, copies, inspect};

/// The steps that make today's tables, built into the program.
pub(crate) static MIGRATIONS: Migrator = sqlx::migrate!();

/// Readers of one process that work side by side; a writer is one of them.
const MOST_CONNECTIONS: u32 = 4;

/// An open ledger; every method takes `&self`, so it can be shared behind an `Arc`.
#[derive(Debug)]
pub struct Ledger {
    pub(crate) pool: SqlitePool,
    path: PathBuf,
    /// Writers of this process queue here, so that none of them waits on the file's lock.
    writer: Mutex<()>,
}

/// A writing transaction; nothing of it stays unless it is committed.
pub(crate) struct Writing<'a> {
    pub(crate) tx: Transaction<'static, sqlx::Sqlite>,
    _turn: MutexGuard<'a, ()>,
}

impl Ledger {
    /// Opens the ledger at `path` for reading and writing, and makes it if it is not there.
    ///
    /// An older format is brought up to this program's after a copy `….before-vN` was made,
    /// N being the format it is brought up to.
    ///
    /// # Errors
    /// [`Error::Newer`], [`Error::Damaged`], [`Error::NotALedger`], [`Error::CannotOpen`],
    /// [`Error::DiskFull`] or [`Error::Busy`]; the file is left as it is.
    pub async fn open(path: &Path) -> Result<Self, Error> {
        Self::open_with(path, &MIGRATIONS, options(path)).await
    }

    pub(crate) async fn open_with(
        path: &Path,
        migrations: &Migrator,
        options: SqliteConnectOptions,
    ) -> Result<Self, Error> {
        let is_new = !path.metadata().is_ok_and(|file| file.len() > 0);
        let version = if is_new {
            None
        } else {
            inspect::sound(path, migrations).await?
        };
        let newest = inspect::newest(migrations);
        if version != Some(newest) {
            if version.is_some() {
                copies::before_migration(path, newest, migrations).await?;
            }
            bring_up(path, &options, migrations).await?;
        }
        Self::pooled(path, options).await
    }

    /// Opens an existing ledger for reading only, even a damaged one: what can be read is read.
    ///
    /// # Errors
    /// [`Error::NotThere`], [`Error::Newer`], [`Error::NotALedger`], [`Error::CannotOpen`].
    pub async fn open_read_only(path: &Path) -> Result<Self, Error> {
        if !path.exists() {
            return Err(Error::NotThere {
                path: path.to_owned(),
            });
        }
        let version = inspect::version(path, &MIGRATIONS).await?;
        if version.is_none() {
            let why = "it holds no record yet".to_owned();
            return Err(Error::NotALedger {
                path: path.to_owned(),
                why,
            });
        }
        Self::pooled(path, inspect::reading(path)).await
    }

    async fn pooled(path: &Path, options: SqliteConnectOptions) -> Result<Self, Error> {
        let pool = SqlitePoolOptions::new()
            .max_connections(MOST_CONNECTIONS)
            .connect_with(options)
            .await
            .map_err(|why| cannot_open(path, why))?;
        Ok(Self {
            pool,
            path: path.to_owned(),
            writer: Mutex::new(()),
        })
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

    /// Begins to write: the only writer of the file, in whatever process, until it is done.
    pub(crate) async fn write(&self) -> Result<Writing<'_>, Error> {
        let turn = self.writer.lock().await;
        let tx = self.pool.begin_with("BEGIN IMMEDIATE").await?;
        Ok(Writing { tx, _turn: turn })
    }
}

/// How this program opens a ledger for writing.
pub(crate) fn options(path: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(path)
        .create_if_missing(true)
        .busy_timeout(Duration::from_secs(BUSY_WAIT_S))
        .journal_mode(SqliteJournalMode::Wal)
        // NORMAL may lose the last commits with the power; FULL syncs the journal at each commit.
        .synchronous(SqliteSynchronous::Full)
        .foreign_keys(true)
        // Without it INSERT OR REPLACE would delete a row without asking the triggers.
        .pragma("recursive_triggers", "ON")
        // 64 MB, so that a large import does not write a page to the journal twice.
        .pragma("cache_size", "-65536")
}

/// Makes today's tables, all of them or none; waits for another process that is doing the same.
async fn bring_up(
    path: &Path,
    options: &SqliteConnectOptions,
    migrations: &Migrator,
) -> Result<(), Error> {
    let mut connection = connect_new(path, options).await?;
    let mut tx = connection.begin_with("BEGIN IMMEDIATE").await?;
    migrations
        .run_direct(None, &mut *tx, false)
        .await
        .map_err(migration_failed)?;
    tx.commit().await?;
    connection.close().await?;
    Ok(())
}

/// Two processes that make the same new file can meet at the switch to write-ahead mode, where
/// the database reports "busy" without waiting; so we wait.
async fn connect_new(
    path: &Path,
    options: &SqliteConnectOptions,
) -> Result<SqliteConnection, Error> {
    const STEP: Duration = Duration::from_millis(20);
    let mut waited = Duration::ZERO;
    loop {
        match options
            .connect()
            .await
            .map_err(|why| cannot_open(path, why))
        {
            Err(Error::Busy { .. }) if waited.as_secs() < BUSY_WAIT_S => {
                tokio::time::sleep(STEP).await;
                waited += STEP;
            }
            done => return done,
        }
    }
}

fn migration_failed(error: sqlx::migrate::MigrateError) -> Error {
    use sqlx::migrate::MigrateError;
    match error {
        MigrateError::Execute(why) | MigrateError::ExecuteMigration(why, _) => why.into(),
        other => Error::Database {
            why: other.to_string(),
        },
    }
}

pub(crate) fn cannot_open(path: &Path, error: sqlx::Error) -> Error {
    match Error::from(error) {
        Error::Database { why } => Error::CannotOpen {
            path: path.to_owned(),
            why,
        },
        known => known,
    }
}
