//! The fit of a job's rim on its half: plain rings, the sections as drawn beside them, pictures and sheet.

use std::path::PathBuf;

use clap::Args;
use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::design;
use whirlwright_workshop::fitting::{self, Draws, FitBody, NOT_ASKED, StressPicture};
use whirlwright_workshop::part::quantity::{Dimension, Quantity};
use whirlwright_workshop::part::{Answer, Limits};

use super::rim::{Drawn, OfJob, Told, design_of, input, ours, said};
use super::sheets;
use crate::error::Trouble;
use crate::keep;

/// The fit, or one pair of it.
#[derive(Debug, Clone, Default, Args)]
pub struct Fit {
    /// The job.
    #[command(flatten)]
    pub of: OfJob,
    /// Measured bore of one pair, such as "48.003 mm"; needs --spigot.
    #[arg(
        long,
        value_name = "SIZE",
        requires = "spigot",
        allow_hyphen_values = true
    )]
    pub bore: Option<String>,
    /// Measured spigot of one pair.
    #[arg(
        long,
        value_name = "SIZE",
        requires = "bore",
        allow_hyphen_values = true
    )]
    pub spigot: Option<String>,
    /// What this clearance on the diameter does to the balance, such as "0.02 mm".
    #[arg(
        long,
        value_name = "SIZE",
        conflicts_with_all = ["bore", "spigot"],
        allow_hyphen_values = true
    )]
    pub clearance: Option<String>,
    /// How many random pairs are drawn.
    #[arg(long, value_name = "NUMBER", default_value_t = MANY_PAIRS)]
    pub pairs: u32,
    /// Seed of the random pairs.
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub seed: u64,
    /// Leave out the finite elements of the sections as drawn.
    #[arg(long)]
    pub no_section: bool,
    /// Also write the stress in the cut as SVG.
    #[arg(long, value_name = "FILE", conflicts_with = "no_section")]
    pub stress: Option<PathBuf>,
    /// Pictures and sheets.
    #[command(flatten)]
    pub drawn: Drawn,
}

/// So many random pairs are drawn where nobody says how many.
pub const MANY_PAIRS: u32 = 1_000_000;
/// Most random pairs: a few seconds.
const MOST_PAIRS: u32 = 20_000_000;

/// No bore of this trade is larger: a slip of the key.
const LARGEST_MM: f64 = 1000.0;

/// A fit that was reckoned.
#[derive(Debug)]
pub struct Fitted {
    /// The answer.
    pub answer: Answer<FitBody>,
    /// The stress in the cut, where the sections were reckoned.
    pub stress: Option<StressPicture>,
}

impl Fitted {
    /// The sheet as PDF.
    ///
    /// # Errors
    /// The sheet cannot be set.
    pub fn pdf(&self, design: &design::Given) -> Result<Vec<u8>, Trouble> {
        let head = sheets::head("", Some(design.job()));
        sheet::fit_sheet(&self.answer, self.stress.as_ref(), &head).map_err(ours)
    }

    /// The stress in the cut as SVG, or why there is none.
    ///
    /// # Errors
    /// The sections were left out.
    pub fn stress_svg(&self) -> Result<String, Trouble> {
        match (&self.answer.body.section, &self.stress) {
            (Some(section), Some(field)) => Ok(picture::stress(section, field)),
            _ => Err(Trouble::Input(format!(
                "there is no stress to draw, for the sections as drawn are left out: {}",
                self.answer
                    .body
                    .section_left_out
                    .as_deref()
                    .unwrap_or(NOT_ASKED)
            ))),
        }
    }
}

/// The fit of a job's rim on its half, with the files that are wanted.
///
/// # Errors
/// The job has faults, or what is asked cannot be a press.
pub fn fit(request: &Fit) -> Result<Told<FitBody>, Trouble> {
    let design = design_of(&request.of)?;
    let fitted = of_design(&design, request)?;
    let mut written = Vec::new();
    if let Some(path) = &request.drawn.svg {
        let picture = picture::fit(&fitted.answer.body);
        written.push(keep::write(path, picture.as_bytes())?);
    }
    if let Some(path) = &request.stress {
        written.push(keep::write(path, fitted.stress_svg()?.as_bytes())?);
    }
    if let Some(path) = &request.drawn.pdf {
        written.push(keep::write(path, &fitted.pdf(&design)?)?);
    }
    Ok(Told {
        answer: fitted.answer,
        written,
    })
}

/// The fit of a design.
///
/// # Errors
/// What is asked cannot be a press.
pub fn of_design(design: &design::Given, request: &Fit) -> Result<Fitted, Trouble> {
    if request.pairs == 0 || request.pairs > MOST_PAIRS {
        return Err(Trouble::Input(format!(
            "--pairs {}: 1 to {MOST_PAIRS} was expected",
            request.pairs
        )));
    }
    let mut given = fitting::Given::of_design(design).map_err(input)?;
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
    let section = if request.no_section {
        Err(NOT_ASKED.to_owned())
    } else {
        fitting::sections(design, &given).map_err(|why| why.to_string())
    };
    let (answer, stress) = fitting::with_section(&given, answer, section);
    Ok(Fitted { answer, stress })
}

fn measured(flag: &str, text: &str) -> Result<Limits, Trouble> {
    let size = Quantity::read(text, Dimension::Length).map_err(|e| said(flag, &e))?;
    if size.value <= 0.0 || size.value > LARGEST_MM {
        return Err(Trouble::Input(format!(
            "--{flag} {text}: more than 0 and at most {LARGEST_MM} mm was expected"
        )));
    }
    Ok(Limits {
        text: text.to_owned(),
        nominal_mm: size.value,
        lower_um: 0.0,
        upper_um: 0.0,
    })
}
