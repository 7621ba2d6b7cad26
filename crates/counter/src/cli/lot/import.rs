//! `whirlwright lot import`: files of parts come in.

use std::path::{Path, PathBuf};

use clap::Args;

use super::files::Files;
use crate::cli::Out;
use crate::desk::job;
use crate::desk::lot::{self, Incoming};
use crate::desk::reading::Reading;
use crate::error::Trouble;
use crate::words;

/// Bring files of parts into a lot: all of a file or nothing of it.
#[derive(Debug, Args)]
pub struct Import {
    /// The name of the lot; it begins with the first file.
    lot: String,
    #[command(flatten)]
    files: Files,
    /// These are new weighings of parts that may be in the lot already; old readings are kept.
    #[arg(long)]
    again: bool,
    /// The job file that says which readings and cavities are believed; without it the one that
    /// lies beside the first file, if any.
    #[arg(long, value_name = "FILE")]
    job: Option<PathBuf>,
    #[command(flatten)]
    reading: Reading,
}

impl Import {
    pub async fn run(self, out: &Out, ledger: &Path) -> Result<u8, Trouble> {
        let files = self.files.by_kind();
        let beside = || job::only_one_in(files.first()?.1.parent()?);
        let job = self
            .job
            .or_else(beside)
            .map(|path| job::read(&path))
            .transpose()?;
        let incoming = Incoming {
            files,
            again: self.again,
            reading: self.reading,
        };
        let imported =
            lot::import(ledger, &self.lot, &incoming, &job::windows(job.as_ref())).await?;
        out.value(&imported, words::imported)?;
        Ok(0)
    }
}
