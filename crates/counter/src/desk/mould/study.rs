//! A study done on paper first.

use std::path::PathBuf;

use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::moulding::{self, StudyBody, StudyKind};
use whirlwright_workshop::part::Answer;

use super::runs::runs;
use super::{Fineness, Request, ours, path_of, question};
use crate::desk::sheets;
use crate::error::Trouble;
use crate::keep;

/// A study that was reckoned.
#[derive(Debug)]
pub struct Studied {
    /// What the moulding station says.
    pub answer: Answer<StudyBody>,
    /// The files, as they were named.
    pub written: Vec<PathBuf>,
}

/// Reckons a study of a job and writes what was asked for; `stop` is asked with the share done, and ends it with
/// what there is.
///
/// # Errors
/// The job has faults, nothing was done before it was stopped, or a file cannot be written.
pub fn study(
    request: &Request,
    kind: StudyKind,
    runs_count: Option<usize>,
    stop: impl FnMut(f64) -> bool,
) -> Result<Studied, Trouble> {
    let path = path_of(request)?;
    let fineness = request.grid.unwrap_or(Fineness::Coarse);
    let (design, answer) = study_of(&path, kind, runs_count, fineness, stop)?;
    let mut written = Vec::new();
    if let Some(path) = &request.svg {
        let svg = picture::mould::study(&answer.body);
        written.push(keep::write(path, svg.as_bytes())?);
    }
    if let Some(path) = &request.pdf {
        let head = sheets::head("", Some(design.job()));
        let pdf = sheet::study_sheet(&answer, &head).map_err(ours)?;
        written.push(keep::write(path, &pdf)?);
    }
    Ok(Studied { answer, written })
}

/// Reckons a study of a job file.
///
/// # Errors
/// See [`study`].
pub fn study_of(
    path: &std::path::Path,
    kind: StudyKind,
    runs_count: Option<usize>,
    fineness: Fineness,
    stop: impl FnMut(f64) -> bool,
) -> Result<(whirlwright_workshop::design::Given, Answer<StudyBody>), Trouble> {
    let (design, ready) = question(path, fineness)?;
    let told = |why: moulding::Refusal| Trouble::Input(format!("{}: {why}", path.display()));
    let plan = moulding::study_plan(ready, kind, runs_count).map_err(told)?;
    let done = runs(&plan.settings, |setting| plan.run(setting), stop);
    if done.iter().all(Option::is_none) {
        return Err(Trouble::Stopped);
    }
    Ok((design, moulding::study(&plan, done)))
}
