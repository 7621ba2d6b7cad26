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

#[cfg(test)]
mod tests {
    use std::borrow::Cow;

    use sqlx::SqlSafeStr;
    use sqlx::migrate::{Migration, MigrationType};
    use whirlwright_workshop::part::{Kind, LotPart};

    use super::*;
    use crate::{Import, ImportRow, Moment};

    fn import(parts: u32) -> Import {
        let row = |number: u32| {
            let mut part = LotPart::new(format!("D26-H{number:04}"), Kind::Half);
            part.mass_g = "10.80".parse().ok();
            ImportRow::from_part(number, format!("D26-H{number:04},10.80"), part)
        };
        Import {
            lot: "D26".to_owned(),
            kind: Kind::Half,
            file_name: "halves.csv".to_owned(),
            raw_bytes: format!("{parts} parts").into_bytes(),
            rows: (1..=parts).map(row).collect(),
            again: false,
            at: Moment::parse("2026-03-03T08:00:00+01:00").unwrap(),
            program: "0.1.0".to_owned(),
        }
    }

    /// Today's steps and one more, as a later program will have them.
    fn later(sql: &'static str) -> Migrator {
        let mut steps: Vec<Migration> = MIGRATIONS.iter().cloned().collect();
        let kind = MigrationType::Simple;
        let text = sql.into_sql_str();
        steps.push(Migration::new(2, Cow::Borrowed("later"), kind, text, false));
        Migrator::with_migrations(steps)
    }

    async fn before(path: &Path) -> (usize, PathBuf) {
        let ledger = Ledger::open(path).await.unwrap();
        ledger.import(&import(9)).await.unwrap();
        ledger.close().await;
        (9, PathBuf::from(format!("{}.before-v2", path.display())))
    }

    #[tokio::test]
    async fn law_an_old_ledger_is_copied_before_it_is_brought_up() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("ledger.db");
        let (parts, copy) = before(&path).await;
        let steps = later("CREATE TABLE notes (text TEXT)");
        for _ in 0..2 {
            let ledger = Ledger::open_with(&path, &steps, options(&path))
                .await
                .unwrap();
            sqlx::query("SELECT text FROM notes")
                .fetch_all(&ledger.pool)
                .await
                .unwrap();
            assert_eq!(ledger.parts("D26", Kind::Half).await.unwrap().len(), parts);
            ledger.close().await;
        }
        // The copy is still of the old format: today's program opens it and not the new one.
        let old = Ledger::open(&copy).await.unwrap();
        assert_eq!(old.parts("D26", Kind::Half).await.unwrap().len(), parts);
        assert!(matches!(
            Ledger::open(&path).await,
            Err(Error::Newer { found: 2, known: 1, program, .. }) if program == "0.1.0"
        ));
    }

    #[tokio::test]
    async fn law_a_step_that_fails_leaves_the_old_ledger_as_it_was() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("ledger.db");
        let (parts, copy) = before(&path).await;
        let steps = later("CREATE TABLE notes (text TEXT); INSERT INTO nowhere VALUES (1)");
        let failed = Ledger::open_with(&path, &steps, options(&path)).await;
        assert!(matches!(failed, Err(Error::Database { .. })));
        assert!(copy.exists());
        let ledger = Ledger::open(&path).await.unwrap();
        assert_eq!(ledger.parts("D26", Kind::Half).await.unwrap().len(), parts);
        let notes = sqlx::query("SELECT text FROM notes")
            .fetch_all(&ledger.pool)
            .await;
        assert!(notes.is_err(), "half of the step stayed");
    }

    /// The database is told that it may have no more pages, which it reports as a full disk.
    #[tokio::test]
    async fn refuses_when_the_disk_is_full_and_keeps_what_was_there() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("ledger.db");
        let (parts, _) = before(&path).await;
        let tight = options(&path).pragma("max_page_count", "60");
        let ledger = Ledger::open_with(&path, &MIGRATIONS, tight).await.unwrap();
        let full = ledger.import(&import(5000)).await;
        assert!(matches!(full, Err(Error::DiskFull)), "{full:?}");
        assert_eq!(ledger.parts("D26", Kind::Half).await.unwrap().len(), parts);
        assert_eq!(ledger.lot("D26").await.unwrap().files.len(), 1);
        ledger.close().await;
        Ledger::open(&path)
            .await
            .unwrap()
            .import(&import(5000))
            .await
            .unwrap();
    }
}
