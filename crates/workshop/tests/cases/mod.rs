//! The validation cases, read as `validation/README.md` has them.
#![allow(dead_code, reason = "each test file uses its own part of this reader")]

use std::collections::BTreeMap;

use toml::{Table, Value};

use super::tree::{File, files};

/// One case with everything that makes it a proof.
#[derive(Debug, Clone)]
pub struct Case {
    pub path: String,
    pub line: usize,
    pub name: String,
    pub kind: String,
    pub source: String,
    pub locator: String,
    /// Every value as printed, by its key; the key is empty when there is only one.
    pub values: BTreeMap<String, String>,
    /// Every tolerance by the key of its value.
    pub tolerances: BTreeMap<String, String>,
    /// Whether the tolerances are shares of the values.
    pub relative: bool,
    pub reason: String,
    pub has_inputs: bool,
}

/// The case files: `validation/<station>/*.toml`. Twins, lots and logs are laid out otherwise.
pub fn case_files() -> Vec<File> {
    let mut found = files("validation", &[".toml"]);
    found.retain(|file| {
        !["validation/twin/", "validation/lots/", "validation/logs/"]
            .iter()
            .any(|out| file.path.starts_with(out))
    });
    // What a reader must refuse is no case either.
    found.retain(|file| !file.path.contains("/bad/"));
    found
}

/// The cases of a file; what keeps it from being read at all, in words.
pub fn cases_of(path: &str, text: &str) -> Result<Vec<Case>, String> {
    let table: Table = text.parse().map_err(|error| format!("{error}"))?;
    let rows = table
        .get("case")
        .and_then(Value::as_array)
        .ok_or("has no [[case]]")?;
    let starts = text
        .lines()
        .enumerate()
        .filter(|(_, line)| line.trim() == "[[case]]");
    let lines: Vec<usize> = starts.map(|(index, _)| index + 1).collect();
    let cases = rows.iter().enumerate().map(|(index, row)| {
        let said = |key: &str| {
            row.get(key)
                .and_then(Value::as_str)
                .unwrap_or("")
                .to_owned()
        };
        Case {
            path: path.to_owned(),
            line: lines.get(index).copied().unwrap_or(1),
            name: said("name"),
            kind: said("kind"),
            source: said("source"),
            locator: said("locator"),
            values: texts(row.get("value")),
            tolerances: texts(row.get("tolerance")),
            relative: row
                .get("relative")
                .and_then(Value::as_bool)
                .unwrap_or(false),
            reason: said("reason"),
            has_inputs: row
                .get("inputs")
                .is_some_and(|inputs| inputs.as_table().is_some_and(|t| !t.is_empty())),
        }
    });
    Ok(cases.collect())
}

/// One text, or a table of texts; anything that is no text is left out, so a rule misses it.
fn texts(value: Option<&Value>) -> BTreeMap<String, String> {
    match value {
        Some(Value::String(text)) => BTreeMap::from([(String::new(), text.clone())]),
        Some(Value::Table(table)) => {
            let texts = table
                .iter()
                .filter_map(|(key, inner)| Some((key.clone(), inner.as_str()?.to_owned())));
            texts.collect()
        }
        _ => BTreeMap::new(),
    }
}

/// Compares every printed value of a case with what was found, each to its own tolerance.
pub fn meets(case: &Case, found: &[(&str, f64)]) {
    assert_eq!(case.values.len(), found.len(), "{}", case.name);
    for (key, found) in found {
        let printed: f64 = case.values[*key].parse().expect("a number");
        let tolerance = case.tolerances.get(*key).or(case.tolerances.get(""));
        let tolerance: f64 = tolerance.expect("a tolerance").parse().expect("a number");
        let within = if case.relative {
            tolerance * printed.abs()
        } else {
            tolerance
        };
        // A hair for the rounding of the printed digit itself.
        assert!(
            (found - printed).abs() <= within * (1.0 + 1e-9),
            "{} {key}: {found} for {printed} within {within}",
            case.name
        );
    }
}
