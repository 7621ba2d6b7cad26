//! Recording the sets that a page shows.

use std::sync::Arc;

use axum::extract::{Form, Path, Query, State};
use axum::response::Redirect;
use serde::Deserialize;
use whirlwright_workshop::part::Answer;

use super::Shop;
use super::layout::{Failure, link};
use crate::desk::sets;
use crate::desk::wish::Wish;
use crate::error::Trouble;

/// The state of the record the shown answer rests on.
#[derive(Debug, Deserialize)]
pub struct ReadAt {
    read_at: u64,
}

/// Records the sets that were shown; a second tap of the same button changes nothing.
pub async fn sets_shown(
    State(shop): State<Arc<Shop>>,
    Path(name): Path<String>,
    Query(ReadAt { read_at }): Query<ReadAt>,
    Form(wish): Form<Wish>,
) -> Result<Redirect, Failure> {
    let wish = wish.tidied();
    let lot = shop.ledger.lot(&name).await.map_err(Trouble::from)?;
    let options = serde_json::to_value(&wish).unwrap_or_default();
    let done = lot
        .decisions
        .iter()
        .any(|d| d.written.counter > read_at && d.options == options);
    if !done {
        let mut answer = Answer::clone(&*shop.pair(&name, &wish, true).await?);
        sets::record(&shop.ledger, &name, &mut answer, &wish, Some(read_at)).await?;
    }
    Ok(Redirect::to(&link(&["lot", &name, "pairing"])))
}
