//! `whirlwright lot export`: a lot as files that can be read back in.

use std::path::Path;

use clap::Args;

use super::files::Files;
use crate::cli::Out;
use crate::desk::lot;
use crate::error::Trouble;
use crate::words;

/// Write the parts of a lot with their latest readings; the files can be read back in.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  whirlwright lot export D26 --halves d26-halves.xlsx")]
pub struct Export {
    /// The name of the lot.
    lot: String,
    #[command(flatten)]
    files: Files,
}

impl Export {
    pub async fn run(self, out: &Out, ledger: &Path) -> Result<u8, Trouble> {
        let written = lot::export(ledger, &self.lot, &self.files.by_kind()).await?;
        let told = serde_json::json!({ "lot": self.lot, "written": written });
        out.value(&told, |_| words::written(&written))?;
        Ok(0)
    }
}
