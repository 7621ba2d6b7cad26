//! The permissible unbalance of a job, shared out.

use std::path::{Path, PathBuf};

use clap::Args;
use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::balance::{self, LimitBody, LimitGiven};
use whirlwright_workshop::part::balance_wishes::BalanceWishes;
use whirlwright_workshop::part::{Answer, Dimension, Job, Quantity};

use crate::desk::{job, section, sheets};
use crate::error::Trouble;
use crate::keep;
use crate::read::balance::grade_of;

/// A job, with what is asked of it where the file does not say it.
#[derive(Debug, Clone, Default, Args)]
pub struct Request {
    /// The job file.
    pub job: PathBuf,
    /// The balance quality grade, before the one the job says.
    #[arg(long, value_name = "\"G 6.3\"")]
    pub grade: Option<String>,
    /// The speed the grade is wanted at, before the one the job says.
    #[arg(long, value_name = "\"5000 rpm\"")]
    pub speed: Option<String>,
    /// Also write the picture of the budget as SVG.
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,
    /// Also write a printed sheet.
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
}

/// The answer, and the files that were written.
#[derive(Debug)]
pub struct Limit {
    /// What the balance station says.
    pub answer: Answer<LimitBody>,
    /// The files, as they were named.
    pub written: Vec<PathBuf>,
}

/// Reckons the limit of a job and writes what was asked for.
///
/// # Errors
/// The job file has faults, says neither grade nor limit nor speed, or a file cannot be written.
pub fn limit(request: &Request) -> Result<Limit, Trouble> {
    let job = asked(job::read(&request.job)?, request)?;
    let head = sheets::head(&job.name, Some(&job));
    let answer = of_job(job, &request.job)?;
    let mut written = Vec::new();
    if let Some(path) = &request.svg {
        let svg = picture::budget(&answer.body);
        written.push(keep::write(path, svg.as_bytes())?);
    }
    if let Some(path) = &request.pdf {
        let pdf = sheet::limit_sheet(&answer, &head)
            .map_err(|why| Trouble::Ours(format!("cannot set the sheet: {why}")))?;
        written.push(keep::write(path, &pdf)?);
    }
    Ok(Limit { answer, written })
}

/// The limit of a job that is read already.
///
/// # Errors
/// An outline that cannot be used; neither grade nor limit nor speed.
pub fn of_job(job: Job, path: &Path) -> Result<Answer<LimitBody>, Trouble> {
    let drawing = section::of_job(job, path)?;
    let given = LimitGiven::of_job(&drawing)?;
    Ok(balance::limit(&given))
}

/// The job with what the command says before it.
fn asked(mut job: Job, request: &Request) -> Result<Job, Trouble> {
    let mut faults = Vec::new();
    let wishes = job.balance.get_or_insert_with(BalanceWishes::default);
    if let Some(text) = &request.grade {
        match grade_of(text) {
            Some(grade) => {
                wishes.grade_mm_per_s = Some(grade);
                wishes.limit_g_mm = None;
            }
            None => faults.push(format!(
                "--grade: `{text}` is no balance quality grade; one such as \"G 6.3\" was expected"
            )),
        }
    }
    if let Some(text) = &request.speed {
        match Quantity::read(text, Dimension::AngularSpeed) {
            Ok(speed) if speed.value > 0.0 => wishes.speed_rpm = Some(speed.value),
            Ok(speed) => faults.push(format!(
                "--speed: {speed} was read; more than 0 was expected"
            )),
            Err(why) => faults.push(format!("--speed: {why}")),
        }
    }
    if faults.is_empty() {
        Ok(job)
    } else {
        Err(Trouble::Input(faults.join("\n")))
    }
}
