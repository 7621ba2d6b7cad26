//! `/mould`: the set-up of every job: what it does to weight and balance, and the moulder's studies.

mod tables;

use std::path::{Path as FilePath, PathBuf};
use std::sync::Arc;

use axum::extract::{Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use whirlwright_paper::picture;

use super::Shop;
use super::aside::{aside, every_job};
use super::layout::{self, Failure, Page, link};
use crate::desk::job;
use crate::desk::mould::{self, Fineness, Made};
use crate::error::Trouble;
use crate::keep;

/// The page.
pub async fn page(State(shop): State<Arc<Shop>>) -> Page {
    every_job("Mould", &shop, shown).await
}

fn shown(path: &FilePath) -> Markup {
    let file = keep::file_name(path);
    match mould::of_design(path, Fineness::Usual) {
        Ok(made) => drawn(&file, &made),
        Err(trouble) => html! { h2 { (file) } pre.words.caution { (trouble) } },
    }
}

fn drawn(file: &str, made: &Made) -> Markup {
    let (answer, body) = (&made.answer, &made.answer.body);
    html! {
        h2 { (body.piece) span.faint { " " (file) } }
        (layout::verdict(answer))
        div.row.noprint {
            a.button href=(link(&["mould", file, "set-up.pdf"])) { "Set-up sheet (PDF)" }
            @for (word, says, _) in tables::STUDIES {
                a.button href=(link(&["mould", file, "study", word])) { (says) }
            }
        }
        (tables::conditions(body))
        (tables::facts(body))
        (tables::cavities(body))
        @for drawing in picture::mould::mould_drawings(body, &made.view) {
            (layout::drawing(&drawing.to_svg()))
        }
        (tables::whole(body))
        (layout::trust(answer))
    }
}

/// The set-up sheet.
pub async fn sheet(
    State(shop): State<Arc<Shop>>,
    Path(file): Path<String>,
) -> Result<Response, Failure> {
    let path = known(&shop, &file)?;
    let pdf = aside(move || mould::of_design(&path, Fineness::Usual)?.pdf()).await?;
    Ok(([(header::CONTENT_TYPE, "application/pdf")], pdf).into_response())
}

/// One study.
pub async fn study(
    State(shop): State<Arc<Shop>>,
    Path((file, word)): Path<(String, String)>,
) -> Page {
    let path = known(&shop, &file)?;
    let found = tables::STUDIES.iter().find(|(known, ..)| *known == word);
    let (_, title, kind) =
        *found.ok_or_else(|| Trouble::NotFound(format!("there is no study `{word}`")))?;
    let answer = aside(move || {
        mould::study_of(&path, kind, None, Fineness::Coarse, |_| false).map(|(_, answer)| answer)
    })
    .await?;
    let trail = [("/mould".to_owned(), "Mould".to_owned())];
    let body = html! {
        (layout::verdict(&answer))
        (layout::drawing(&picture::mould::study(&answer.body)))
        (tables::runs(&answer.body))
        (layout::trust(&answer))
    };
    Ok(layout::page(title, &trail, &body))
}

fn known(shop: &Shop, file: &str) -> Result<PathBuf, Trouble> {
    let jobs = job::in_folder(&shop.folder);
    let known = jobs.into_iter().find(|path| keep::file_name(path) == file);
    known.ok_or_else(|| Trouble::NotFound(format!("there is no job file `{file}`")))
}
