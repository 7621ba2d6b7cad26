//! Files of parts for `whirlwright lot import` and `whirlwright lot export`.

use std::path::{Path, PathBuf};

use clap::Args;
use whirlwright_workshop::part::Kind;

use super::Out;
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

/// Files of parts, one a kind.
#[derive(Debug, Args)]
pub struct Files {
    /// The file of halves (CSV or XLSX).
    #[arg(long, value_name = "FILE", required_unless_present_any = ["rims", "dressed", "parts"])]
    halves: Option<PathBuf>,
    /// The file of rims.
    #[arg(long, value_name = "FILE")]
    rims: Option<PathBuf>,
    /// The file of dressed halves.
    #[arg(long, value_name = "FILE")]
    dressed: Option<PathBuf>,
    /// The file of any other small parts.
    #[arg(long, value_name = "FILE")]
    parts: Option<PathBuf>,
}

impl Files {
    /// The files that were named, each with its kind of part.
    pub fn by_kind(self) -> Vec<(Kind, PathBuf)> {
        let kinds = [
            (Kind::Half, self.halves),
            (Kind::Rim, self.rims),
            (Kind::Dressed, self.dressed),
            (Kind::Other, self.parts),
        ];
        kinds
            .into_iter()
            .filter_map(|(kind, file)| Some((kind, file?)))
            .collect()
    }
}

impl Import {
    pub async fn run(self, out: &Out, ledger: &Path) -> Result<(), Trouble> {
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
        out.value(&imported, words::imported)
    }
}
