//! Single values of the shelf, by file and name: `drag.disc.transition`.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use crate::part::Range;

/// A value of the shelf with where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Known {
    /// As the source prints it.
    pub text: String,
    /// Its number, in `unit`.
    pub value: f64,
    /// What it may well be, in `unit`; one value where no range is known.
    pub range: Range,
    /// Its unit; `1` for a plain number.
    pub unit: String,
    /// How it is known: `read`, `memory`, `practice`, `derived` or `invented`.
    pub tag: String,
    /// The key of the source, or the tag again.
    pub source: String,
    /// Where in the source.
    pub locator: String,
    /// A remark.
    pub note: String,
}

impl Known {
    /// Where it comes from, for a sentence about how far to trust it.
    #[must_use]
    pub fn why(&self) -> String {
        let from = match self.tag.as_str() {
            "read" => format!("read in {}, {}", self.source, self.locator),
            "memory" => "from memory".to_owned(),
            "practice" => "common practice, no source".to_owned(),
            "derived" => "reckoned, not measured".to_owned(),
            tag => tag.to_owned(),
        };
        if self.note.is_empty() {
            from
        } else {
            format!("{from}; {}", self.note)
        }
    }
}

const FILES: [(&str, &str); 7] = [
    ("air", include_str!("../../../../shelf/air.toml")),
    ("drag", include_str!("../../../../shelf/drag.toml")),
    ("logs", include_str!("../../../../shelf/logs.toml")),
    ("mould", include_str!("../../../../shelf/mould.toml")),
    (
        "mould_study",
        include_str!("../../../../shelf/mould_study.toml"),
    ),
    ("string", include_str!("../../../../shelf/string.toml")),
    ("throw", include_str!("../../../../shelf/throw.toml")),
];

/// Every single value, by file and name.
#[must_use]
pub fn known_values() -> &'static BTreeMap<String, Known> {
    static VALUES: OnceLock<BTreeMap<String, Known>> = OnceLock::new();
    VALUES.get_or_init(|| {
        let mut found = BTreeMap::new();
        for (file, text) in FILES {
            let table: toml::Table = toml::from_str(text).expect("a shelf file is TOML");
            gather(file, &table, &BTreeMap::new(), &mut found);
        }
        found
    })
}

/// The value of that name.
///
/// # Panics
/// The name is not on the shelf: a slip of the program, which the tests of its station find.
#[must_use]
pub fn known(name: &str) -> &'static Known {
    let found = known_values().get(name);
    found.unwrap_or_else(|| panic!("`{name}` is on the shelf"))
}

/// Gathers the tables that hold a `value`; what a table does not say, those around it say.
fn gather(
    name: &str,
    table: &toml::Table,
    around: &BTreeMap<&str, &str>,
    found: &mut BTreeMap<String, Known>,
) {
    let mut said = around.clone();
    for key in ["tag", "source", "locator"] {
        if let Some(text) = table.get(key).and_then(toml::Value::as_str) {
            said.insert(key, text);
        }
    }
    if table.contains_key("value") {
        found.insert(name.to_owned(), one(name, table, &said));
    }
    for (key, inner) in table {
        if let Some(inner) = inner.as_table() {
            gather(&format!("{name}.{key}"), inner, &said, found);
        }
    }
}

fn one(name: &str, table: &toml::Table, said: &BTreeMap<&str, &str>) -> Known {
    let text = |key: &str| table.get(key).and_then(toml::Value::as_str);
    let number = |key: &str| -> Option<f64> {
        text(key).map(|text| {
            let number = text.parse();
            number.unwrap_or_else(|_| panic!("`{key}` of `{name}` is a number"))
        })
    };
    let value = number("value").unwrap_or_else(|| panic!("`value` of `{name}` is a text"));
    let owned = |text: Option<&str>| text.unwrap_or_default().to_owned();
    Known {
        text: owned(text("value")),
        value,
        range: Range {
            low: number("low").unwrap_or(value),
            likely: value,
            high: number("high").unwrap_or(value),
        },
        unit: owned(text("unit")),
        tag: owned(said.get("tag").copied()),
        source: owned(said.get("source").copied()),
        locator: owned(said.get("locator").copied()),
        note: owned(text("note")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_every_value_is_a_number_in_a_range_that_is_in_order() {
        assert!(known_values().len() > 40);
        for (name, value) in known_values() {
            assert!(value.range.is_in_order(), "{name}: {value:?}");
            assert!(!value.unit.is_empty() && !value.tag.is_empty(), "{name}");
        }
    }

    #[test]
    fn law_what_a_table_does_not_say_the_one_around_it_says() {
        let found = known("air.cipm.a0");
        assert_eq!(
            (found.tag.as_str(), found.source.as_str()),
            ("memory", "picard-2008")
        );
        assert!(found.why().contains("from memory"));
    }
}
