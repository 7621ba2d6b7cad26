//! The local page: one file a page, each a thin window on a desk.
//!
//! It listens on the loopback only, answers only to its own names, takes writes only from its own
//! pages, and needs nothing from outside: no fonts, no scripts, no pictures.

mod assets;
mod guard;
mod layout;

use std::net::Ipv4Addr;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use axum::Router;
use axum::routing::get;
use tokio::net::TcpListener;
use whirlwright_ledger::Ledger;

use crate::desk::record;
use crate::error::Trouble;

/// What every page needs to know.
#[derive(Debug)]
pub struct Shop {
    /// The record, open while the page is served.
    pub ledger: Ledger,
    /// The folder of the record, where job files are looked for.
    pub folder: PathBuf,
}

impl Shop {
    /// Opens the record, and begins one if there is none.
    ///
    /// # Errors
    /// The record cannot be made or used.
    pub async fn open(ledger: &Path) -> Result<Self, Trouble> {
        let folder = match ledger.parent() {
            Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
            _ => PathBuf::from("."),
        };
        Ok(Self {
            ledger: record::open_or_begin(ledger).await?,
            folder,
        })
    }
}

/// The pages, ready to be served.
pub fn router(shop: Arc<Shop>) -> Router {
    Router::new()
        .route("/static/{name}", get(assets::file))
        .with_state(shop)
        .layer(axum::middleware::from_fn(guard::only_our_own))
}

/// Opens a port on the loopback; 0 takes any free one.
///
/// # Errors
/// The port is in use or may not be opened.
pub async fn listen(port: u16) -> Result<TcpListener, Trouble> {
    TcpListener::bind((Ipv4Addr::LOCALHOST, port)).await.map_err(|why| {
        Trouble::Input(format!("cannot open port {port}: {why}; choose another with --port, or --port 0 for any free one"))
    })
}

/// Serves the pages until `stop` comes.
///
/// # Errors
/// The listener failed.
pub async fn serve(
    listener: TcpListener,
    shop: Arc<Shop>,
    stop: impl Future<Output = ()> + Send + 'static,
) -> Result<(), Trouble> {
    axum::serve(listener, router(shop))
        .with_graceful_shutdown(stop)
        .await
        .map_err(|why| Trouble::Ours(format!("the page stopped: {why}")))
}
