//! `whirlwright serve`: the local page.

use std::path::Path;
use std::sync::Arc;

use clap::Args;

use super::Out;
use crate::error::Trouble;
use crate::web::{self, Shop};

/// Show the workshop on a page of this machine; it needs no network.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  whirlwright serve --port 4127\nThen open http://127.0.0.1:4127 in a browser; Ctrl-C ends it."
)]
pub struct Serve {
    /// The port on this machine; 0 takes any free one.
    #[arg(long, default_value_t = 4127)]
    port: u16,
}

impl Serve {
    pub async fn run(self, out: &Out, ledger: &Path) -> Result<u8, Trouble> {
        let shop = Arc::new(Shop::open(ledger).await?);
        let listener = web::listen(self.port).await?;
        let address = listener
            .local_addr()
            .map_err(|e| Trouble::Ours(format!("no address: {e}")))?;
        let told = serde_json::json!({ "address": format!("http://{address}"), "ledger": ledger });
        out.value(&told, |_| {
            format!("The page is at http://{address} (this machine only). Ctrl-C ends it.")
        })?;
        web::serve(listener, shop, stopped()).await?;
        Ok(0)
    }
}

/// Ends when the person asks to stop.
async fn stopped() {
    // A machine that cannot hear the signal serves until it is ended.
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}
