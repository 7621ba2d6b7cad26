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
                    nav.side aria-label="Other pages" {
                        a href="/design" { "Design" }
                        a href="/mould" { "Mould" }
                        a href="/rim" { "Rim" }
                        a href="/spin" { "Spin" }
                        a href="/balance" { "Balance" }
                    }
                }
                main id="main" { h1 { (title) } (body) }
                footer {
                    "The tool advises, it does not certify. Follow your machine maker's instructions, "
                    "local law and the advice of licensed people; where they differ from this page, they win."
                }
            }
        }
    }
}

/// The verdict as shape and word; colour only repeats it.
pub fn mark(verdict: Verdict) -> Markup {
    let (sign, word) = match verdict {
        Verdict::Good => ("✓", "good"),
        Verdict::Look => ("▲", "look"),
        Verdict::Stop => ("■", "stop"),
    };
    html! { span.sign aria-hidden="true" { (sign) } " " (word) }
}

/// A drawing of our own, within the page: its texts are escaped where it is written.
pub fn drawing(svg: &str) -> Markup {
    html! { figure.drawing { (PreEscaped(svg)) } }
}

/// A picture as a page of its own; it may load nothing.
pub fn svg(picture: &str) -> Response {
    let policy = "default-src 'none'; style-src 'unsafe-inline'";
    let kind = (header::CONTENT_TYPE, "image/svg+xml");
    let head = [kind, (header::CONTENT_SECURITY_POLICY, policy)];
    (head, picture.to_owned()).into_response()
}

/// A picture as an address that holds it, for answers that are not kept.
pub fn inline_svg(picture: &str) -> String {
    format!(
        "data:image/svg+xml,{}",
        link(&[picture]).trim_start_matches('/')
    )
}

/// What stands at an address that leads nowhere.
pub async fn nothing_here() -> Failure {
    Failure(Trouble::NotFound("There is no such page.".to_owned()))
}

/// An address within this page, each step made safe.
pub fn link(steps: &[&str]) -> String {
    let mut address = String::new();
    for step in steps {
        address.push('/');
        for byte in step.bytes() {
            match byte {
                b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'_' | b'.' | b'~' => {
                    address.push(char::from(byte));
                }
                _ => address.push_str(&format!("%{byte:02X}")),
            }
        }
    }
    address
}

/// A moment of the record, with its doubt.
pub fn time(written: &Written) -> Markup {
    let told = written
        .time
        .get(..16)
        .unwrap_or(&written.time)
        .replace('T', " ");
    html! { time datetime=(written.time) { (told) } @if written.clock_doubtful { " (clock doubtful)" } }
}

fn class(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Good => "good",
        Verdict::Look => "look",
        Verdict::Stop => "stop",
    }
}

/// Verdict first, then the one number that decided it, then what to do now.
pub fn verdict<B>(answer: &Answer<B>) -> Markup {
    html! {
        section.answer {
            p class={ "verdict " (class(answer.verdict)) } { (mark(answer.verdict)) }
            p.headline { (words::glued(&answer.headline)) }
            p.decided { span.label { "Decided by:" } " " (words::glued(&answer.decided_by)) }
            @if !answer.next.is_empty() {
                h2 { "What to do now" }
                ol.next { @for step in &answer.next { li { (words::glued(step)) } } }
            }
            @for caution in &answer.cautions { p.caution { span aria-hidden="true" { "▲ " } (caution) } }
        }
    }
}

/// How far each number is to be trusted, folded away until asked for.
pub fn trust<B>(answer: &Answer<B>) -> Markup {
    html! {
        @if !answer.trust.is_empty() {
            details {
                summary { "How far to trust these numbers" }
                table {
                    thead { tr { th { "Number" } th { "Comes from" } th { "Why" } } }
                    tbody { @for t in &answer.trust {
                        tr { td { (words::of_key(&t.number)) } td { (words::basis(t.basis)) } td { (t.why) } }
                    } }
                }
            }
        }
    }
}

/// An interactive plot: the page sends only its numbers; `table` says the same without a picture.
pub fn plot(name: &str, says: &str, json: &str, table: &Markup) -> Markup {
    html! {
        figure {
            div.plot role="img" aria-label=(says) data-plot=(name) {}
            script type="application/json" id={ "plot-" (name) } { (PreEscaped(inside_script(json))) }
            figcaption { (says) }
            details { summary { "The same as a table" } (table) }
        }
    }
}

/// JSON that may stand inside a script element: no `<` can end it early.
fn inside_script(json: &str) -> String {
    json.replace('<', "\\u003c")
}
