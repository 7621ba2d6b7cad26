//! Reading job files, format 1: all faults at once, each with its place.
//!
//! A job file is TOML. Values carry their unit (`"58 mm"`); a bare number is refused. Syntax that
//! cannot be read does not hide the faults after it.

pub(in crate::read) mod balance;
pub(in crate::read) mod block;
mod error;
mod feature;
mod fit;
mod mould;
mod outline;
mod piece;
mod process;
mod spin;
mod svg;
mod wishes;

use std::collections::BTreeMap;

use toml::de::DeTable;
use whirlwright_workshop::part::Job;

use super::document::{self, Form};
use block::{Block, Faults};
pub(in crate::read) use error::Source;
pub use error::{JobError, JobErrors};

/// Gives the text of a file a job refers to, by the path the job writes; an error in words.
pub type Fetch<'a> = &'a dyn Fn(&str) -> Result<String, String>;

/// Most pieces of one job: each pair is looked at for overlaps.
const MOST_PIECES: usize = 200;

const FORM: Form = Form {
    key: "whirlwright",
    what: "a job file",
};

/// Reads a job file.
///
/// `file` is only a name for messages; `fetch` gives the text of outlines kept in other files.
///
/// # Errors
/// Every fault of the file at once, those of its outlines included.
pub fn read(text: &str, file: &str, fetch: Fetch<'_>) -> Result<Job, JobErrors> {
    // The stretches of the faults are of the text without its byte order mark.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    document::read(text, file, &FORM, |table, faults| {
        job(table, text, fetch, faults)
    })
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
    fit::blocks(&top, &names, faults, &mut later);
    later.balance = top
        .block("balance", "[balance]")
        .map(|b| balance::balance(b, &names, faults));
    mould::blocks(&top, &names, faults, &mut later);
    process::blocks(&top, faults, &mut later);
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

#[cfg(test)]
mod tests;
