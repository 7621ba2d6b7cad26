//! `whirlwright lot void`: a set is given up.

use std::path::Path;

use clap::Args;

use crate::cli::Out;
use crate::desk::lot;
use crate::error::Trouble;

/// Give a set up: its parts are free again, its number is never used again.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  whirlwright lot void 17 --lot D26 --reason \"rim dropped\"")]
pub struct Void {
    /// The number of the set.
    set: u32,
    /// The lot it belongs to.
    #[arg(long)]
    lot: String,
    /// Why.
    #[arg(long)]
    reason: String,
}

impl Void {
    pub async fn run(self, out: &Out, ledger: &Path) -> Result<u8, Trouble> {
        let Self { set, lot, reason } = self;
        let written = lot::void(ledger, &lot, set, &reason).await?;
        out.value(&written, |_| {
            format!("Set {set} of lot {lot} is void; its parts are free.")
        })?;
        Ok(0)
    }
}
