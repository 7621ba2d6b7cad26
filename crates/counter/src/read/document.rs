//! A TOML file of ours: its form, and every fault at once with its place.

use toml::de::{DeTable, DeValue};

use super::job::block::{Faults, kind};
use super::job::{JobErrors, Source};

/// The first line of a form of file, and what such a file is called.
pub(super) struct Form {
    /// The key that says the version.
    pub key: &'static str,
    /// What it is called in a sentence, with its article.
    pub what: &'static str,
}

/// The version that is read here.
const VERSION: &str = "1";

/// Reads a file of this form. Syntax that cannot be read does not hide the faults after it.
pub(super) fn read<T>(
    text: &str,
    file: &str,
    form: &Form,
    body: impl FnOnce(&DeTable<'_>, &Faults) -> Option<T>,
) -> Result<T, JobErrors> {
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
        let (what, key) = (form.what, form.key);
        faults.add(
            0..0,
            format!("the file is empty; {what} starts with `{key} = {VERSION}`"),
        );
    }
    let read = match version(table.get_ref(), form, &faults) {
        Some(()) => body(table.get_ref(), &faults),
        None => None,
    };
    let found = faults.into_inner();
    if let (true, Some(read)) = (found.is_empty(), read) {
        return Ok(read);
    }
    let source = Source::new(file, text);
    let errors = found
        .into_iter()
        .map(|f| source.at(f.span, f.what, f.help))
        .collect();
    Err(JobErrors(errors))
}

/// Whether the file is of the version that is read here; another one is not read on.
fn version(table: &DeTable<'_>, form: &Form, faults: &Faults) -> Option<()> {
    let key = form.key;
    let Some(value) = table.get(key) else {
        faults.missing(
            0..0,
            format!(
                "the file does not say its format; `{key} = {VERSION}` was expected as the first line"
            ),
        );
        return Some(());
    };
    match value.get_ref() {
        DeValue::Integer(n) if n.as_str() == VERSION => Some(()),
        DeValue::Integer(n) => {
            let what = format!(
                "this file is of format {}; this program reads format {VERSION}",
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
                    "`{key}` is {}; the number {VERSION} was expected",
                    kind(other)
                ),
            );
            None
        }
    }
}
