//! The rim as a turned part: its dimensions, a rim over its mass, a tray of rims.

use std::path::{Path, PathBuf};

use clap::Args;
use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::design;
use whirlwright_workshop::part::quantity::{Dimension, Quantity};
use whirlwright_workshop::part::{Answer, Kind};
use whirlwright_workshop::turning::{self, RecutBody, RimBody, TrayBody, Weighed};

use super::reading::Reading;
use super::{job, section, sheets};
use crate::error::Trouble;
use crate::keep;

/// The job file; without it the one that lies in the folder.
#[derive(Debug, Clone, Default, Args)]
pub struct OfJob {
    /// The job file; without it the only one in this folder.
    pub job: Option<PathBuf>,
}

/// Which picture and sheet are wanted beside the answer.
#[derive(Debug, Clone, Default, Args)]
pub struct Drawn {
    /// Also write the picture as SVG.
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,
    /// Also write a printed sheet.
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
}

/// A rim that was weighed, or a tray of them.
#[derive(Debug, Clone, Default, Args)]
pub struct Recut {
    /// The job.
    #[command(flatten)]
    pub of: OfJob,
    /// What the rim weighs, such as "18.12 g".
    #[arg(
        long,
        value_name = "MASS",
        conflicts_with = "tray",
        allow_hyphen_values = true
    )]
    pub mass: Option<String>,
    /// A table of rims (CSV or XLSX), in the order they were made.
    #[arg(long, value_name = "FILE")]
    pub tray: Option<PathBuf>,
    /// Of a tray: the first rim after the last offset, for the offset advice.
    #[arg(long, value_name = "SERIAL", requires = "tray")]
    pub since: Option<String>,
    /// Also write the recut card (of a tray the cut list) as PDF.
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
    /// Also write the picture of what comes off one rim as SVG.
    #[arg(long, value_name = "FILE", conflicts_with = "tray")]
    pub svg: Option<PathBuf>,
    /// How the table is read.
    #[command(flatten)]
    pub reading: Reading,
}

/// What a desk gives: the answer and the files that were written.
#[derive(Debug)]
pub struct Told<B> {
    /// The answer.
    pub answer: Answer<B>,
    /// The files, as they were named.
    pub written: Vec<PathBuf>,
}

/// The turned dimensions of a job's rim.
///
/// # Errors
/// The job has faults, or no turned piece.
pub fn rim(of: &OfJob, drawn: &Drawn) -> Result<Told<RimBody>, Trouble> {
    let design = design_of(of)?;
    let answer = of_design(&design)?;
    let mut written = Vec::new();
    if let Some(path) = &drawn.svg {
        written.push(keep::write(path, picture::rim(&answer.body).as_bytes())?);
    }
    if let Some(path) = &drawn.pdf {
        let head = sheets::head("", Some(design.job()));
        let pdf = sheet::rim_sheet(&answer, &head).map_err(ours)?;
        written.push(keep::write(path, &pdf)?);
    }
    Ok(Told { answer, written })
}

/// The turned dimensions of a design's rim.
///
/// # Errors
/// The design turns no piece.
pub fn of_design(design: &design::Given) -> Result<Answer<RimBody>, Trouble> {
    let given = turning::Given::of_design(design).map_err(input)?;
    turning::rim(&given).map_err(input)
}

/// One rim over its mass.
///
/// # Errors
/// The job has faults, or the mass is none.
pub fn one(request: &Recut, mass: &str) -> Result<Told<RecutBody>, Trouble> {
    let design = design_of(&request.of)?;
    let answer = of_mass(&design, mass)?;
    let outline = outline(&design, &answer.body.piece);
    let mut written = Vec::new();
    if let Some(path) = &request.svg {
        let picture = picture::recut(&answer.body, outline);
        written.push(keep::write(path, picture.as_bytes())?);
    }
    if let Some(path) = &request.pdf {
        let head = sheets::head("", Some(design.job()));
        let pdf = sheet::recut_card(&answer, outline, &head).map_err(ours)?;
        written.push(keep::write(path, &pdf)?);
    }
    Ok(Told { answer, written })
}

/// One rim of a design over its mass.
///
/// # Errors
/// The mass is none, or the design turns no piece.
pub fn of_mass(design: &design::Given, mass: &str) -> Result<Answer<RecutBody>, Trouble> {
    let given = turning::Given::of_design(design).map_err(input)?;
    let mass = Quantity::read(mass, Dimension::Mass).map_err(|e| said("mass", &e))?;
    turning::recut(&given, mass.value).map_err(input)
}

/// The outline of a piece as an SVG path.
#[must_use]
pub fn outline<'a>(design: &'a design::Given, piece: &str) -> &'a str {
    let pieces = &design.job().pieces;
    let found = pieces.iter().find(|p| p.name == piece);
    found.map_or("", |p| &p.outline.path)
}

/// A tray of rims.
///
/// # Errors
/// The job or the table has faults, or `--since` names no rim of it.
pub fn tray(request: &Recut, path: &Path) -> Result<Told<TrayBody>, Trouble> {
    let design = design_of(&request.of)?;
    let given = turning::Given::of_design(&design).map_err(input)?;
    let windows = job::windows(Some(design.job()));
    let taken = request.reading.file(path, Kind::Rim, &windows)?;
    let weighed = |part: &whirlwright_workshop::part::LotPart| {
        let mass_g = part.mass_g?.to_f64();
        Some(Weighed {
            serial: part.serial.clone(),
            mass_g,
        })
    };
    let parts = taken.file.parts.iter();
    let pieces: Vec<Weighed> = parts.filter_map(weighed).collect();
    let from = match &request.since {
        None => 0,
        Some(serial) => pieces
            .iter()
            .position(|p| p.serial == *serial)
            .ok_or_else(|| {
                Trouble::Input(format!(
                    "--since {serial}: {} has no weighed rim of that serial",
                    path.display()
                ))
            })?,
    };
    let answer = turning::tray(&given, &pieces, from).map_err(input)?;
    let mut written = Vec::new();
    if let Some(path) = &request.pdf {
        let head = sheets::head("", Some(design.job()));
        let pdf = sheet::cut_list(&answer, &head).map_err(ours)?;
        written.push(keep::write(path, &pdf)?);
    }
    Ok(Told { answer, written })
}

pub(super) fn design_of(of: &OfJob) -> Result<design::Given, Trouble> {
    let path = match &of.job {
        Some(path) => path.clone(),
        None => job::only_one_in(Path::new("")).ok_or_else(|| {
            Trouble::Input(
                "which job? name its file, such as `whirlwright rim dunlin.toml`; there is not just one in this folder".to_owned(),
            )
        })?,
    };
    section::given(&path)
}

pub(super) fn input(why: impl std::fmt::Display) -> Trouble {
    Trouble::Input(why.to_string())
}

pub(super) fn said(flag: &str, why: &impl std::fmt::Display) -> Trouble {
    Trouble::Input(format!("--{flag}: {why}"))
}

pub(super) fn ours(why: impl std::fmt::Display) -> Trouble {
    Trouble::Ours(format!("cannot set the sheet: {why}"))
}
