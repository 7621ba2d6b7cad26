//! Mould and press: a set-up, the moulder's studies, and what weighed halves tell.

mod runs;
mod setup;
mod study;
mod weights;

pub use setup::{Made, of_design, setup};
pub use study::{Studied, study, study_of};
pub use weights::{Weighed, weights};

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use whirlwright_workshop::design;
use whirlwright_workshop::moulding::{Grid, Ready, StudyKind};

use crate::desk::{job, section};
use crate::error::Trouble;

/// How finely a half is reckoned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum Fineness {
    /// For many runs; weights within a few hundredths of a percent.
    Coarse,
    /// For one set-up.
    #[default]
    Usual,
    /// To see what the usual one leaves; takes some seconds.
    Fine,
}

impl Fineness {
    fn grid(self) -> Grid {
        match self {
            Self::Coarse => Grid::coarse(),
            Self::Usual => Grid::usual(),
            Self::Fine => Grid::fine(),
        }
    }
}

/// Which study is done on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Which {
    /// Weight against hold time and hold pressure.
    Hold,
    /// Weight against hold time in small steps: when the gate freezes.
    Freeze,
    /// Pressure against time of filling.
    Fill,
    /// Cooling time against mould wall.
    Cooling,
    /// Melt against hold pressure: where every limit is kept.
    Window,
}

impl From<Which> for StudyKind {
    fn from(which: Which) -> Self {
        match which {
            Which::Hold => Self::Hold,
            Which::Freeze => Self::Freeze,
            Which::Fill => Self::Fill,
            Which::Cooling => Self::Cooling,
            Which::Window => Self::Window,
        }
    }
}

/// A set-up to be looked at, and where its pictures go.
#[derive(Debug, Clone, Default, Args)]
pub struct Request {
    /// The job file; without it the only one in this folder.
    pub job: Option<PathBuf>,
    /// How finely it is reckoned; studies take the coarse one unless told.
    #[arg(long, value_enum)]
    pub grid: Option<Fineness>,
    /// Also write the pictures as SVG.
    #[arg(long, value_name = "FILE")]
    pub svg: Option<PathBuf>,
    /// Also write a printed sheet.
    #[arg(long, value_name = "FILE")]
    pub pdf: Option<PathBuf>,
}

/// The design of a job file and the question of its mould.
///
/// # Errors
/// The job has faults, or what it says of mould, press or resin cannot be.
pub fn question(path: &Path, fineness: Fineness) -> Result<(design::Given, Ready), Trouble> {
    let design = section::given(path)?;
    let ready = Ready::of_design(&design, fineness.grid());
    let ready = ready.map_err(|why| Trouble::Input(format!("{}: {why}", path.display())))?;
    Ok((design, ready))
}

fn path_of(request: &Request) -> Result<PathBuf, Trouble> {
    request
        .job
        .clone()
        .or_else(|| job::only_one_in(Path::new("")))
        .ok_or_else(|| {
            Trouble::Input(
                "which job? name its file, such as `whirlwright mould dunlin.toml`; there is not just one in this folder"
                    .to_owned(),
            )
        })
}

fn ours(why: impl std::fmt::Display) -> Trouble {
    Trouble::Ours(format!("cannot set the sheet: {why}"))
}
