//! `whirlwright lot`: what came in, what is known of it, and where each part went.

use std::path::Path;

use clap::{Args, Subcommand};
use whirlwright_workshop::measuring::Windows;

use super::Out;
use super::lot_files::{Files, Import};
use crate::desk::lot::{self, LotSight};
use crate::desk::record;
use crate::error::Trouble;
use crate::words;

/// List the lots, show one, bring files in, trace a part, give a set up.
#[derive(Debug, Args)]
#[command(args_conflicts_with_subcommands = true, subcommand_negates_reqs = true, after_help = EXAMPLES)]
pub struct Lot {
    /// The lot to show; without it all lots are listed.
    name: Option<String>,
    #[command(subcommand)]
    act: Option<Act>,
}

const EXAMPLES: &str = "Examples:
  whirlwright lot
  whirlwright lot D26
  whirlwright lot import D26 --halves halves.csv --rims rims.csv
  whirlwright lot trace D26-H0012
  whirlwright lot void 17 --lot D26 --reason \"rim dropped\"
  whirlwright lot export D26 --halves d26-halves.xlsx";

#[derive(Debug, Subcommand)]
enum Act {
    /// Bring files of parts into a lot: all of a file or nothing of it.
    Import(Import),
    /// Write the parts of a lot with their latest readings; the files can be read back in.
    Export {
        /// The name of the lot.
        lot: String,
        #[command(flatten)]
        files: Files,
    },
    /// Everything that is known of one part: readings with their source, sets, partners.
    Trace {
        /// The serial, as written on the part.
        serial: String,
        /// The lot, where a serial stands in several.
        #[arg(long)]
        lot: Option<String>,
    },
    /// Give a set up: its parts are free again, its number is never used again.
    Void {
        /// The number of the set.
        set: u32,
        /// The lot it belongs to.
        #[arg(long)]
        lot: String,
        /// Why.
        #[arg(long)]
        reason: String,
    },
}

impl Lot {
    pub async fn run(self, out: &Out, ledger: &Path) -> Result<u8, Trouble> {
        match (self.act, self.name) {
            (Some(act), _) => act.run(out, ledger).await,
            (None, Some(name)) => {
                let record = record::open(ledger).await?;
                let sight = lot::show(&record, &name, &Windows::practice()).await?;
                out.value(&sight, in_words)?;
                Ok(0)
            }
            (None, None) => {
                out.value(&lot::list(ledger).await?, |lots| {
                    whirlwright_paper::text::lots(lots)
                })?;
                Ok(0)
            }
        }
    }
}

impl Act {
    async fn run(self, out: &Out, ledger: &Path) -> Result<u8, Trouble> {
        match self {
            Self::Import(import) => import.run(out, ledger).await?,
            Self::Export { lot, files } => {
                let written = lot::export(ledger, &lot, &files.by_kind()).await?;
                let told = serde_json::json!({ "lot": lot, "written": written });
                out.value(&told, |_| words::written(&written))?;
            }
            Self::Trace { serial, lot } => {
                let trace = lot::trace(ledger, &serial, lot.as_deref()).await?;
                out.value(&trace, whirlwright_paper::text::trace)?;
            }
            Self::Void { set, lot, reason } => {
                let written = lot::void(ledger, &lot, set, &reason).await?;
                out.value(&written, |_| {
                    format!("Set {set} of lot {lot} is void; its parts are free.")
                })?;
            }
        }
        Ok(0)
    }
}

/// The record of a lot, and how its masses spread.
fn in_words(sight: &LotSight) -> String {
    use whirlwright_paper::text;
    format!(
        "{}\n{}",
        text::measuring(&sight.measuring),
        text::lot(&sight.record)
    )
}
