//! `/design`: the section of every job file in the folder.

use std::path::{Path as FilePath, PathBuf};
use std::sync::Arc;

use axum::extract::{Path, State};
use axum::response::Response;
use maud::{Markup, html};
use whirlwright_paper::{picture, rounding};
use whirlwright_workshop::design::{self, PieceLine, SectionBody};
use whirlwright_workshop::part::Answer;

use super::Shop;
use super::layout::{self, Failure, Page, link};
use crate::desk::{job, section};
use crate::error::Trouble;

/// The page.
pub async fn page(State(shop): State<Arc<Shop>>) -> Page {
    let jobs = job::in_folder(&shop.folder);
    let body = html! {
        @if jobs.is_empty() { p { "No job file (a .toml with `whirlwright = 1`) lies beside the record." } }
        @for path in &jobs { (shown(path)) }
    };
    Ok(layout::page("Design", &[], &body))
}

fn shown(path: &FilePath) -> Markup {
    let file = crate::keep::file_name(path);
    match section::given(path).map(|given| design::section(&given)) {
        Ok(answer) => drawn(&file, &answer),
        Err(trouble) => html! { h2 { (file) } pre.words.caution { (trouble) } },
    }
}

fn drawn(file: &str, answer: &Answer<SectionBody>) -> Markup {
    let body = &answer.body;
    html! {
        h2 { (body.name) span.faint { " " (file) } }
        (layout::verdict(answer))
        figure {
            img src=(link(&["design", file, "cut.svg"])) alt={ "Section of the " (body.name) ": axle across, gap in the middle, radius upward" };
            figcaption { "The cut: axle across, gap in the middle, radius upward." }
        }
        dl.facts {
            div { dt { "mass" } dd { (rounding::places(body.mass_g, 2, "g")) } }
            div { dt { "across" } dd { (rounding::places(body.diameter_mm, 2, "mm")) } }
            div { dt { "wide" } dd { (rounding::places(body.width_mm, 2, "mm")) } }
            div { dt { "polar inertia" } dd { (rounding::places(body.polar_inertia_g_mm2, 0, "g·mm²")) } }
            div { dt { "transverse inertia" } dd { (rounding::places(body.transverse_inertia_g_mm2, 0, "g·mm²")) } }
            div { dt { "transverse ÷ polar" } dd { (rounding::number(body.inertia_ratio, 3)) } }
        }
        (pieces(&body.pieces))
        (layout::trust(answer))
    }
}

fn pieces(pieces: &[PieceLine]) -> Markup {
    html! {
        div.wide { table {
            thead { tr { th { "Piece" } th { "Side" } th.n { "Mass, g" } th.n { "Share of mass" } th.n { "Share of inertia" } th.n { "Least wall, mm" } } }
            tbody { @for p in pieces { tr {
                td { (p.name) @if p.count > 1 { " × " (p.count) } } td { (p.side.word()) }
                td.n { (rounding::number(p.mass_g, 2)) }
                td.n { (rounding::number(100.0 * p.mass_share, 1)) " %" }
                td.n { (rounding::number(100.0 * p.inertia_share, 1)) " %" }
                td.n { @if let Some(wall) = p.least_wall_mm { (rounding::number(wall, 2)) } @else { "–" } }
            } } }
        } }
    }
}

/// The picture of a cut.
pub async fn cut(
    State(shop): State<Arc<Shop>>,
    Path(file): Path<String>,
) -> Result<Response, Failure> {
    let known: Option<PathBuf> = job::in_folder(&shop.folder)
        .into_iter()
        .find(|path| crate::keep::file_name(path) == file);
    let path = known.ok_or_else(|| Trouble::NotFound(format!("there is no job file `{file}`")))?;
    let answer = design::section(&section::given(&path)?);
    Ok(layout::svg(&picture::cut(&answer.body)))
}
