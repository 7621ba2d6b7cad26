//! Reading job files, format 1: all faults at once, each with its place.

mod error;

use whirlwright_workshop::part::Job;

pub use error::{JobError, JobErrors};

/// Gives the text of a file a job refers to, by the path the job writes; an error in words.
pub type Fetch<'a> = &'a dyn Fn(&str) -> Result<String, String>;

/// Reads a job file.
///
/// `file` is only a name for messages; `fetch` gives the text of outlines kept in other files.
///
/// # Errors
/// Every fault of the file at once.
pub fn read(_text: &str, _file: &str, _fetch: Fetch<'_>) -> Result<Job, JobErrors> {
    unimplemented!()
}
