//! The rim: its dimensions, a rim over its mass, a tray of rims, its fit on the half.

use std::path::{Path, PathBuf};

use clap::Args;
use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::design;
use whirlwright_workshop::fitting::{self, Draws, FitBody};
use whirlwright_workshop::part::quantity::{Dimension, Quantity};
use whirlwright_workshop::part::{Answer, Kind, Limits};
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
        required_unless_present = "tray"
    )]
    pub mass: Option<String>,
    /// A table of rims (CSV or XLSX), in the order they were made.
    #[arg(long, value_name = "FILE")]
    pub tray: Option<PathBuf>,
    /// Of a tray: the first rim after the last offset, for the offset advice.
    #[arg(long, value_name = "SERIAL", requires = "tray")]
    pub since: Option<String>,
    /// How the table is read.
    #[command(flatten)]
    pub reading: Reading,
}

/// The fit, or one pair of it.
#[derive(Debug, Clone, Default, Args)]
pub struct Fit {
    /// The job.
    #[command(flatten)]
    pub of: OfJob,
    /// Measured bore of one pair, such as "48.003 mm"; needs --spigot.
    #[arg(long, value_name = "SIZE", requires = "spigot")]
    pub bore: Option<String>,
    /// Measured spigot of one pair.
    #[arg(long, value_name = "SIZE", requires = "bore")]
    pub spigot: Option<String>,
    /// What this clearance on the diameter does to the balance, such as "0.02 mm".
    #[arg(long, value_name = "SIZE", conflicts_with_all = ["bore", "spigot"])]
    pub clearance: Option<String>,
    /// How many random pairs are drawn.
    #[arg(long, value_name = "NUMBER", default_value_t = 1_000_000)]
    pub pairs: u32,
    /// Seed of the random pairs.
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub seed: u64,
    /// Pictures and sheets.
    #[command(flatten)]
    pub drawn: Drawn,
}

/// What a desk gives: the answer and the files that were written.
#[derive(Debug)]
pub struct Told<B> {
    /// The answer.
    pub answer: Answer<B>,
    /// The files, as they were named.
    pub written: Vec<PathBuf>,
}

/// Most random pairs: a few seconds.
const MOST_PAIRS: u32 = 20_000_000;

/// The turned dimensions of a job's rim.
///
/// # Errors
/// The job has faults, or no turned piece.
pub fn rim(of: &OfJob, drawn: &Drawn) -> Result<Told<RimBody>, Trouble> {
    let design = design_of(of)?;
    let given = turning::Given::of_design(&design).map_err(input)?;
    let answer = turning::rim(&given).map_err(input)?;
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

/// One rim over its mass.
///
/// # Errors
/// The job has faults, or the mass is none.
pub fn one(request: &Recut, mass: &str) -> Result<Answer<RecutBody>, Trouble> {
    let given = turning::Given::of_design(&design_of(&request.of)?).map_err(input)?;
    let mass = Quantity::read(mass, Dimension::Mass).map_err(|e| said("mass", &e))?;
    turning::recut(&given, mass.value).map_err(input)
}

/// A tray of rims.
///
/// # Errors
/// The job or the table has faults, or `--since` names no rim of it.
pub fn tray(request: &Recut, path: &Path) -> Result<Answer<TrayBody>, Trouble> {
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
    turning::tray(&given, &pieces, from).map_err(input)
}

/// The fit of a job's rim on its half.
///
/// # Errors
/// The job has faults, or what is asked cannot be a press.
pub fn fit(request: &Fit) -> Result<Told<FitBody>, Trouble> {
    if request.pairs == 0 || request.pairs > MOST_PAIRS {
        return Err(Trouble::Input(format!(
            "--pairs {}: 1 to {MOST_PAIRS} was expected",
            request.pairs
        )));
    }
    let design = design_of(&request.of)?;
    let mut given = fitting::Given::of_design(&design).map_err(input)?;
    if let (Some(bore), Some(spigot)) = (&request.bore, &request.spigot) {
        given.fit.hole = measured("bore", bore)?;
        given.fit.shaft = measured("spigot", spigot)?;
        (given.hole_sd_um, given.shaft_sd_um) = (0.0, 0.0);
        given = given.checked().map_err(input)?;
    }
    let draws = Draws {
        pairs_count: request.pairs,
        seed: request.seed,
    };
    let mut answer = fitting::fit(&given, draws);
    if let Some(clearance) = &request.clearance {
        let size = Quantity::read(clearance, Dimension::Length);
        let size = size.map_err(|e| said("clearance", &e))?.value;
        if size < 0.0 {
            return Err(Trouble::Input(format!(
                "--clearance {clearance}: 0 or more was expected"
            )));
        }
        answer = fitting::with_clearance(&given, answer, size * 1000.0);
    }
    let mut written = Vec::new();
    if let Some(path) = &request.drawn.svg {
        written.push(keep::write(path, picture::fit(&answer.body).as_bytes())?);
    }
    if let Some(path) = &request.drawn.pdf {
        let head = sheets::head("", Some(design.job()));
        let pdf = sheet::fit_sheet(&answer, &head).map_err(ours)?;
        written.push(keep::write(path, &pdf)?);
    }
    Ok(Told { answer, written })
}

fn measured(flag: &str, text: &str) -> Result<Limits, Trouble> {
    let size = Quantity::read(text, Dimension::Length).map_err(|e| said(flag, &e))?;
    if size.value <= 0.0 {
        return Err(Trouble::Input(format!(
            "--{flag} {text}: more than 0 was expected"
        )));
    }
    Ok(Limits {
        text: text.to_owned(),
        nominal_mm: size.value,
        lower_um: 0.0,
        upper_um: 0.0,
    })
}

fn design_of(of: &OfJob) -> Result<design::Given, Trouble> {
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

fn input(why: impl std::fmt::Display) -> Trouble {
    Trouble::Input(why.to_string())
}

fn said(flag: &str, why: &impl std::fmt::Display) -> Trouble {
    Trouble::Input(format!("--{flag}: {why}"))
}

fn ours(why: impl std::fmt::Display) -> Trouble {
    Trouble::Ours(format!("cannot set the sheet: {why}"))
}
