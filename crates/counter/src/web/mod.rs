//! The local page: one file a page, each a thin window on a desk.
//!
//! It listens on the loopback only, answers only to its own names, takes writes only from its own
//! pages, and needs nothing from outside: no fonts, no scripts, no pictures.

mod aside;
mod assets;
mod balance;
mod chart;
mod design;
mod form;
mod guard;
mod layout;
mod lot;
mod lots;
mod mould;
mod pairing;
mod part;
mod proof;
mod record;
mod rim;
mod sheets;
mod shop;
mod sight;
mod spin;
mod tables;
mod upload;

use std::net::Ipv4Addr;
use std::sync::Arc;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};
use tokio::net::TcpListener;

use crate::error::Trouble;
use crate::keep::LARGEST_FILE_BYTES;
pub use shop::Shop;

/// What a form adds to a file: its other fields and the lines between them.
const ROUND_A_FILE: usize = 64 * 1024;

/// The largest recording that is taken from a page, in bytes: ten minutes of two channels of 48 kHz and 16 bits.
const LARGEST_RECORDING: usize = 120 * 1024 * 1024;

/// The pages, ready to be served.
pub fn router(shop: Arc<Shop>) -> Router {
    Router::new()
        .route("/", get(lots::page))
        .route("/lot", post(upload::take))
        .route("/lot/{name}", get(lot::page))
        .route("/lot/{name}/pairing", get(pairing::page))
        .route("/lot/{name}/record", post(record::sets_shown))
        .route("/lot/{name}/sheet/{file}", get(sheets::pdf))
        .route("/lot/{name}/part/{serial}", get(part::page))
        .route("/balance", get(balance::page).post(balance::take))
        .route("/balance/sheet.pdf", post(balance::take_sheet))
        .route("/balance/{file}", get(balance::of_file))
        .route("/balance/{file}/sheet.pdf", get(balance::sheet))
        .route("/design", get(design::page))
        .route("/design/{file}/cut.svg", get(design::cut))
        .route("/mould", get(mould::page))
        .route("/mould/{file}/set-up.pdf", get(mould::sheet))
        .route("/mould/{file}/study/{word}", get(mould::study))
        .route("/rim", get(rim::page))
        .route("/rim/{job}/recut", get(rim::recut))
        .route("/rim/{job}/pair", get(rim::pair))
        .route("/rim/{job}/{file}", get(rim::file))
        .route("/spin", get(spin::page))
        .route(
            "/spin",
            post(spin::measured::take).layer(DefaultBodyLimit::max(LARGEST_RECORDING)),
        )
        .route("/spin/{job}/{file}", get(spin::file))
        .route("/static/{name}", get(assets::file))
        .fallback(layout::nothing_here)
        .with_state(shop)
        .layer(DefaultBodyLimit::max(
            LARGEST_FILE_BYTES as usize + ROUND_A_FILE,
        ))
        .layer(axum::middleware::from_fn(guard::only_our_own))
}

/// Opens a port on the loopback; 0 takes any free one.
///
/// # Errors
/// The port is in use or may not be opened.
pub async fn listen(port: u16) -> Result<TcpListener, Trouble> {
    TcpListener::bind((Ipv4Addr::LOCALHOST, port)).await.map_err(|why| {
        Trouble::Input(format!(
            "cannot open port {port}: {why}; choose another with --port, or --port 0 for any free one"
        ))
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
