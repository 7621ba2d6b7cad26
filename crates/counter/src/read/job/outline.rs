//! The outline of a piece: written in the job, or kept in a drawing beside it.

use toml::de::DeValue;
use whirlwright_workshop::design::outline_faults;
use whirlwright_workshop::part::Outline;

use super::block::{Block, Faults, Said, Span, kind};
use super::{Fetch, svg};

/// Reads and checks the outline of a piece.
pub(super) fn outline(
    block: &Block<'_>,
    text: &str,
    fetch: Fetch<'_>,
    faults: &Faults,
) -> Option<Outline> {
    let Some(value) = block.value("outline") else {
        let what = format!(
            "{} has no `outline`; an SVG path in mm was expected, such as \"M 3 2 L 3 9 L 8 2 Z\"",
            block.name
        );
        faults.missing(block.span.clone(), what);
        return None;
    };
    match value.get_ref() {
        DeValue::String(path) => {
            let said = Said {
                text: path,
                span: value.span(),
            };
            check(&said, &|at| place(text, &said, at), "", faults)
        }
        DeValue::Table(table) => {
            let block = Block::new(table, faults, "`outline`", value.span());
            let file = block.needed_text("file", "a drawing such as \"dunlin.svg\"");
            let id = block.needed_text("id", "the id of a path in it");
            block.finish();
            let (file, id) = (file?, id?);
            let drawing = fetch(file.text)
                .map_err(|error| faults.add(file.span.clone(), error))
                .ok()?;
            let path = svg::path(&drawing, id.text)
                .map_err(|error| faults.add(id.span.clone(), format!("{}: {error}", file.text)))
                .ok()?;
            let said = Said {
                text: &path,
                span: id.span.clone(),
            };
            let at = |_| id.span.clone();
            check(
                &said,
                &at,
                &format!("{}, id `{}`: ", file.text, id.text),
                faults,
            )
        }
        other => {
            let what = format!(
                "`outline` is {}; an SVG path in quotes or {{ file = \"…\", id = \"…\" }} was expected",
                kind(other)
            );
            faults.add(value.span(), what);
            None
        }
    }
}

/// Reads a path and looks for its faults; `span` gives the place in the job of a byte of the path.
fn check(
    said: &Said<'_>,
    span: &dyn Fn(usize) -> Span,
    prefix: &str,
    faults: &Faults,
) -> Option<Outline> {
    let outline = match Outline::read(said.text) {
        Ok(outline) => outline,
        Err(error) => {
            faults.add(span(error.at), format!("{prefix}{}", error.what));
            return None;
        }
    };
    let found = outline_faults(&outline);
    for fault in &found {
        faults.add(span(fault.at), format!("{prefix}{}", fault.what));
    }
    found.is_empty().then_some(outline)
}

/// The place in the file of a byte of a text in quotes: the whole command or number that starts
/// there. Where escapes stand between, the text as a whole.
fn place(file: &str, said: &Said<'_>, at: usize) -> Span {
    let raw = &file[said.span.clone()];
    let quotes = if raw.starts_with("\"\"\"") || raw.starts_with("'''") {
        3
    } else {
        1
    };
    let mut start = quotes.min(raw.len());
    // A line break right after three quotes is not part of the text.
    if quotes == 3 {
        start += ["\r\n", "\n"]
            .iter()
            .find(|b| raw[start..].starts_with(**b))
            .map_or(0, |b| b.len());
    }
    let same = raw
        .as_bytes()
        .get(start..start + at)
        .is_some_and(|b| b == &said.text.as_bytes()[..at]);
    if !same {
        return said.span.clone();
    }
    let from = said.span.start + start + at;
    let length = said
        .text
        .get(at..)
        .and_then(|rest| rest.chars().next())
        .map_or(1, char::len_utf8);
    from..from + length
}
