//! What all pages share: head, heading, verdict, plots with their tables, and failures in words.

use axum::http::header;
use axum::response::{IntoResponse, Response};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use whirlwright_paper::words;
use whirlwright_workshop::part::record::Written;
use whirlwright_workshop::part::{Answer, Verdict};

use super::assets::STAMP;
use crate::error::Trouble;

/// What went wrong, shown as a page in plain words.
#[derive(Debug)]
pub struct Failure(pub Trouble);

impl From<Trouble> for Failure {
    fn from(trouble: Trouble) -> Self {
        Self(trouble)
    }
}

impl IntoResponse for Failure {
    fn into_response(self) -> Response {
        let body = html! {
            p.verdict.stop { (mark(Verdict::Stop)) " This did not work" }
            p.words { (self.0) }
            p { a.button href="/" { "Back to the lots" } }
        };
        (self.0.status(), page("This did not work", &[], &body)).into_response()
    }
}

/// What a page handler gives.
pub type Page = Result<Markup, Failure>;

/// A whole page. `trail` is the way back: address and name of each step above this page.
pub fn page(title: &str, trail: &[(String, String)], body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) " · Whirlwright" }
                link rel="icon" href="data:,";
                link rel="stylesheet" href={ "/static/style.css?v=" (STAMP) };
                link id="plotly.js-style-global" rel="stylesheet" href={ "/static/plot.css?v=" (STAMP) };
                script defer src={ "/static/page.js?v=" (STAMP) } {}
            }
            body {
                a.skip href="#main" { "To the content" }
                header.top {
                    a.name href="/" { "Whirlwright" }
                    nav aria-label="Way back" {
                        a href="/" { "Lots" }
                        @for (address, name) in trail { a href=(address) { (name) } }
                    }
                        a href="/spin" { "Spin" }
                        a href="/balance" { "Balance" }
                    }
