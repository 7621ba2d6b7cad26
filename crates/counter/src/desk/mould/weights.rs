//! Weighed halves of a hold-time study against the reckoning.

use std::path::{Path, PathBuf};

use whirlwright_paper::picture;
use whirlwright_workshop::moulding::{self, NoWeights, WeightsBody};
use whirlwright_workshop::part::Answer;

use super::{Fineness, Request, path_of, question};
use crate::error::Trouble;
use crate::keep;
use crate::read::weighings;

/// Weighings that were compared.
#[derive(Debug)]
pub struct Weighed {
    /// What the moulding station says.
    pub answer: Answer<WeightsBody>,
    /// The files, as they were named.
    pub written: Vec<PathBuf>,
}

/// Fits the uncertain numbers of a job's mould to weighed halves; `stop` is asked now and then.
///
/// # Errors
/// The job or the file has faults, the weighings do not carry the fit, or it was stopped.
pub fn weights(
    request: &Request,
    file: &Path,
    stop: &dyn Fn() -> bool,
) -> Result<Weighed, Trouble> {
    let (_, ready) = question(&path_of(request)?, request.grid.unwrap_or(Fineness::Coarse))?;
    let bytes = keep::read(file)?;
    let weighed = weighings::read(&keep::file_name(file), &bytes)
        .map_err(|refusal| Trouble::Files(vec![refusal]))?;
    let answer = moulding::weights(&ready, &weighed, stop).map_err(|why| match why {
        NoWeights::Stopped => Trouble::Stopped,
        other => Trouble::Input(format!("{}: {other}", file.display())),
    })?;
    let mut written = Vec::new();
    if let Some(path) = &request.svg {
        let svg = picture::mould::weights(&answer.body);
        written.push(keep::write(path, svg.as_bytes())?);
    }
    Ok(Weighed { answer, written })
}
