//! Work that takes its time, beside the threads that serve pages.

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
