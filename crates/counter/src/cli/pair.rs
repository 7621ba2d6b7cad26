//! `whirlwright pair`: who with whom.

use std::path::Path;

use clap::Args;

use super::Out;
use super::out::Bar;
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
        let bar = Bar::new(out);
        let stop = move |progress| {
            bar.show(progress);
            super::stopped()
        };
        let paired = pair::pair(self.request, ledger, stop).await?;
        out.written(&paired.written);
        if let Some(recorded) = &paired.recorded {
            out.remark(&format!(
                "recorded: {} sets in lot {}",
                recorded.numbers.len(),
                recorded.lot
            ));
        }
        out.answer(&paired.answer, whirlwright_paper::text::pair)
    }
}
