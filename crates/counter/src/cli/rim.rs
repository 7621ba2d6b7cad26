//! `whirlwright rim`: the rim to its mass, and on its half.

use clap::{Args, Subcommand};
use serde::Serialize;
use whirlwright_paper::text;
use whirlwright_workshop::part::Answer;

use super::Out;
use crate::desk::rim::{self, Drawn, OfJob, Recut, Told};
use crate::desk::rim_fit::{self, Fit};
use crate::error::Trouble;

/// What each turned dimension does, how a heavy rim is recut, and whether the rim sits.
#[derive(Debug, Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true, after_help = EXAMPLES)]
pub struct Rim {
    #[command(flatten)]
    of: OfJob,
    #[command(flatten)]
    drawn: Drawn,
    #[command(subcommand)]
    act: Option<Act>,
}

const EXAMPLES: &str = "Examples:
  whirlwright rim dunlin.toml
  whirlwright rim recut dunlin.toml --mass \"18.17 g\" --pdf card.pdf
  whirlwright rim recut dunlin.toml --tray rims_heavy.csv
  whirlwright rim fit dunlin.toml --svg fit.svg --stress stress.svg
  whirlwright rim fit dunlin.toml --bore \"48.003 mm\" --spigot \"48.095 mm\"";

#[derive(Debug, Subcommand)]
enum Act {
    /// How much to take off which face or diameter of a rim over its mass, or of a tray of them.
    Recut(Box<Recut>),
    /// Pressure, hold and strains of the rim on its half, over weather and years; the limits to take.
    Fit(Box<Fit>),
}

impl Rim {
    pub fn run(self, out: &Out) -> Result<u8, Trouble> {
        match self.act {
            None => tell(out, &rim::rim(&self.of, &self.drawn)?, text::rim),
            Some(Act::Recut(request)) => match (&request.mass, &request.tray) {
                (Some(mass), _) => tell(out, &rim::one(&request, mass)?, text::recut),
                (None, Some(path)) => tell(out, &rim::tray(&request, path)?, text::tray),
                (None, None) => Err(Trouble::Input(
                    "what does the rim weigh? give --mass \"18.17 g\", or --tray FILE for many"
                        .to_owned(),
                )),
            },
            Some(Act::Fit(request)) => tell(out, &rim_fit::fit(&request)?, text::fit),
        }
    }
}

fn tell<B: Serialize>(
    out: &Out,
    told: &Told<B>,
    text: impl FnOnce(&Answer<B>) -> String,
) -> Result<u8, Trouble> {
    out.written(&told.written);
    out.answer(&told.answer, text)
}
