//! What the log of one spin says: which losses, how sure, and against the design.

use std::path::Path;

use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::part::{Answer, Job, Range};
use whirlwright_workshop::spin::{self, Given, KnownLoss, LogBody, LogGiven, fit_log};

use super::files::{Files, head, table};
use super::reading::Reading;
use super::{Spun, Stop};
use crate::desk::section;
use crate::error::Trouble;
use crate::keep;
use crate::read::log::LogFile;

/// Fits the log of a file and writes what was asked for.
///
/// # Errors
/// The file is no log of a spin-down, the job has faults, or a file cannot be written.
pub fn fit(
    path: &Path,
    job: Option<&Path>,
    reading: &Reading,
    files: &Files,
    stop: Stop<'_>,
) -> Result<Spun<LogBody>, Trouble> {
    let file = reading.file(path, stop)?;
    stop(1.0, "fitting");
    let (answer, design) = answer(file, job, reading)?;
    let body = &answer.body;
    let head = head(&keep::file_name(path), design.as_ref());
    let pictures = picture::spin::log_drawings(body);
    let rows = body
        .points
        .iter()
        .map(|p| vec![p.time_s, p.speed_rpm, p.fitted_rpm, p.residual_rpm]);
    let written = files.write(
        &picture::spin::log_drawing(body),
        || sheet::spin_test_sheet(&answer, &head, &pictures, &sheet::spin_log_rows(body)),
        Some(table("time_s,speed_rpm,fitted_rpm,residual_rpm", rows)),
    )?;
    Ok(Spun { answer, written })
}

/// The answer to a log that was read, and the job it was held against.
///
/// # Errors
/// The log cannot be fitted, or the job has faults.
pub fn answer(
    file: LogFile,
    job: Option<&Path>,
    reading: &Reading,
) -> Result<(Answer<LogBody>, Option<Job>), Trouble> {
    let LogFile {
        log,
        remarks,
        refused,
    } = file;
    let name = log.name.clone();
    let told = |why: spin::LogRefusal| Trouble::Input(format!("{name}: {why}"));
    let mut given = reading.given(log)?;
    let mut design = None;
    if let Some(path) = job {
        let held = against(given, path)?;
        (given, design) = (held.0, Some(held.1));
    }
    let mut answer = fit_log(&given).map_err(told)?;
    answer.body.repairs.extend(remarks);
    answer
        .body
        .repairs
        .extend(refused.iter().map(|finding| format!("left out: {finding}")));
    Ok((answer, design))
}

/// Holds a log against a job: its inertia, its losses, and the sleep foretold from the log's own first speed.
///
/// # Errors
/// The job has faults, or foretells nothing.
pub fn against(given: LogGiven, path: &Path) -> Result<(LogGiven, Job), Trouble> {
    let design = section::given(path)?;
    let mut job = design.job().clone();
    let told = |why: String| Trouble::Input(format!("{}: {why}", path.display()));
    let mut throw = job.throw.clone().unwrap_or_default();
    throw.speed_rpm = Some(Range::exactly(given.first_speed_rpm()));
    job.throw = Some(throw);
    let started = section::of_job(job, path)?;
    let foretold = Given::new(&started).map_err(|why| told(why.to_string()))?;
    let answer = spin::spin(&foretold).map_err(|why| told(why.to_string()))?;
    let losses = spin::likely_losses(&foretold, given.first_speed_rpm());
    let inertia = whirlwright_workshop::design::section(&design)
        .body
        .polar_inertia_g_mm2;
    let share = whirlwright_workshop::shelf::known("throw.inertia.doubt").value;
    let ends = answer.body.ends_at_rpm.likely;
    let held = given
        .with_inertia(inertia, share * inertia)
        .map_err(|why| told(why.to_string()))?
        .with_design(KnownLoss::all_of(&losses), Some(answer.body.sleep_s))
        .ending_at_rpm(ends)
        .map_err(|why| told(why.to_string()))?;
    Ok((held, design.job().clone()))
}
