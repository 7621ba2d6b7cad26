//! One set-up.

use std::path::{Path, PathBuf};

use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::design;
use whirlwright_workshop::moulding::{self, MouldBody, MouldView};
use whirlwright_workshop::part::Answer;

use super::{Fineness, Request, ours, path_of, question};
use crate::desk::sheets;
use crate::error::Trouble;
use crate::keep;

/// A set-up that was reckoned.
#[derive(Debug)]
pub struct Made {
    /// What the moulding station says.
    pub answer: Answer<MouldBody>,
    /// What its pictures need beside.
    pub view: MouldView,
    /// The design.
    pub design: design::Given,
    /// The files, as they were named.
    pub written: Vec<PathBuf>,
}

/// Reckons a job's set-up and writes what was asked for.
///
/// # Errors
/// The job has faults, or a file cannot be written.
pub fn setup(request: &Request) -> Result<Made, Trouble> {
    let path = path_of(request)?;
    let mut made = of_design(&path, request.grid.unwrap_or_default())?;
    if let Some(path) = &request.svg {
        let svg = picture::mould::mould(&made.answer.body, &made.view);
        made.written.push(keep::write(path, svg.as_bytes())?);
    }
    if let Some(path) = &request.pdf {
        made.written.push(keep::write(path, &made.pdf()?)?);
    }
    Ok(made)
}

/// Reckons the set-up of a job file.
///
/// # Errors
/// The job has faults.
pub fn of_design(path: &Path, fineness: Fineness) -> Result<Made, Trouble> {
    let (design, ready) = question(path, fineness)?;
    let told = |why: moulding::Refusal| Trouble::Input(format!("{}: {why}", path.display()));
    let (answer, view) = moulding::mould(&ready).map_err(told)?;
    Ok(Made {
        answer,
        view,
        design,
        written: Vec::new(),
    })
}

impl Made {
    /// The set-up sheet.
    ///
    /// # Errors
    /// The sheet cannot be set.
    pub fn pdf(&self) -> Result<Vec<u8>, Trouble> {
        let head = sheets::head("", Some(self.design.job()));
        sheet::mould_sheet(&self.answer, &self.view, &head).map_err(ours)
    }
}
