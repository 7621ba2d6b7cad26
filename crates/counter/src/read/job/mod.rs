//! Reading job files, format 1: all faults at once, each with its place.
//!
//! A job file is TOML. Values carry their unit (`"58 mm"`); a bare number is refused. Syntax that
//! cannot be read does not hide the faults after it.

mod block;
mod error;
mod feature;
mod outline;
mod piece;
mod spin;
mod svg;
mod wishes;

use std::collections::BTreeMap;

use toml::de::{DeTable, DeValue};
use whirlwright_workshop::part::Job;

use block::{Block, Faults, kind};
pub use error::{JobError, JobErrors};

/// Gives the text of a file a job refers to, by the path the job writes; an error in words.
pub type Fetch<'a> = &'a dyn Fn(&str) -> Result<String, String>;

/// Most pieces of one job: each pair is looked at for overlaps.
const MOST_PIECES: usize = 200;

/// Reads a job file.
///
/// `file` is only a name for messages; `fetch` gives the text of outlines kept in other files.
///
/// # Errors
/// Every fault of the file at once, those of its outlines included.
pub fn read(text: &str, file: &str, fetch: Fetch<'_>) -> Result<Job, JobErrors> {
    // A byte order mark is no text; the stretches of the faults are of the text after it.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let (table, syntax) = DeTable::parse_recoverable(text);
    let blank = text.trim().is_empty();
    let faults = Faults::new(blank || !syntax.is_empty());
    for error in syntax {
        let span = error.span().unwrap_or(0..0);
        faults.add(span, format!("this is not TOML: {}", error.message()));
    }
    if blank {
        faults.add(
            0..0,
            "the file is empty; a job file starts with `whirlwright = 1`",
        );
    }
    let job = match format(table.get_ref(), &faults) {
        Some(()) => job(table.get_ref(), text, fetch, &faults),
        None => None,
    };
    let found = faults.into_inner();
    if let (true, Some(job)) = (found.is_empty(), job) {
        return Ok(job);
    }
    let source = error::Source::new(file, text);
    let errors = found
        .into_iter()
        .map(|f| source.at(f.span, f.what, f.help))
        .collect();
    Err(JobErrors(errors))
}

/// Whether the file is of the format that is read here; a file of another format is not read on.
fn format(table: &DeTable<'_>, faults: &Faults) -> Option<()> {
    const FORMAT: &str = "1";
    let Some(value) = table.get("whirlwright") else {
        faults.missing(
            0..0,
            "the file does not say its format; `whirlwright = 1` was expected as the first line",
        );
        return Some(());
    };
    match value.get_ref() {
        DeValue::Integer(n) if n.as_str() == FORMAT => Some(()),
        DeValue::Integer(n) => {
            let what = format!(
                "this file is of format {}; this program reads format {FORMAT}",
                n.as_str()
            );
            faults.push(
                value.span(),
                what,
                Some("take a newer whirlwright".to_owned()),
            );
            None
        }
        other => {
            faults.add(
                value.span(),
                format!(
                    "`whirlwright` is {}; the number {FORMAT} was expected",
                    kind(other)
                ),
            );
            None
        }
    }
}

fn job<'a>(
    table: &'a DeTable<'a>,
    text: &'a str,
    fetch: Fetch<'_>,
    faults: &'a Faults,
) -> Option<Job> {
    let top = Block::new(table, faults, "the job file", 0..0);
    let _ = top.value("whirlwright");
    let head = head(&top, faults);
    let limits = top
        .block("limits", "[limits]")
        .map(wishes::limits)
        .unwrap_or_default();
    let blocks = top.blocks("piece", false);
    if blocks.is_empty() && !top.has("piece") {
        faults.missing(
            0..0,
            "the job has no pieces; at least one [[piece]] was expected",
        );
    }
    if blocks.len() > MOST_PIECES {
        faults.add(
            0..0,
            format!(
                "the job has {} pieces; at most {MOST_PIECES} were expected",
                blocks.len()
            ),
        );
        return None;
    }
    let count = blocks.len();
    let pieces: Vec<_> = blocks
        .into_iter()
        .filter_map(|block| piece::piece(block, text, fetch, faults))
        .collect();
    let names = piece::names(&pieces, &top, faults, pieces.len() == count);
    let pairing = top
        .block("pairing", "[pairing]")
        .map(|b| wishes::pairing(b, faults))
        .unwrap_or_default();
    let recut = top
        .block("recut", "[recut]")
        .and_then(|b| wishes::recut(b, &pieces, &names, faults));
    let lots = top
        .block("lot", "[lot]")
        .map_or_else(BTreeMap::new, |b| wishes::lots(b, &names, faults));
    let mut later = Job::default();
    spin::blocks(&top, faults, &mut later);
    let [press, mould, process] = ["press", "mould", "process"].map(|key| raw(&top, key, text));
    top.finish();
    let (name, revision, note) = head?;
    let pieces = pieces.into_iter().map(|p| p.piece).collect();
    Some(Job {
        name,
        revision,
        note,
        limits,
        pieces,
        pairing,
        recut,
        lots,
        press,
        mould,
        process,
        ..later
    })
}

type Head = (String, Option<String>, Option<String>);

fn head(top: &Block<'_>, faults: &Faults) -> Option<Head> {
    let Some(block) = top.block("design", "[design]") else {
        if !top.has("design") {
            faults.missing(
                0..0,
                "the job has no [design] block; `[design]` with a `name` was expected",
            );
        }
        return None;
    };
    let name = block.needed_text("name", "the design's name, such as \"Dunlin\",");
    let own = |said: Option<block::Said<'_>>| said.map(|s| s.text.to_owned());
    let (revision, note) = (own(block.text("revision")), own(block.text("note")));
    block.finish();
    Some((name?.text.to_owned(), revision, note))
}

/// A block that is kept as it stands for a later station.
fn raw(top: &Block<'_>, key: &'static str, text: &str) -> Option<toml::Table> {
    let _ = top.block(key, format!("[{key}]"))?;
    let mut whole: toml::Table = text.parse().ok()?;
    match whole.remove(key) {
        Some(toml::Value::Table(table)) => Some(table),
        _ => None,
    }
}

#[cfg(test)]
mod tests;
