//! Work that takes its time, beside the threads that serve pages.

use std::path::Path;

use maud::{Markup, html};

use super::Shop;
use super::layout::{self, Page};
use crate::desk::job;
use crate::error::Trouble;

/// Does the work on a thread of its own and waits for it; other pages are answered meanwhile.
///
/// # Errors
/// What the work says, or that it broke off.
pub async fn aside<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, Trouble> + Send + 'static,
) -> Result<T, Trouble> {
    let done = tokio::task::spawn_blocking(work).await;
    done.map_err(|why| Trouble::Ours(format!("the reckoning stopped: {why}")))?
}

/// A page of every job file in the folder, each reckoned and shown; other pages are answered meanwhile.
///
/// # Errors
/// The work broke off; what is wrong with a job is shown in its place.
pub async fn every_job(title: &str, shop: &Shop, shown: fn(&Path) -> Markup) -> Page {
    let jobs = job::in_folder(&shop.folder);
    let body = aside(move || {
        Ok(html! {
            @if jobs.is_empty() { p { "No job file (a .toml with `whirlwright = 1`) lies beside the record." } }
            @for path in &jobs { (shown(path)) }
        })
    });
    Ok(layout::page(title, &[], &body.await?))
}
