//! What was taken for granted, remembered in words.

use crate::part::Range;
use crate::shelf::known;

/// What was taken for granted so far.
#[derive(Debug, Default)]
pub(super) struct Notes {
    said: Vec<String>,
}

impl Notes {
    /// A value of `shelf/mould.toml` in its own unit; remembered.
    pub(super) fn take(&mut self, what: &str, name: &str) -> f64 {
        self.take_range(what, name).likely
    }

    pub(super) fn take_range(&mut self, what: &str, name: &str) -> Range {
        let found = known(&format!("mould.{name}"));
        let range = if found.range.is_one() {
            String::new()
        } else {
            format!(" ({} to {})", found.range.low, found.range.high)
        };
        let (text, unit, why) = (&found.text, &found.unit, found.why());
        self.note(format!("{what}: {text} {unit}{range}, {why}"));
        found.range
    }

    /// Said once, however often it is taken.
    pub(super) fn note(&mut self, said: String) {
        if !self.said.contains(&said) {
            self.said.push(said);
        }
    }

    /// All that was said.
    pub(super) fn into_words(self) -> Vec<String> {
        self.said
    }
}
