//! Copies of the whole ledger.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use sqlx::migrate::Migrator;
use sqlx::{ConnectOptions, Connection};

use crate::open::cannot_open;
use crate::{Error, Ledger, inspect};

impl Ledger {
    /// Writes a copy of the whole ledger, as it stands now, to a new file.
    ///
    /// # Errors
    /// [`Error::CannotOpen`] if the file is there already or cannot be made; [`Error::DiskFull`].
    pub async fn copy_to(&self, path: &Path) -> Result<(), Error> {
        let mut connection = self.pool.acquire().await?;
        vacuum_into(&mut connection, path).await
    }
}

/// Keeps `….before-vN` of a ledger that is about to be brought up to format N.
pub(crate) async fn before_migration(
    path: &Path,
    newest: i64,
    migrations: &Migrator,
) -> Result<(), Error> {
    let (part, done) = (
        beside(path, &format!(".part-v{newest}")),
        before_name(path, newest),
    );
    remove(&part)?;
    let mut connection = inspect::reading(path)
        .connect()
        .await
        .map_err(|why| cannot_open(path, why))?;
    vacuum_into(&mut connection, &part).await?;
    connection.close().await?;
    // Another process may have been faster: then this is a copy of the new format, and theirs
    // of the old one must stay.
    if inspect::version(&part, migrations).await? == Some(newest) {
        return remove(&part);
    }
    std::fs::rename(&part, &done).map_err(|why| no_file(&done, &why))
}

/// Copies beside a ledger that pass the check, the newest first.
pub(crate) async fn good_ones(path: &Path, migrations: &Migrator) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for (made, copy) in candidates(path) {
        let known = matches!(inspect::version(&copy, migrations).await, Ok(Some(_)));
        if known && matches!(inspect::quick_check(&copy).await, Ok(None)) {
            found.push((made, copy));
        }
    }
    found.sort();
    found.into_iter().rev().map(|(_, copy)| copy).collect()
}

/// Every `<name>.before-…` and `<name>.copy-…` in the folder, with the time it was made.
fn candidates(path: &Path) -> Vec<(std::time::SystemTime, PathBuf)> {
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    let Ok(entries) = std::fs::read_dir(folder.unwrap_or(Path::new("."))) else {
        return Vec::new();
    };
    let name = path
        .file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned();
    let of_ours = |other: &str| {
        let rest = other.strip_prefix(&name);
        rest.is_some_and(|rest| rest.starts_with(".before-v") || rest.starts_with(".copy-"))
            && !other.ends_with("-wal")
            && !other.ends_with("-shm")
    };
    entries
        .flatten()
        .filter(|entry| of_ours(&entry.file_name().to_string_lossy()))
        .filter_map(|entry| Some((entry.metadata().ok()?.modified().ok()?, entry.path())))
        .collect()
}

async fn vacuum_into(connection: &mut sqlx::SqliteConnection, path: &Path) -> Result<(), Error> {
    // The database would take an empty file; a copy never writes over anything.
    if path.exists() {
        let why = "there is a file already".to_owned();
        return Err(Error::CannotOpen {
            path: path.to_owned(),
            why,
        });
    }
    let Some(name) = path.to_str() else {
        let why = "the name is not plain text".to_owned();
        return Err(Error::CannotOpen {
            path: path.to_owned(),
            why,
        });
    };
    let done = sqlx::query("VACUUM INTO ?")
        .bind(name)
        .execute(&mut *connection)
        .await;
    done.map_err(|why| cannot_open(path, why))?;
    let file = std::fs::File::open(path).map_err(|why| no_file(path, &why))?;
    file.sync_all().map_err(|why| no_file(path, &why))
}

fn before_name(path: &Path, newest: i64) -> PathBuf {
    beside(path, &format!(".before-v{newest}"))
}

fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = OsString::from(path.as_os_str());
    name.push(ending);
    name.into()
}

fn remove(path: &Path) -> Result<(), Error> {
    match std::fs::remove_file(path) {
        Err(why) if why.kind() != std::io::ErrorKind::NotFound => Err(no_file(path, &why)),
        _ => Ok(()),
    }
}

fn no_file(path: &Path, why: &std::io::Error) -> Error {
    Error::CannotOpen {
        path: path.to_owned(),
        why: why.to_string(),
    }
}
