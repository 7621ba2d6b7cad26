//! `/lot/{name}/pairing`: who with whom, its proof, and asking again with other limits.

use std::sync::Arc;

use axum::extract::{Form, Path, Query, State};
use axum::response::Redirect;
use maud::{Markup, html};
use serde::Deserialize;
use whirlwright_workshop::pairing::PairBody;
use whirlwright_workshop::part::Answer;

use super::layout::{self, Failure, Page, link};
use super::sheets::{self, Sight};
use super::{Shop, chart, form, tables, upload};
use crate::desk::sets;
use crate::desk::wish::Wish;
use crate::error::Trouble;

/// The page.
pub async fn page(
    State(shop): State<Arc<Shop>>,
    Path(name): Path<String>,
    Query(wish): Query<Wish>,
) -> Page {
    let wish = wish.tidied();
    let job = shop.job()?.map(|(job, _)| job);
    let sight = sheets::sight(&shop, &name, &wish).await;
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
        (proof(answer))
        (chart::sets(&answer.body, &tables::sets(lot, &answer.body.sets)))
        (recuts(lot, &answer.body))
        (left(lot, &answer.body))
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

fn proof(answer: &Answer<PairBody>) -> Markup {
    let body = &answer.body;
    let base = &body.baselines;
    let ways = [
        ("as they come", Some(base.as_it_comes_sets)),
        ("sorted into trays", Some(base.trays_sets)),
        ("half trays and rim trays", base.half_and_rim_trays_sets),
        ("sorted in a spreadsheet", Some(base.sheet_sets)),
        ("this answer", Some(body.set_count)),
    ];
    html! {
        h2 { "Two scores, and neither makes up for the other" }
        p { (body.scores.same_mass.sentence) }
        p { (body.scores.runs_true.sentence) }
        h2 { "Could there be more?" }
        p { (body.set_count) " sets of at most " (body.possible_sets_upper_bound) " possible: " (body.proof) "." }
        h2 { "What simpler ways bring on this very lot" }
        p { (base.sentence) }
        table.narrow { tbody { @for (way, sets) in ways { @if let Some(sets) = sets {
            tr { td { (way) } td.n { (sets) } }
        } } } }
    }
}

fn recuts(lot: &str, body: &PairBody) -> Markup {
    html! {
        @if let Some(sum) = body.recut_sum {
            h2 { "Rims to recut" }
            @if sum.rims == 0 { p { "None: no cut would bring another set." } } @else {
            p { (sum.rims) " rims, " (whirlwright_paper::rounding::places(sum.mass_g, 2, "g")) " in all; largest cut "
                (whirlwright_paper::rounding::places(sum.largest_face_mm, 2, "mm")) " of face. Without recutting: "
                (sum.sets_without) " sets. Never cut the bore: it is a fit." }
            }
            @if !body.recuts.is_empty() {
                details { summary { "The list, in tray order" } (tables::recuts(lot, &body.recuts)) }
            }
        }
    }
}

fn left(lot: &str, body: &PairBody) -> Markup {
    html! {
        h2 { "Left over" }
        @if body.left_over.is_empty() { p { "Nothing." } }
        @for more in &body.leftovers.if_more { p { (more.sentence) } }
        @for wish in &body.leftovers.wish { p { (wish) } }
        @if !body.left_over.is_empty() {
            details {
                summary { (body.left_over.len()) " parts without a set, each with its reason" }
                ul { @for part in &body.left_over { li { (tables::part(lot, &part.id)) ": " (part.why) } } }
            }
        }
    }
}

/// The state of the record the shown answer rests on.
#[derive(Debug, Deserialize)]
pub struct ReadAt {
    read_at: u64,
}

/// Records the sets that were shown; a second tap of the same button changes nothing.
pub async fn record(
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
    Ok(upload::then(&link(&["lot", &name, "pairing"])))
}
