//! `/lot/{name}`: counts, doubts, masses by cavity, sets.

use std::sync::Arc;

use axum::extract::{Path, State};
use maud::{Markup, html};
use whirlwright_workshop::part::record::{LotRecord, SetRecord, SetState};

use super::layout::{self, Page, link};
use super::{Shop, chart, tables, upload};
use crate::desk::{job, lot};

/// The page.
pub async fn page(State(shop): State<Arc<Shop>>, Path(name): Path<String>) -> Page {
    let windows = job::windows(shop.job()?.as_ref().map(|(job, _)| job));
    let sight = lot::show(&shop.ledger, &name, &windows).await?;
    let measuring = &sight.measuring;
    let body = html! {
        (counts(&sight.record))
        div.row {
            a.button.main href=(link(&["lot", &name, "pairing"])) { "Who with whom" }
        }
        (layout::verdict(measuring))
        @for (n, histogram) in measuring.body.histograms.iter().enumerate() {
            (chart::distribution(n, histogram))
        }
        h2 { "By origin" }
        @for said in &measuring.body.differences { p.said { (said) "." } }
        (tables::spreads(&measuring.body.by_origin))
        (tables::doubts(&name, &measuring.body.doubts))
        (layout::trust(measuring))
        h2 { "Files that came in" }
        (tables::files(&sight.record.files))
        details { summary { "Bring in another file" } (upload::form(Some(&name))) }
        (sets(&name, &sight.record.sets))
    };
    Ok(layout::page(&format!("Lot {name}"), &[], &body))
}

fn counts(record: &LotRecord) -> Markup {
    let standing = record
        .sets
        .iter()
        .filter(|s| matches!(s.state, SetState::Good))
        .count();
    html! {
        dl.facts {
            @for kind in &record.kinds {
                div { dt { (whirlwright_paper::words::kinds(kind.kind)) } dd { (kind.parts) } }
                @if kind.weighed < kind.parts { div { dt { "weighed" } dd { (kind.weighed) " of " (kind.parts) } } }
                @if kind.in_doubt > 0 { div { dt { "in doubt" } dd.look { "▲ " (kind.in_doubt) } } }
            }
            div { dt { "sets recorded" } dd { (standing) } }
        }
    }
}

fn sets(lot: &str, sets: &[SetRecord]) -> Markup {
    html! {
        @if !sets.is_empty() {
            h2 { "Sets" }
            details {
                summary { "All " (sets.len()) " sets of the record" }
                (tables::recorded(lot, sets))
            }
        }
    }
}
