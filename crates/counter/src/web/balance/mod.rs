//! `/balance`: the limit of every job, corrections of the readings beside it, and of a file that is
//! brought in.

mod tables;

use std::path::{Path as FilePath, PathBuf};
use std::sync::Arc;

use axum::extract::{Multipart, Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};

use super::Shop;
use super::layout::{self, Failure, Page, link};
use crate::desk::balance::correct::{self, Correct};
use crate::desk::balance::limit;
use crate::desk::{job, readings};
use crate::error::Trouble;
use crate::keep;

/// The page.
pub async fn page(State(shop): State<Arc<Shop>>) -> Page {
    let files = readings::in_folder(&shop.folder);
    let jobs = job::in_folder(&shop.folder);
    let body = html! {
        @if !files.is_empty() {
            h2 { "Readings beside the record" }
            div.row { @for path in &files { @let file = keep::file_name(path);
                a.button.main href=(link(&["balance", &file])) { "Correct by " (file) } } }
        }
        (bring(&jobs))
        @for path in &jobs { (limit_of(path)) }
        @if jobs.is_empty() { p { "No job file lies beside the record: limits need one with a [balance] block." } }
    };
    Ok(layout::page("Balance", &[], &body))
}

/// The form that brings readings in; its second button gives the sheet at once.
fn bring(jobs: &[PathBuf]) -> Markup {
    html! {
        h2 { "Readings from a file" }
        form.limits method="post" action="/balance" enctype="multipart/form-data" data-busy="Reckoning …" {
            label { "File of readings (TOML)" input type="file" name="file" required accept=".toml"; }
            label { "Job of the piece"
                select name="job" { @for path in jobs { option { (keep::file_name(path)) } } option value="" { "none" } } }
            button.main type="submit" { "Find the correction" }
            button type="submit" formaction="/balance/sheet.pdf" { "Sheet for the bench (PDF)" }
        }
    }
}

fn limit_of(path: &FilePath) -> Markup {
    let file = keep::file_name(path);
    let answer = job::read(path).and_then(|job| limit::of_job(job, path));
    html! {
        h2 { "Limit of " (file) }
        @match answer {
            Ok(answer) => { (layout::verdict(&answer)) (tables::limit(&answer.body)) (layout::trust(&answer)) }
            Err(trouble) => { pre.words.caution { (trouble) } }
        }
    }
}

/// The correction of a file beside the record.
pub async fn of_file(State(shop): State<Arc<Shop>>, Path(file): Path<String>) -> Page {
    let done = in_folder(&shop, &file)?;
    let sheet = link(&["balance", &file, "sheet.pdf"]);
    Ok(shown(&file, &done, Some(&sheet)))
}

/// The sheet of a file beside the record.
pub async fn sheet(
    State(shop): State<Arc<Shop>>,
    Path(file): Path<String>,
) -> Result<Response, Failure> {
    pdf(&in_folder(&shop, &file)?)
}

fn in_folder(shop: &Shop, file: &str) -> Result<Correct, Trouble> {
    let known = readings::in_folder(&shop.folder);
    let path = known.into_iter().find(|path| keep::file_name(path) == file);
    let path =
        path.ok_or_else(|| Trouble::NotFound(format!("there is no file of readings `{file}`")))?;
    let (job, job_path) = shop.job()?.unzip();
    let job_path = job_path.unwrap_or_default();
    correct::of_bytes(keep::read(&path)?, file, job, &job_path)
}

/// The correction of a file that was brought in; nothing of it is kept.
pub async fn take(State(shop): State<Arc<Shop>>, form: Multipart) -> Page {
    let (file, done) = sent(&shop, form).await?;
    Ok(shown(&file, &done, None))
}

/// The sheet of a file that was brought in.
pub async fn take_sheet(
    State(shop): State<Arc<Shop>>,
    form: Multipart,
) -> Result<Response, Failure> {
    pdf(&sent(&shop, form).await?.1)
}

async fn sent(shop: &Shop, form: Multipart) -> Result<(String, Correct), Trouble> {
    let sent = super::upload::fields(form).await?;
    let (file, bytes) = sent
        .file
        .ok_or_else(|| Trouble::Input("no file was chosen".to_owned()))?;
    let wanted = sent.texts.get("job").cloned().unwrap_or_default();
    let jobs = job::in_folder(&shop.folder);
    let path = jobs
        .into_iter()
        .find(|path| keep::file_name(path) == wanted);
    let job = path.as_deref().map(job::read).transpose()?;
    let done = correct::of_bytes(bytes, &file, job, &path.unwrap_or_default())?;
    Ok((file, done))
}

fn pdf(done: &Correct) -> Result<Response, Failure> {
    let kind = (header::CONTENT_TYPE, "application/pdf");
    Ok(([kind], done.pdf()?).into_response())
}

fn shown(file: &str, done: &Correct, sheet: Option<&str>) -> Markup {
    let answer = &done.answer;
    let body = html! {
        (layout::verdict(answer))
        (tables::work(&answer.body))
        (tables::picture(&done.svg()))
        (tables::planes(&answer.body))
        div.row.noprint {
            @if let Some(sheet) = sheet { a.button href=(sheet) { "Sheet for the bench (PDF)" } }
            button type="button" data-print="" hidden { "Print this page" }
        }
        (layout::trust(answer))
    };
    let trail = [("/balance".to_owned(), "Balance".to_owned())];
    layout::page(
        &format!(
            "Balance of {}",
            if answer.body.name.is_empty() {
                file
            } else {
                &answer.body.name
            }
        ),
        &trail,
        &body,
    )
}
