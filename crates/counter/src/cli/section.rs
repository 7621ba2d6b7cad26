//! `whirlwright section`: mass and inertia of a design.

use clap::Args;

use super::Out;
use crate::desk::section::{self, Request};
use crate::error::Trouble;

/// Reckon a design: volume, mass, centre and inertia of every piece and of the whole; check it.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  whirlwright section dunlin.toml --svg cut.svg --step dunlin.step"
)]
pub struct Section {
    #[command(flatten)]
    request: Request,
}

impl Section {
    pub fn run(self, out: &Out) -> Result<u8, Trouble> {
        let section = section::section(&self.request)?;
        out.written(&section.written);
        out.answer(&section.answer, whirlwright_paper::text::section)
    }
}
