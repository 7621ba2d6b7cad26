//! `/lot/{name}/part/{serial}`: everything the record knows of one part.

use std::sync::Arc;

use axum::extract::{Path, State};
use maud::{Markup, html};
use whirlwright_paper::words;
use whirlwright_workshop::part::record::{ReadingRecord, Trace};

use super::layout::{self, Page, link};
use super::{Shop, tables};
use crate::error::Trouble;

/// The page.
pub async fn page(
    State(shop): State<Arc<Shop>>,
    Path((name, serial)): Path<(String, String)>,
) -> Page {
    let trace = shop
        .ledger
        .trace(&serial, Some(&name))
        .await
        .map_err(Trouble::from)?;
    let body = html! {
        (facts(&trace))
        @for doubt in &trace.part.doubts { p.look { span aria-hidden="true" { "▲ " } (doubt) } }
        h2 { "Readings, as they were shown" }
        div.wide { table {
            thead { tr { th { "What" } th.n { "Read" } th { "Unit" } th { "Scale or gauge" } th { "Who" } th { "From" } th { "Written" } } }
            tbody { @for reading in &trace.readings { (line(reading)) } }
        } }
        h2 { "Sets" }
        @if trace.sets.is_empty() { p { "In no set." } }
        @else { (tables::recorded(&name, &trace.sets)) }
    };
    let trail = [(link(&["lot", &name]), format!("Lot {name}"))];
    Ok(layout::page(&serial, &trail, &body))
}

fn facts(trace: &Trace) -> Markup {
    let part = &trace.part;
    let told = [
        ("kind", Some(words::kind(part.kind).to_owned())),
        (words::origin(part.kind), part.origin.clone()),
        ("mass", part.mass_g.map(|m| format!("{m} g"))),
        ("fit", part.fit_mm.map(|m| format!("{m} mm"))),
        (
            "unbalance",
            part.unbalance_g_mm.map(|m| format!("{m} g·mm")),
        ),
        ("offset", part.offset_mm.map(|m| format!("{m} mm"))),
        ("colour", part.colour.clone()),
        ("tray", part.tray.clone()),
    ];
    html! {
        dl.facts {
            @for (label, value) in told { @if let Some(value) = value {
                div { dt { (label) } dd { (value) } }
            } }
        }
    }
}

fn line(reading: &ReadingRecord) -> Markup {
    html! {
        tr.faint[reading.superseded] {
            td { (words::of_key(reading.quantity.key())) @if reading.superseded { " (replaced)" } }
            td.n { (reading.text) }
            td { (reading.unit) }
            td { (reading.instrument.as_deref().unwrap_or("–")) }
            td { (reading.operator.as_deref().unwrap_or("–")) }
            td { (reading.file) ", line " (reading.line) }
            td { (layout::time(&reading.written)) }
        }
    }
}
