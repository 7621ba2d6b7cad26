//! `whirlwright lot`: what came in, what is known of it, and where each part went.

mod export;
mod files;
mod import;
mod trace;
mod void;

use std::path::Path;

use clap::{Args, Subcommand};
use whirlwright_workshop::measuring::Windows;

use super::Out;
use crate::desk::lot::{self, LotSight};
use crate::desk::record;
use crate::error::Trouble;

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
    Import(import::Import),
    Export(export::Export),
    Trace(trace::Trace),
    Void(void::Void),
}

impl Lot {
    pub async fn run(self, out: &Out, ledger: &Path) -> Result<u8, Trouble> {
        match (self.act, self.name) {
            (Some(Act::Import(import)), _) => import.run(out, ledger).await,
            (Some(Act::Export(export)), _) => export.run(out, ledger).await,
            (Some(Act::Trace(trace)), _) => trace.run(out, ledger).await,
            (Some(Act::Void(void)), _) => void.run(out, ledger).await,
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

/// The record of a lot, and how its masses spread.
fn in_words(sight: &LotSight) -> String {
    use whirlwright_paper::text;
    format!(
        "{}\n{}",
        text::measuring(&sight.measuring),
        text::lot(&sight.record)
    )
}
