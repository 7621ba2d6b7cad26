//! Sources: every value of the shelf and of a validation case says whence it comes, every source
//! listed is used, and no number from a book stands in code.

#[path = "sources/numbers.rs"]
mod numbers;
mod tree;

use std::collections::BTreeSet;

use toml::{Table, Value};
use tree::{File, Finding, NO_SOURCE, apply, file, files, none};

const LIST: &str = "shelf/sources.toml";

/// Every source of the list by its key.
fn listed() -> Table {
    let list = file(LIST).text;
    list.parse()
        .unwrap_or_else(|error| panic!("{LIST}: {error}"))
}

/// The line of the first text that holds all of `words`; 1 if none does.
fn line_with(text: &str, word: &str) -> usize {
    text.lines()
        .position(|line| line.contains(word))
        .map_or(1, |at| at + 1)
}

/// One table that holds a `value`, with the tables it stands in (the outermost first).
struct Valued<'a> {
    name: String,
    around: Vec<&'a Table>,
}

impl Valued<'_> {
    /// A key of the table itself, or of the nearest table around it.
    fn said(&self, key: &str) -> Option<&str> {
        self.around
            .iter()
            .rev()
            .find_map(|table| table.get(key)?.as_str())
    }
}

fn valued<'a>(name: &str, value: &'a Value, around: &[&'a Table], found: &mut Vec<Valued<'a>>) {
    match value {
        Value::Table(table) => {
            let around: Vec<&Table> = around.iter().copied().chain([table]).collect();
            if table.contains_key("value") {
                found.push(Valued {
                    name: name.to_owned(),
                    around: around.clone(),
                });
            }
            for (key, inner) in table {
                valued(&format!("{name}.{key}"), inner, &around, found);
            }
        }
        Value::Array(rows) => {
            for (index, row) in rows.iter().enumerate() {
                valued(&format!("{name}[{index}]"), row, around, found);
            }
        }
        _ => {}
    }
}

/// Every value of a shelf file says its unit, its tag and its source; `read` says where.
fn says_whence(path: &str, text: &str, sources: &Table) -> Vec<Finding> {
    let parsed = match text.parse::<Table>() {
        Ok(table) => Value::Table(table),
        Err(error) => return vec![Finding::new(path, 1, error.to_string())],
    };
    let mut values = Vec::new();
    valued("", &parsed, &[], &mut values);
    let mut found = Vec::new();
    for value in &values {
        let last = value.name.rsplit('.').next().unwrap_or_default().to_owned();
        let mut miss = |says: &str| {
            found.push(Finding::new(
                path,
                line_with(text, &last),
                format!("{}: {says}", value.name),
            ));
        };
        let tag = value.said("tag").unwrap_or("");
        match (tag, value.said("source")) {
            ("read", Some(source)) if sources.contains_key(source) => {
                if value.said("locator").unwrap_or("").is_empty() {
                    miss("was read, and does not say at what place (`locator`)");
                }
            }
            ("read", _) => miss("was read, and its source is not in shelf/sources.toml"),
            (tag, None) if NO_SOURCE.contains(&tag) => {
                miss("says no source; the tag again will do")
            }
            (tag, Some(source)) if NO_SOURCE.contains(&tag) => {
                if !NO_SOURCE.contains(&source) && !sources.contains_key(source) {
                    miss("names a source that is not in shelf/sources.toml");
                }
            }
            _ => miss("its tag is none of read, memory, practice, derived, invented"),
        }
        if value.said("unit").is_none() {
            miss("says no unit (`1` for a plain number)");
        }
    }
    found
}

/// A shelf file that holds numbers outside of a `value` hides them from the rule above.
fn hides_no_number(path: &str, text: &str) -> Vec<Finding> {
    fn numbers(name: &str, value: &Value, found: &mut Vec<String>) {
        match value {
            Value::Integer(_) | Value::Float(_) => found.push(name.to_owned()),
            Value::Array(rows) => rows.iter().for_each(|row| numbers(name, row, found)),
            Value::Table(table) => table
                .iter()
                .for_each(|(key, inner)| numbers(key, inner, found)),
            _ => {}
        }
    }
    let mut bare = Vec::new();
    if let Ok(table) = text.parse::<Table>() {
        numbers("", &Value::Table(table), &mut bare);
    }
    bare.retain(|name| !["year", "volume", "edition", "whirlwright"].contains(&name.as_str()));
    let says = "a number of the shelf is text in `value`, with its unit, tag and source";
    bare.iter()
        .map(|name| Finding::new(path, line_with(text, name), says))
        .collect()
}

