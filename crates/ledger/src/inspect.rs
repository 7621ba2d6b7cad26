//! What lies at a path, found out without changing a byte of it.

use std::path::Path;
use std::time::Duration;

use sqlx::migrate::Migrator;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use sqlx::{ConnectOptions, Connection};

use crate::error::{BUSY_WAIT_S, says_damaged, says_no_database, says_read_only};
use crate::open::cannot_open;
use crate::{Error, copies};

/// "WWRL" in the file's header; the same number stands in the first migration.
const APPLICATION_ID: i64 = 1_465_340_492;

/// The format this program writes.
pub(crate) fn newest(migrations: &Migrator) -> i64 {
    migrations
        .iter()
        .map(|migration| migration.version)
        .max()
        .unwrap_or(0)
}

/// How a ledger is opened for reading only.
pub(crate) fn reading(path: &Path) -> SqliteConnectOptions {
    SqliteConnectOptions::new()
        .filename(path)
        .read_only(true)
        .busy_timeout(Duration::from_secs(BUSY_WAIT_S))
        .foreign_keys(true)
}

/// A connection that changes nothing, except where a killed process left a journal behind: that
/// has to be played back before anybody can read, and only one that may write can do it.
async fn connect(path: &Path) -> Result<SqliteConnection, sqlx::Error> {
    let mut connection = reading(path).connect().await?;
    let tried: Result<i64, _> = sqlx::query_scalar("SELECT count(*) FROM sqlite_master")
        .fetch_one(&mut connection)
        .await;
    match tried {
        Err(why) if says_read_only(&why) => {
            connection.close().await?;
            reading(path).read_only(false).connect().await
        }
        _ => Ok(connection),
    }
}

/// The format of the ledger at `path`; none if it holds nothing yet.
pub(crate) async fn version(path: &Path, migrations: &Migrator) -> Result<Option<i64>, Error> {
    let mut connection = connect(path).await.map_err(|why| not_readable(path, why))?;
    let seen = version_of(&mut connection, path, migrations).await;
    connection.close().await?;
    seen
}

/// The same, after the file passed the database's own check; a damaged one is refused with the
/// copies that could take its place.
pub(crate) async fn sound(path: &Path, migrations: &Migrator) -> Result<Option<i64>, Error> {
    let seen = match version(path, migrations).await {
        Ok(seen) => quick_check(path)
            .await?
            .map_or(Ok(seen), |found| Err(damaged(path, "quick_check", found))),
        refused => refused,
    };
    match seen {
        Err(Error::Damaged {
            path, check, found, ..
        }) => {
            let copies = copies::good_ones(&path, migrations).await;
            Err(Error::Damaged {
                path,
                check,
                found,
                copies,
            })
        }
        Err(Error::NotALedger { path, why }) => {
            // A copy beside it says that this was a ledger before its first page went bad.
            let copies = copies::good_ones(&path, migrations).await;
            if copies.is_empty() {
                return Err(Error::NotALedger { path, why });
            }
            Err(Error::Damaged {
                path,
                check: "header".to_owned(),
                found: why,
                copies,
            })
        }
        seen => seen,
    }
}

/// What the database's own check finds wrong; none if the file is sound.
pub(crate) async fn quick_check(path: &Path) -> Result<Option<String>, Error> {
    let mut connection = connect(path).await.map_err(|why| cannot_open(path, why))?;
    let found: Result<Vec<String>, _> = sqlx::query_scalar("PRAGMA quick_check(3)")
        .fetch_all(&mut connection)
        .await;
    let verdict = match found {
        Ok(lines) if lines == ["ok"] => None,
        Ok(lines) => Some(lines.join("; ")),
        Err(why) if says_damaged(&why) => Some(why.to_string()),
        Err(why) => return Err(why.into()),
    };
    connection.close().await?;
    Ok(verdict)
}

async fn version_of(
    connection: &mut SqliteConnection,
    path: &Path,
    migrations: &Migrator,
) -> Result<Option<i64>, Error> {
    let mark: i64 = sqlx::query_scalar("PRAGMA application_id")
        .fetch_one(&mut *connection)
        .await
        .map_err(|why| not_readable(path, why))?;
    let tables: i64 = sqlx::query_scalar("SELECT count(*) FROM sqlite_master")
        .fetch_one(&mut *connection)
        .await
        .map_err(|why| not_readable(path, why))?;
    if tables == 0 {
        return Ok(None);
    }
    if mark != APPLICATION_ID {
        let why = "it is another program's database".to_owned();
        return Err(Error::NotALedger {
            path: path.to_owned(),
            why,
        });
    }
    let found: i64 =
        sqlx::query_scalar("SELECT coalesce(max(version), 0) FROM _sqlx_migrations WHERE success")
            .fetch_one(&mut *connection)
            .await
            .map_err(|why| not_readable(path, why))?;
    let known = newest(migrations);
    if found > known {
        let program = last_program(connection).await;
        return Err(Error::Newer {
            path: path.to_owned(),
            found,
            known,
            program,
        });
    }
    Ok(Some(found))
}

/// The version of the program that wrote last, as far as a newer format still says it so.
async fn last_program(connection: &mut SqliteConnection) -> String {
    sqlx::query_scalar("SELECT program FROM entries ORDER BY counter DESC LIMIT 1")
        .fetch_one(connection)
        .await
        .unwrap_or_else(|_| "(unknown)".to_owned())
}

fn not_readable(path: &Path, error: sqlx::Error) -> Error {
    if says_damaged(&error) {
        return damaged(path, "reading the list of tables", error.to_string());
    }
    if says_no_database(&error) {
        let why = "it is no database, or its first page is damaged".to_owned();
        return Error::NotALedger {
            path: path.to_owned(),
            why,
        };
    }
    cannot_open(path, error)
}

fn damaged(path: &Path, check: &str, found: String) -> Error {
    let copies = Vec::new();
    Error::Damaged {
        path: path.to_owned(),
        check: check.to_owned(),
        found,
        copies,
    }
}
