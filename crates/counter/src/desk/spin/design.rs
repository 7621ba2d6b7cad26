//! The forecast of a design: throw, sleep, return.

use std::path::Path;

use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::part::Answer;
use whirlwright_workshop::spin::{self, Given, SpinBody};

use super::Spun;
use super::files::{Files, table};
use crate::desk::{section, sheets};
use crate::error::Trouble;
use crate::keep;

/// Foretells the spin of a job file's design and writes what was asked for.
///
/// # Errors
/// The job file has faults, what it says of the throw cannot be, or a file cannot be written.
pub fn spin(job: &Path, files: &Files, levers: Option<&Path>) -> Result<Spun<SpinBody>, Trouble> {
    let design = section::given(job)?;
    let answer = forecast(&design, job)?;
    let body = &answer.body;
    let head = sheets::head("", Some(design.job()));
    let mut written = files.write(
        &picture::spin::spin_drawing(body),
        || sheet::spin_sheet(&answer, &head),
        Some(curve(body)),
    )?;
    if let Some(path) = levers {
        let svg = picture::spin::levers(body);
        written.push(keep::write(path, svg.as_bytes())?);
    }
    Ok(Spun { answer, written })
}

/// The forecast of a checked design.
///
/// # Errors
/// What the job says of bearing, string, throw or air cannot be.
pub fn forecast(
    design: &whirlwright_workshop::design::Given,
    path: &Path,
) -> Result<Answer<SpinBody>, Trouble> {
    let told = |refusal: spin::Refusal| Trouble::Input(format!("{}: {refusal}", path.display()));
    let given = Given::new(design).map_err(told)?;
    spin::spin(&given).map_err(told)
}

fn curve(body: &SpinBody) -> String {
    let header = "time_s,speed_rpm,bearing_un_m,faces_un_m,rim_un_m,gap_un_m,string_un_m";
    let rows = body.curve.iter().map(|p| {
        vec![
            p.time_s,
            p.speed_rpm,
            p.bearing_un_m,
            p.faces_un_m,
            p.rim_un_m,
            p.gap_un_m,
            p.string_un_m,
        ]
    });
    table(header, rows)
}
