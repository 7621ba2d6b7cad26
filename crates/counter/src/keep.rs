//! The one place where files are written and read: whole or not at all.

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use crate::error::Trouble;

/// Largest file that is read, in bytes: ample for a lot of 300,000 parts, and small enough that a
/// wrong file is refused before it fills the memory.
pub const LARGEST_FILE_BYTES: u64 = 20 * 1024 * 1024;

/// Writes a file whole or not at all: a temporary file beside it, synced, then renamed over it.
///
/// # Errors
/// The folder is missing, may not be written to, or is full.
pub fn write(path: &Path, bytes: &[u8]) -> Result<PathBuf, Trouble> {
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    let wrong = |e: std::io::Error| Trouble::file(path, "write", &e);
    let mut file = tempfile::Builder::new()
        .prefix(".whirlwright-")
        .tempfile_in(folder)
        .map_err(wrong)?;
    file.write_all(bytes).map_err(wrong)?;
    file.as_file().sync_all().map_err(wrong)?;
    make_readable(file.path()).map_err(wrong)?;
    file.persist(path).map_err(|e| wrong(e.error))?;
    // The rename itself is on disk only when the folder is.
    if let Ok(folder) = fs::File::open(folder) {
        folder.sync_all().map_err(wrong)?;
    }
    Ok(path.to_owned())
}

/// Temporary files are made for their owner alone; what a person asked for follows the usual rights.
#[cfg(unix)]
fn make_readable(path: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(path, fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn make_readable(_path: &Path) -> std::io::Result<()> {
    Ok(())
}

/// Reads a whole file of at most [`LARGEST_FILE_BYTES`].
///
/// # Errors
/// The file is missing, is a folder, or is larger than that.
pub fn read(path: &Path) -> Result<Vec<u8>, Trouble> {
    let wrong = |e: std::io::Error| Trouble::file(path, "read", &e);
    if path.is_dir() {
        return Err(Trouble::Input(format!(
            "{} is a folder; a file was expected",
            path.display()
        )));
    }
    let file = fs::File::open(path).map_err(wrong)?;
    let mut bytes = Vec::new();
    file.take(LARGEST_FILE_BYTES + 1)
        .read_to_end(&mut bytes)
        .map_err(wrong)?;
    if bytes.len() as u64 > LARGEST_FILE_BYTES {
        return Err(Trouble::Input(format!(
            "{} is larger than {} MB, the most that is read; split the file",
            path.display(),
            LARGEST_FILE_BYTES / (1024 * 1024)
        )));
    }
    Ok(bytes)
}

/// The last part of a path, for naming a file in a sentence or in the record.
#[must_use]
pub fn file_name(path: &Path) -> String {
    path.file_name().map_or_else(
        || path.display().to_string(),
        |n| n.to_string_lossy().into_owned(),
    )
}

/// Gives a folder that was filled aside its name, all at once.
///
/// # Errors
/// The name is taken, or the folder cannot be moved.
pub fn move_folder(filled: tempfile::TempDir, to: &Path) -> Result<(), Trouble> {
    let wrong = |e: std::io::Error| Trouble::file(to, "make", &e);
    open_to_read(filled.path()).map_err(wrong)?;
    if to.is_dir() {
        // Only an empty folder can be removed this way, so nothing is lost.
        fs::remove_dir(to).map_err(wrong)?;
    }
    fs::rename(filled.path(), to).map_err(wrong)?;
    // Its contents live elsewhere now: there is nothing left to tidy away.
    let _moved: PathBuf = filled.keep();
    Ok(())
}

#[cfg(unix)]
fn open_to_read(folder: &Path) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(folder, fs::Permissions::from_mode(0o755))
}

#[cfg(not(unix))]
fn open_to_read(_folder: &Path) -> std::io::Result<()> {
    Ok(())
}
