//! `whirlwright rim`: the rim to its mass, and on its half.

use clap::{Args, Subcommand};
use whirlwright_paper::text;

use super::Out;
use crate::desk::rim::{self, Drawn, Fit, OfJob, Recut};
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
  whirlwright rim recut dunlin.toml --mass \"18.17 g\"
  whirlwright rim recut dunlin.toml --tray rims_heavy.csv
  whirlwright rim fit dunlin.toml --svg fit.svg
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
            None => {
                let told = rim::rim(&self.of, &self.drawn)?;
                out.written(&told.written);
                out.answer(&told.answer, text::rim)
            }
            Some(Act::Recut(request)) => match (&request.mass, &request.tray) {
                (Some(mass), _) => out.answer(&rim::one(&request, mass)?, text::recut),
                (None, Some(path)) => out.answer(&rim::tray(&request, path)?, text::tray),
                (None, None) => Err(Trouble::Input("give --mass or --tray".to_owned())),
            },
            Some(Act::Fit(request)) => {
                let told = rim::fit(&request)?;
                out.written(&told.written);
                out.answer(&told.answer, text::fit)
            }
        }
    }
}
