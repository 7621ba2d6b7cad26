//! `/spin`: the forecast of every job file in the folder, and bringing in what was measured.

mod chart;
pub mod measured;
mod upload;

use std::path::{Path as FilePath, PathBuf};
use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use whirlwright_paper::{picture, rounding, sheet};
use whirlwright_workshop::part::Answer;
use whirlwright_workshop::spin::{LossLine, SpinBody};

use super::Shop;
use super::layout::{self, Failure, Page, link};
use crate::desk::spin::design;
use crate::desk::{job, section, sheets};
use crate::error::Trouble;

/// The page.
pub async fn page(State(shop): State<Arc<Shop>>) -> Page {
    let jobs = job::in_folder(&shop.folder);
    let body = html! {
        (upload::forms(&jobs))
        @if jobs.is_empty() { p { "No job file (a .toml with `whirlwright = 1`) lies beside the record." } }
        @for (n, path) in jobs.iter().enumerate() { (shown(n, path)) }
    };
    Ok(layout::page("Spin", &[], &body))
}

fn shown(n: usize, path: &FilePath) -> Markup {
    let file = crate::keep::file_name(path);
    match section::given(path).and_then(|given| design::forecast(&given, path)) {
        Ok(answer) => drawn(n, &file, &answer),
        Err(trouble) => html! { h2 { (file) } pre.words.caution { (trouble) } },
    }
}

fn drawn(n: usize, file: &str, answer: &Answer<SpinBody>) -> Markup {
    let body = &answer.body;
    html! {
        h2 { (body.name) span.faint { " " (file) } }
        (layout::verdict(answer))
        div.row.noprint {
            a.button href=(link(&["spin", file, "spin.pdf"])) { "Spin sheet (PDF)" }
            button type="button" data-print="" hidden { "Print this page" }
        }
        (chart::speed(&format!("speed-{n}"), body))
        (chart::losses(&format!("losses-{n}"), body))
        (losses(&body.losses))
        figure {
            img src=(link(&["spin", file, "levers.svg"])) alt={ "The sleep of the " (body.name) " against each lever" };
            figcaption { "The sleep against each lever, the others as designed." }
        }
        (layout::trust(answer))
    }
}

fn losses(losses: &[LossLine]) -> Markup {
    html! {
        div.wide { table {
            thead { tr { th { "Loss" } th.n { "Share, %" } th.n { "Energy, J" } th.n { "At the start, µN·m" } th.n { "At the end, µN·m" } th.n { "Half gone adds, s" } } }
            tbody { @for l in losses { tr {
                td { (l.name) } td.n { (rounding::number(100.0 * l.share, 0)) } td.n { (rounding::number(l.energy_j, 2)) }
                td.n { (rounding::number(l.torque_at_start_un_m, 1)) } td.n { (rounding::number(l.torque_at_end_un_m, 1)) }
                td.n { (rounding::signed(l.half_gone_adds_s, 0)) }
            } } }
        } }
    }
}

/// The picture of the levers, or the sheet.
pub async fn file(
    State(shop): State<Arc<Shop>>,
    Path((job, name)): Path<(String, String)>,
) -> Result<Response, Failure> {
    let known: Option<PathBuf> = job::in_folder(&shop.folder)
        .into_iter()
        .find(|path| crate::keep::file_name(path) == job);
    let path = known.ok_or_else(|| Trouble::NotFound(format!("there is no job file `{job}`")))?;
    let given = section::given(&path)?;
    let answer = design::forecast(&given, &path)?;
    match name.as_str() {
        "levers.svg" => Ok(layout::svg(&picture::spin::levers(&answer.body))),
        "spin.pdf" => {
            let pdf = sheet::spin_sheet(&answer, &sheets::head("", Some(given.job())));
            let pdf = pdf.map_err(|why| Trouble::Ours(format!("cannot set the sheet: {why}")))?;
            Ok(([(header::CONTENT_TYPE, "application/pdf")], pdf).into_response())
        }
        _ => Err(Trouble::NotFound(format!("there is no file `{name}`")).into()),
    }
}
