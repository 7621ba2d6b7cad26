//! `/rim`: the rim of every job: its dimensions, its fit on the half, a rim over its mass, one measured pair.

mod tables;

use std::path::{Path as FilePath, PathBuf};
use std::sync::Arc;

use axum::extract::{Path, Query, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use serde::Deserialize;
use whirlwright_paper::{picture, sheet};
use whirlwright_workshop::design;

use super::Shop;
use super::aside::{aside, every_job};
use super::layout::{self, Failure, Page, link};
use crate::desk::rim;
use crate::desk::rim_fit::{self, Fit, Fitted, MANY_PAIRS};
use crate::desk::{job, section, sheets};
use crate::error::Trouble;
use crate::keep;

/// What a form of this page asks.
#[derive(Debug, Clone, Default, Deserialize)]
pub struct Asked {
    /// What a rim weighs.
    #[serde(default)]
    pub mass: String,
    /// The bore of one pair.
    #[serde(default)]
    pub bore: String,
    /// Its spigot.
    #[serde(default)]
    pub spigot: String,
}

impl Asked {
    /// What was asked as the end of an address, so that a sheet shows the same.
    fn query(&self) -> String {
        let said = [
            ("mass", &self.mass),
            ("bore", &self.bore),
            ("spigot", &self.spigot),
        ];
        let of = |(name, text): (&str, &String)| {
            format!("{name}={}", link(&[text.as_str()]).trim_start_matches('/'))
        };
        let said: Vec<String> = said
            .into_iter()
            .filter(|(_, text)| !text.is_empty())
            .map(of)
            .collect();
        if said.is_empty() {
            String::new()
        } else {
            format!("?{}", said.join("&"))
        }
    }
}

/// The page.
pub async fn page(State(shop): State<Arc<Shop>>) -> Page {
    every_job("Rim", &shop, shown).await
}

fn shown(path: &FilePath) -> Markup {
    let file = keep::file_name(path);
    let design = match section::given(path) {
        Ok(design) => design,
        Err(trouble) => return html! { h2 { (file) } pre.words.caution { (trouble) } },
    };
    let turned = rim::of_design(&design);
    let nothing = Asked::default();
    let fitted = rim_fit::of_design(&design, &asking(&nothing));
    html! {
        h2 { (design.job().name) span.faint { " " (file) } }
        (tables::forms(&file, &nothing))
        @match fitted {
            Ok(fitted) => { h3 { "On its half" } (fit(&file, &nothing, &fitted)) }
            Err(trouble) => { pre.words.caution { (trouble) } }
        }
        @match turned {
            Ok(answer) => {
                h3 { "As it is turned" }
                (layout::verdict(&answer))
                (tables::dimensions(&answer.body))
                div.row.noprint { a.button href=(link(&["rim", &file, "rim.pdf"])) { "Rim sheet (PDF)" } }
                (layout::trust(&answer))
            }
            Err(trouble) => { pre.words.caution { (trouble) } }
        }
    }
}

/// What the desk is asked: the job's limits, or one measured pair.
fn asking(asked: &Asked) -> Fit {
    let said = |text: &String| Some(text.clone()).filter(|text| !text.is_empty());
    let pair = said(&asked.bore).zip(said(&asked.spigot));
    let (bore, spigot) = pair.unzip();
    Fit {
        bore,
        spigot,
        pairs: MANY_PAIRS,
        seed: 1,
        ..Fit::default()
    }
}

/// The verdict of a fit, its numbers and its pictures.
fn fit(file: &str, asked: &Asked, fitted: &Fitted) -> Markup {
    let answer = &fitted.answer;
    html! {
        (layout::verdict(answer))
        (tables::fit(&answer.body))
        (layout::drawing(&picture::fit(&answer.body)))
        @if let Ok(stress) = fitted.stress_svg() { (layout::drawing(&stress)) }
        (tables::states(&answer.body))
        div.row.noprint {
            a.button href={ (link(&["rim", file, "fit.pdf"])) (asked.query()) } { "Fit sheet (PDF)" }
            button type="button" data-print="" hidden { "Print this page" }
        }
        (layout::trust(answer))
    }
}

/// How much to take off a rim of a measured mass.
pub async fn recut(
    State(shop): State<Arc<Shop>>,
    Path(file): Path<String>,
    Query(asked): Query<Asked>,
) -> Page {
    let design = design_of(&shop, &file)?;
    let answer = rim::of_mass(&design, &asked.mass)?;
    let outline = rim::outline(&design, &answer.body.piece);
    let card = format!("{}{}", link(&["rim", &file, "recut.pdf"]), asked.query());
    let body = html! {
        (layout::verdict(&answer))
        (tables::cuts(&answer.body))
        @if answer.body.cuts.iter().any(|cut| cut.allowed) { (layout::drawing(&picture::recut(&answer.body, outline))) }
        div.row.noprint { a.button href=(card) { "Recut card (PDF)" } }
        (layout::trust(&answer))
        (tables::forms(&file, &asked))
    };
    Ok(layout::page(
        &format!("A rim of {}", asked.mass),
        &trail(),
        &body,
    ))
}

/// What one measured pair gives.
pub async fn pair(
    State(shop): State<Arc<Shop>>,
    Path(file): Path<String>,
    Query(asked): Query<Asked>,
) -> Page {
    let design = design_of(&shop, &file)?;
    let title = format!("Bore {} on spigot {}", asked.bore, asked.spigot);
    let name = file.clone();
    let body = aside(move || {
        if asked.bore.is_empty() || asked.spigot.is_empty() {
            return Err(Trouble::Input(
                "both sizes of the pair are wanted, bore and spigot".to_owned(),
            ));
        }
        let fitted = rim_fit::of_design(&design, &asking(&asked))?;
        Ok(html! { (fit(&name, &asked, &fitted)) (tables::forms(&name, &asked)) })
    });
    Ok(layout::page(&title, &trail(), &body.await?))
}

/// The sheets.
pub async fn file(
    State(shop): State<Arc<Shop>>,
    Path((job, name)): Path<(String, String)>,
    Query(asked): Query<Asked>,
) -> Result<Response, Failure> {
    let design = design_of(&shop, &job)?;
    let pdf = aside(move || sheet_of(&design, &name, &asked)).await?;
    Ok(([(header::CONTENT_TYPE, "application/pdf")], pdf).into_response())
}

fn sheet_of(design: &design::Given, name: &str, asked: &Asked) -> Result<Vec<u8>, Trouble> {
    let head = sheets::head("", Some(design.job()));
    let set = match name {
        "fit.pdf" => return rim_fit::of_design(design, &asking(asked))?.pdf(design),
        "rim.pdf" => sheet::rim_sheet(&rim::of_design(design)?, &head),
        "recut.pdf" => {
            let answer = rim::of_mass(design, &asked.mass)?;
            sheet::recut_card(&answer, rim::outline(design, &answer.body.piece), &head)
        }
        _ => return Err(Trouble::NotFound(format!("there is no file `{name}`"))),
    };
    set.map_err(|why| Trouble::Ours(format!("cannot set the sheet: {why}")))
}

fn design_of(shop: &Shop, file: &str) -> Result<design::Given, Trouble> {
    let mut jobs = job::in_folder(&shop.folder).into_iter();
    let known: Option<PathBuf> = jobs.find(|path| keep::file_name(path) == file);
    let path = known.ok_or_else(|| Trouble::NotFound(format!("there is no job file `{file}`")))?;
    section::given(&path)
}

fn trail() -> [(String, String); 1] {
    [("/rim".to_owned(), "Rim".to_owned())]
}
