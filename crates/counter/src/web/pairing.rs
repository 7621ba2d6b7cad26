//! `/lot/{name}/pairing`: who with whom, its proof, and asking again with other limits.

use std::sync::Arc;

use axum::extract::{Path, Query, State};
use maud::{Markup, html};

use super::layout::{self, Page, link};
use super::sight::{Sight, sight};
use super::{Shop, chart, form, proof, sheets, tables};
use crate::desk::wish::Wish;

/// The page.
pub async fn page(
    State(shop): State<Arc<Shop>>,
    Path(name): Path<String>,
    Query(wish): Query<Wish>,
) -> Page {
    let wish = wish.tidied();
    let job = shop.job()?.map(|(job, _)| job);
    let sight = sight(&shop, &name, &wish).await;
    let four = sight
        .as_ref()
        .map_or(true, |s| s.answer.body.recut_sum.is_some() || s.four());
    let asked = sight.as_ref().map_or(&wish, |s| &s.wish);
    let body = html! {
        @match &sight {
            Ok(sight) => (shown(&name, sight)),
            Err(trouble) => p.words.caution { (trouble) },
        }
        section.noprint {
            h2 { "Pair again with other limits" }
            (form::limits(&name, asked, job.as_ref(), four))
        }
    };
    let trail = [(link(&["lot", &name]), format!("Lot {name}"))];
    Ok(layout::page(
        &format!("Who with whom, lot {name}"),
        &trail,
        &body,
    ))
}

fn shown(lot: &str, sight: &Sight) -> Markup {
    let answer = &*sight.answer;
    html! {
        p.faint { (sight.standing()) }
        (layout::verdict(answer))
        (sheets::links(lot, sight))
        (record_button(lot, sight))
        (proof::scores_and_proof(answer))
        (chart::sets(&answer.body, &tables::sets(lot, &answer.body.sets)))
        (proof::recuts(lot, &answer.body))
        (proof::left(lot, &answer.body))
        (layout::trust(answer))
    }
}

fn record_button(lot: &str, sight: &Sight) -> Markup {
    html! {
        @if let (false, Some(read_at)) = (sight.answer.body.sets.is_empty(), sight.to_record) {
            form.row.noprint method="post" action={ (link(&["lot", lot, "record"])) "?read_at=" (read_at) } data-busy="Writing …" {
                (form::hidden(&sight.wish))
                button.main type="submit" { "Record these " (sight.answer.body.set_count) " sets" }
                span.faint { "Their parts are taken then; the numbers stay for good." }
            }
        }
    }
}
