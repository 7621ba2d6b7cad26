//! `whirlwright lot trace`: where one part came from and where it went.

use std::path::Path;

use clap::Args;

use crate::cli::Out;
use crate::desk::lot;
use crate::error::Trouble;

/// Everything that is known of one part: readings with their source, sets, partners.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  whirlwright lot trace D26-H0012")]
pub struct Trace {
    /// The serial, as written on the part.
    serial: String,
    /// The lot, where a serial stands in several.
    #[arg(long)]
    lot: Option<String>,
}

impl Trace {
    pub async fn run(self, out: &Out, ledger: &Path) -> Result<u8, Trouble> {
        let trace = lot::trace(ledger, &self.serial, self.lot.as_deref()).await?;
        out.value(&trace, whirlwright_paper::text::trace)?;
        Ok(0)
    }
}
