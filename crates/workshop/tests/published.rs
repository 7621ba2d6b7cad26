//! The validation cases are complete: each could be checked by hand from what is written there.

mod cases;
mod tree;

use std::collections::BTreeSet;

use cases::{Case, case_files, cases_of};
use tree::{File, Finding, KINDS, NO_SOURCE, apply, file, files, none};

/// What one case lacks.
fn lacks(case: &Case, sources: &BTreeSet<String>) -> Vec<String> {
    let mut found = Vec::new();
    let mut need = |is_there: bool, says: &str| {
        if !is_there {
            found.push(format!("case `{}` {says}", case.name));
        }
    };
    need(!case.name.is_empty(), "has no name");
    need(case.has_inputs, "has no inputs");
    need(
        KINDS.contains(&case.kind.as_str()),
        "is of no known kind of proof",
    );
    need(!case.values.is_empty(), "has no value written as text");
    need(
        !case.locator.is_empty(),
        "does not say where the value stands or how it was derived",
    );
    need(!case.reason.is_empty(), "gives no reason for its tolerance");
    let is_named = NO_SOURCE.contains(&case.source.as_str()) || sources.contains(&case.source);
    need(is_named, "names a source that is not in shelf/sources.toml");
    let one_for_all = case.tolerances.contains_key("");
    let of_each = case
        .values
        .keys()
        .all(|key| case.tolerances.contains_key(key));
    need(
        one_for_all || of_each,
        "has a value without a tolerance written as text",
    );
    let is_a_size = |text: &String| text.parse::<f64>().is_ok_and(|size| size >= 0.0);
    need(
        case.tolerances.values().all(is_a_size),
        "has a tolerance that is no number",
    );
    if case.kind == "published" {
        need(
            sources.contains(&case.source),
            "says it was published, and not by whom",
        );
    }
    found
}

/// Every case of a file is complete, and no two share a name.
fn is_complete(path: &str, text: &str, sources: &BTreeSet<String>) -> Vec<Finding> {
    let cases = match cases_of(path, text) {
        Ok(cases) => cases,
        Err(says) => return vec![Finding::new(path, 1, says)],
    };
    let mut found = Vec::new();
    let mut names = BTreeSet::new();
    for case in &cases {
        found.extend(
            lacks(case, sources)
                .into_iter()
                .map(|says| Finding::new(path, case.line, says)),
        );
        if !names.insert(case.name.clone()) {
            found.push(Finding::new(
                path,
                case.line,
                format!("a second case `{}`", case.name),
            ));
        }
    }
    found
}

/// A case file that no test opens proves nothing.
fn unread(cases: &[File], tests: &[File]) -> Vec<Finding> {
    let is_opened = |file: &&File| {
        let name = file.path.rsplit('/').next().unwrap_or_default();
        tests.iter().any(|test| test.text.contains(name))
    };
    let unread = cases.iter().filter(|file| !is_opened(file));
    unread
        .map(|file| Finding::new(&file.path, 1, "no test reads this file"))
        .collect()
}

fn sources() -> BTreeSet<String> {
    let list: toml::Table = file("shelf/sources.toml").text.parse().unwrap_or_default();
    list.keys().cloned().collect()
}

#[test]
fn law_every_case_is_complete() {
    let (cases, sources) = (case_files(), sources());
    assert!(!cases.is_empty(), "there is no case in validation/");
    none(&apply(&cases, |path, text| {
        is_complete(path, text, &sources)
    }));
}

#[test]
fn law_every_case_file_is_read_by_a_test() {
    let own = "crates/workshop/tests/published.rs";
    let tests: Vec<File> = files("crates", &[".rs"])
        .into_iter()
        .filter(|file| file.path != own)
        .collect();
    none(&unread(&case_files(), &tests));
}

/// Each rule, shown to fail on a planted fault.
mod planted {
    use super::*;

    const WHOLE: &str = "[[case]]\nname = \"ring\"\nkind = \"closed_form\"\nsource = \"derived\"\nlocator = \"cylinder\"\n\
        inputs = { outside_mm = \"58\" }\nvalue = { mass_g = \"17.980\" }\ntolerance = { mass_g = \"0.0005\" }\nreason = \"half a digit\"\n";

    #[test]
    fn law_an_incomplete_case_is_named() {
        let lacking = |text: &str| is_complete("a", text, &BTreeSet::new()).len();
        assert_eq!(lacking(WHOLE), 0);
        for line in WHOLE.lines().filter(|line| *line != "[[case]]") {
            assert!(
                lacking(&WHOLE.replace(line, "")) >= 1,
                "without `{line}` it passed"
            );
        }
        assert_eq!(
            lacking(&WHOLE.replace("\"17.980\"", "17.980")),
            1,
            "a number for a text passed"
        );
        assert_eq!(
            lacking(&WHOLE.replace("closed_form", "published")),
            1,
            "published by nobody passed"
        );
        assert_eq!(
            lacking(&format!("{WHOLE}{WHOLE}")),
            1,
            "two of one name passed"
        );
        assert_eq!(lacking("x = 1"), 1);
    }

    #[test]
    fn law_a_case_file_without_a_test_is_named() {
        let case = File {
            path: "validation/design/rings.toml".to_owned(),
            text: String::new(),
        };
        let test = |text: &str| File {
            path: "a.rs".to_owned(),
            text: text.to_owned(),
        };
        assert_eq!(
            unread(std::slice::from_ref(&case), &[test("cones.toml")]).len(),
            1
        );
        assert_eq!(unread(&[case], &[test("include_str!(\"rings.toml\")")]), []);
    }
}
