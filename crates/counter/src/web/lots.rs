//! `/`: the lots, and bringing one in.

use std::sync::Arc;

use axum::extract::State;
use maud::{Markup, html};
use whirlwright_workshop::part::record::LotLine;

use super::layout::{self, Page, link};
use super::{Shop, upload};
use crate::error::Trouble;

/// The page.
pub async fn page(State(shop): State<Arc<Shop>>) -> Page {
    let lots = shop.ledger.lots().await.map_err(Trouble::from)?;
    let body = html! {
        @if lots.is_empty() {
            p { "No lot yet. Bring in the first file of parts: a table with a serial and a mass on each line." }
            (upload::form(None))
        } @else {
            (table(&lots))
            details { summary { "Bring in a file of parts" } (upload::form(None)) }
        }
    };
    Ok(layout::page("Lots", &[], &body))
}

fn table(lots: &[LotLine]) -> Markup {
    html! {
        div.wide { table.large {
            thead { tr { th { "Lot" } th.n { "Parts" } th.n { "Sets" } th { "Last entry" } th { "What to do now" } } }
            tbody { @for lot in lots { (line(lot)) } }
        } }
    }
}

fn line(lot: &LotLine) -> Markup {
    let address = link(&["lot", &lot.lot]);
    let (to, now) = match lot.sets {
        0 => (link(&["lot", &lot.lot, "pairing"]), "Pair it"),
        _ => (link(&["lot", &lot.lot, "pairing"]), "Print the pick list"),
    };
    html! {
        tr {
            td { a.button href=(address) { (lot.lot) } }
            td.n { (lot.parts) }
            td.n { (lot.sets) }
            td { (layout::time(&lot.last)) }
            td { a.button href=(to) { (now) } }
        }
    }
}