/// The keys that a file gives as its sources.
fn named_in(text: &str) -> BTreeSet<String> {
    fn gather(value: &Value, found: &mut BTreeSet<String>) {
        match value {
            Value::Table(table) => {
                found.extend(
                    table
                        .get("source")
                        .and_then(Value::as_str)
                        .map(ToOwned::to_owned),
                );
                table.values().for_each(|inner| gather(inner, found));
            }
            Value::Array(rows) => rows.iter().for_each(|row| gather(row, found)),
            _ => {}
        }
    }
    let mut found = BTreeSet::new();
    if let Ok(table) = text.parse::<Table>() {
        gather(&Value::Table(table), &mut found);
    }
    found
}

/// A source nobody names; pages of theory name one by `[key]`, code by its key in a string.
fn unused(list: &File, sources: &Table, users: &[File]) -> Vec<Finding> {
    let named: BTreeSet<String> = users.iter().flat_map(|user| named_in(&user.text)).collect();
    let in_words = |key: &str| {
        users
            .iter()
            .any(|user| user.text.contains(&format!("[{key}]")))
    };
    let unused = sources
        .keys()
        .filter(|key| !named.contains(*key) && !in_words(key));
    unused
        .map(|key| {
            Finding::new(
                &list.path,
                line_with(&list.text, key),
                format!("nothing uses `{key}`"),
            )
        })
        .collect()
}

/// A source of the list says what it is and where it is found.
fn is_a_source(path: &str, text: &str) -> Vec<Finding> {
    let Ok(table) = text.parse::<Table>() else {
        return vec![Finding::new(path, 1, "is no TOML")];
    };
    let mut found = Vec::new();
    for (key, source) in &table {
        for needed in ["title", "where"] {
            if source
                .get(needed)
                .and_then(Value::as_str)
                .unwrap_or("")
                .is_empty()
            {
                found.push(Finding::new(
                    path,
                    line_with(text, key),
                    format!("`{key}` has no `{needed}`"),
                ));
            }
        }
    }
    found
}

fn shelf() -> Vec<File> {
    let mut shelf = files("shelf", &[".toml"]);
    shelf.retain(|file| file.path != LIST);
    shelf
}

#[test]
fn law_every_value_of_the_shelf_says_whence() {
    let (shelf, sources) = (shelf(), listed());
    assert!(!shelf.is_empty(), "the shelf is empty");
    none(&apply(&shelf, |path, text| {
        says_whence(path, text, &sources)
    }));
    none(&apply(&shelf, hides_no_number));
}

#[test]
fn law_every_source_is_complete_and_used() {
    let list = file(LIST);
    none(&is_a_source(LIST, &list.text));
    let users: Vec<File> = ["shelf", "validation", "docs", "examples", "crates"]
        .iter()
        .flat_map(|under| files(under, &[".toml", ".md", ".rs"]))
        .collect();
    let users: Vec<File> = users.into_iter().filter(|file| file.path != LIST).collect();
    none(&unused(&list, &listed(), &users));
}

/// Each rule, shown to fail on a planted fault.
mod planted {
    use super::*;

    fn sources() -> Table {
        "[book]\ntitle = \"A book\"\nwhere = \"a shelf\"\n"
            .parse()
            .expect("a list of sources")
    }

    #[test]
    fn law_a_value_without_source_is_named() {
        let says = |text: &str| says_whence("a", text, &sources()).len();
        assert_eq!(
            says(
                "[a]\nvalue = \"1\"\nunit = \"g\"\ntag = \"read\"\nsource = \"book\"\nlocator = \"p. 3\""
            ),
            0
        );
        assert_eq!(
            says("[a]\nvalue = \"1\"\nunit = \"g\"\ntag = \"read\"\nsource = \"book\""),
            1
        );
        assert_eq!(
            says(
                "[a]\nvalue = \"1\"\nunit = \"g\"\ntag = \"read\"\nsource = \"rumour\"\nlocator = \"p\""
            ),
            1
        );
        assert_eq!(says("[a]\nvalue = \"1\"\nunit = \"g\""), 1);
        assert_eq!(
            says("[a]\nvalue = \"1\"\ntag = \"memory\"\nsource = \"memory\""),
            1
        );
        assert_eq!(
            says("[a]\ntag = \"memory\"\nsource = \"memory\"\n[a.b]\nvalue = \"1\"\nunit = \"g\""),
            0
        );
        assert_eq!(hides_no_number("a", "[a]\nx = 1.13\n").len(), 1);
    }

    #[test]
    fn law_an_unused_or_empty_source_is_named() {
        let list = File {
            path: LIST.to_owned(),
            text: "[book]\ntitle = \"A\"\n".to_owned(),
        };
        let user = |text: &str| File {
            path: "a".to_owned(),
            text: text.to_owned(),
        };
        assert_eq!(unused(&list, &sources(), &[user("x = 1")]).len(), 1);
        assert_eq!(
            unused(&list, &sources(), &[user("[a]\nsource = \"book\"")]),
            []
        );
        assert_eq!(
            unused(&list, &sources(), &[user("as [book] says, it is so")]),
            []
        );
        assert_eq!(is_a_source(LIST, &list.text).len(), 1);
    }
}
