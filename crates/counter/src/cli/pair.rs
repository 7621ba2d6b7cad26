//! `whirlwright pair`: who with whom.

use std::path::Path;

use clap::Args;

use super::Out;
use crate::desk::pair::{self, Request};
use crate::error::Trouble;

/// Choose which parts become one piece: most sets within the limits, then the best ones.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES)]
pub struct Pair {
    #[command(flatten)]
    request: Request,
}

const EXAMPLES: &str = "Examples:
  whirlwright pair --halves halves.csv --rims rims.csv --mass-within \"0.1 g\" \\
      --piece-mass \"57.60 g\" --piece-within \"0.1 g\" --recut --recut-list recut.pdf
  whirlwright pair --dressed dressed.csv --mass-within \"0.1 g\" --unbalance-within \"0.3 g·mm\"
  whirlwright pair --parts coins.csv --mass-within \"0.01 g\"
  whirlwright pair --lot D26 --job dunlin.toml --record --pick-list pick.pdf";

impl Pair {
    pub async fn run(self, out: &Out, ledger: &Path) -> Result<u8, Trouble> {
        let bar = super::out::Bar::new(out, "pairing");
        let paired = pair::pair(self.request, ledger, move |p| {
            bar.show(p);
            super::stopped()
        })
        .await?;
        for kept in &paired.written {
            out.remark(&format!("written: {}", kept.display()));
        }
        out.answer(&paired.answer, whirlwright_paper::text::pair)
    }
}
