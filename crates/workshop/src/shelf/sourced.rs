//! A value of the shelf with everything that says whence it comes.

use toml::{Table, Value};

/// One value of a shelf file.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced {
    /// The value as a number, in `unit`.
    pub number: f64,
    /// The value as the source prints it.
    pub text: String,
    /// Its unit; `1` for a plain number.
    pub unit: String,
    /// How it is known: `read`, `memory`, `practice`, `derived` or `invented`.
    pub tag: String,
    /// The key of the source.
    pub source: String,
    /// Where in the source.
    pub locator: String,
    /// A remark on the value.
    pub note: String,
}

impl Sourced {
    /// Where the value comes from, in words.
    #[must_use]
    pub fn whence(&self) -> String {
        match self.tag.as_str() {
            "read" => format!("read in {}, {}", self.source, self.locator),
            "memory" => "from memory".to_owned(),
            "practice" => "common practice, no source".to_owned(),
            tag => tag.to_owned(),
        }
    }
}

/// The value at a dotted place of a shelf file; what a table does not say itself, the table around it does.
///
/// # Panics
/// Where there is no such value, or it is no number. The file is part of the program, and a test reads
/// every place that is asked for.
pub(super) fn sourced(table: &Table, place: &str) -> Sourced {
    let mut around = vec![table];
    for step in place.split('.') {
        let inner = around.last().and_then(|t| t.get(step)?.as_table());
        around.push(inner.unwrap_or_else(|| panic!("the shelf has no {place}")));
    }
    let said = |key: &str| {
        let found = around.iter().rev().find_map(|t| t.get(key)?.as_str());
        found.unwrap_or_default().to_owned()
    };
    let text = around
        .last()
        .and_then(|t| t.get("value").and_then(Value::as_str))
        .unwrap_or_else(|| panic!("{place} of the shelf has no value"))
        .to_owned();
    Sourced {
        number: text
            .parse()
            .unwrap_or_else(|_| panic!("{place} of the shelf is no number: {text}")),
        text,
        unit: said("unit"),
        tag: said("tag"),
        source: said("source"),
        locator: said("locator"),
        note: said("note"),
    }
}
