//! The section of a design: mass, inertia, checks, and its drawings.

use std::path::{Path, PathBuf};

use clap::Args;
use whirlwright_paper::{picture, sheet, step};
use whirlwright_workshop::design::{self, Given, SectionBody};
use whirlwright_workshop::part::{Answer, Job};

use crate::desk::{job, sheets};
use crate::error::Trouble;
use crate::keep;

/// A design to be looked at, and where its drawings go.
#[derive(Debug, Clone, Default, Args)]
pub struct Request {
    /// The job file.
    pub job: PathBuf,
    /// Also write the solid as a STEP file (ISO 10303-21).
    #[arg(long, value_name = "FILE")]
    pub step: Option<PathBuf>,
    /// Also write the picture of the cut as SVG.
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,
    /// Also write a printed sheet.
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
}

/// The answer, and the files that were written.
#[derive(Debug)]
pub struct Section {
    /// What the design station says.
    pub answer: Answer<SectionBody>,
    /// The files, as they were named.
    pub written: Vec<PathBuf>,
}

/// Reckons a job file's section and writes what was asked for.
///
/// # Errors
/// The job file has faults (all are said at once), or a file cannot be written.
pub fn section(request: &Request) -> Result<Section, Trouble> {
    let given = given(&request.job)?;
    let answer = design::section(&given);
    let mut written = Vec::new();
    if let Some(path) = &request.svg {
        written.push(keep::write(path, picture::cut(&answer.body).as_bytes())?);
    }
    if let Some(path) = &request.pdf {
        let head = sheets::head("", Some(given.job()));
        let pdf = sheet::section_sheet(&answer, &head)
            .map_err(|why| Trouble::Ours(format!("cannot set the sheet: {why}")))?;
        written.push(keep::write(path, &pdf)?);
    }
    if let Some(path) = &request.step {
        written.push(keep::write(path, step::write(given.job()).as_bytes())?);
    }
    Ok(Section { answer, written })
}

/// Reads a job file and checks its outlines.
///
/// # Errors
/// Every fault at once.
pub fn given(path: &Path) -> Result<Given, Trouble> {
    of_job(job::read(path)?, path)
}

/// Checks the outlines of a job.
///
/// # Errors
/// Every fault at once.
pub fn of_job(job: Job, path: &Path) -> Result<Given, Trouble> {
    Given::new(job).map_err(|faults| {
        let told: Vec<String> = faults
            .iter()
            .map(|f| format!("{}: piece {}: {}", path.display(), f.piece, f.what))
            .collect();
        Trouble::Input(told.join("\n"))
    })
}
