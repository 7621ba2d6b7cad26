//! Bringing a file of parts into a lot from the page.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::extract::{Multipart, State};
use maud::{Markup, html};
use whirlwright_workshop::part::Kind;

use super::Shop;
use super::layout::{self, Failure, link};
use crate::desk::lot;
use crate::desk::reading::Reading;
use crate::error::Trouble;

/// Kinds of part as the form names them.
const KINDS: [(&str, Kind, &str); 4] = [
    ("halves", Kind::Half, "Halves"),
    ("rims", Kind::Rim, "Rims"),
    ("dressed", Kind::Dressed, "Dressed halves"),
    ("parts", Kind::Other, "Other small parts"),
];

/// The form; for a lot that is known, or one still to be named.
pub fn form(lot: Option<&str>) -> Markup {
    html! {
        form.limits method="post" action="/lot" enctype="multipart/form-data" data-busy="Reading …" {
            label { "Lot" input type="text" name="lot" required maxlength="64" value=[lot] placeholder="D26"; }
            label { "What the file lists"
                select name="kind" { @for (value, _, name) in KINDS { option value=(value) { (name) } } } }
            label { "File (CSV or XLSX)" input type="file" name="file" required accept=".csv,.txt,.tsv,.xlsx"; }
            label.tick { input type="checkbox" name="again" value="true"; "New weighings of parts that are in already" }
            label.tick { input type="checkbox" name="skip_refused" value="true"; "Take the good rows, list the refused ones" }
            button.main type="submit" { "Bring it in" }
        }
    }
}

/// What a form sent: the file, and its other fields by name.
#[derive(Default)]
pub struct Fields {
    /// The file's plain name and what is in it.
    pub file: Option<(String, Vec<u8>)>,
    /// The other fields.
    pub texts: BTreeMap<String, String>,
}

/// Takes a file in, all of it or nothing, and shows what came of it.
pub async fn take(State(shop): State<Arc<Shop>>, form: Multipart) -> Result<Markup, Failure> {
    let mut sent = fields(form).await?;
    let mut text = |name: &str| sent.texts.remove(name).unwrap_or_default();
    let (asked, word) = (text("lot").trim().to_owned(), text("kind"));
    let again = text("again") == "true";
    let reading = Reading {
        skip_refused: text("skip_refused") == "true",
        ..Reading::default()
    };
    let kind = KINDS
        .iter()
        .find(|(known, ..)| *known == word)
        .map(|(_, kind, _)| *kind);
    let kind = kind.ok_or_else(|| Trouble::Input(format!("`{word}` is no kind of part")))?;
    let (name, bytes) = sent
        .file
        .ok_or_else(|| Trouble::Input("no file was chosen".to_owned()))?;
    let windows = crate::desk::job::windows(shop.job()?.as_ref().map(|(job, _)| job));
    let taken = reading.bytes(&name, bytes, kind, &windows)?;
    let imported = lot::bring(&shop.ledger, &asked, vec![taken], again).await?;
    let told = crate::words::imported(&imported);
    let body = html! {
        pre.words { (told) }
        p { a.button.main href=(link(&["lot", &asked])) { "Show lot " (asked) } }
    };
    Ok(layout::page("Brought in", &[], &body))
}

/// Reads a form with a file to its end.
///
/// # Errors
/// The form did not arrive whole.
pub async fn fields(mut form: Multipart) -> Result<Fields, Trouble> {
    let broken = |e: axum::extract::multipart::MultipartError| {
        Trouble::Input(format!("the form did not arrive whole: {}", e.body_text()))
    };
    let mut sent = Fields::default();
    while let Some(field) = form.next_field().await.map_err(broken)? {
        let name = field.name().unwrap_or_default().to_owned();
        if name == "file" {
            let file = plain_name(field.file_name().unwrap_or_default());
            let bytes = field.bytes().await.map_err(broken)?.to_vec();
            sent.file = (!file.is_empty()).then_some((file, bytes));
        } else {
            sent.texts.insert(name, field.text().await.map_err(broken)?);
        }
    }
    Ok(sent)
}

/// The last part of a file's name, whatever path a browser sends with it.
pub fn plain_name(sent: &str) -> String {
    sent.rsplit(['/', '\\'])
        .next()
        .unwrap_or_default()
        .to_owned()
}
