//! The page `VALIDATION.md`: made from the cases and from the names of the tests, never written by
//! hand. `scripts/validation` writes it; without that the committed page is compared.

mod cases;
mod tree;

use std::collections::BTreeMap;
use std::fmt::Write as _;

use cases::{Case, case_files, cases_of};
use tree::rust::tests_of;
use tree::{File, KINDS, file, files, root};

const PAGE: &str = "VALIDATION.md";

const HEAD: &str = "# Validation

This page is made by `scripts/validation` from the cases in `validation/` and from the names of the tests;
what it lists is run by `./scripts/check`. How a case is written down: `validation/README.md`.

What the kinds of proof mean: *published* agrees with a number somebody else printed; *closed form* with an
exact formula; *law* keeps a law for every input; *order* has an error that falls at the stated rate; *twin*
agrees with an independent computation; *measured* agrees with a measurement; *pinned* guards against change
and proves nothing.
";

/// The room a file belongs to: the station, or the crate and its first folder.
fn room_of(path: &str) -> Option<String> {
    let rest = path.strip_prefix("crates/")?;
    let steps: Vec<&str> = rest.split('/').collect();
    let name = match steps[..] {
        ["workshop", "src", station, ..] => station.trim_end_matches(".rs").to_owned(),
        ["workshop", "tests", file, ..] => {
            let name = file.trim_end_matches(".rs");
            // A test of a station is named after it; the others read the tree.
            if root().join("crates/workshop/src").join(name).is_dir() {
                name.to_owned()
            } else {
                "the tree".to_owned()
            }
        }
        ["kit", "src", part, ..] => {
            format!("kit: {}", part.trim_end_matches(".rs").replace('_', " "))
        }
        [crate_name, ..] => crate_name.to_owned(),
        [] => return None,
    };
    Some(name)
}

/// How many tests of each kind every room has.
fn tests_by_room(sources: &[File]) -> BTreeMap<String, BTreeMap<&'static str, usize>> {
    let mut rooms: BTreeMap<String, BTreeMap<&str, usize>> = BTreeMap::new();
    for source in sources {
        let Some(room) = room_of(&source.path) else {
            continue;
        };
        for (_, name) in tests_of(&source.text) {
            let kind = KINDS
                .into_iter()
                .find(|kind| name.starts_with(&format!("{kind}_")));
            if let Some(kind) = kind {
                *rooms
                    .entry(room.clone())
                    .or_default()
                    .entry(kind)
                    .or_default() += 1;
            }
        }
    }
    rooms
}

fn table_of_tests(sources: &[File]) -> String {
    let mut page = "\n## Tests by room and kind of proof\n\n| room |".to_owned();
    KINDS
        .iter()
        .for_each(|kind| page += &format!(" {} |", kind.replace('_', " ")));
    page += &format!("\n|---|{}\n", "---|".repeat(KINDS.len()));
    for (room, counts) in tests_by_room(sources) {
        let cells = KINDS.map(|kind| counts.get(kind).map_or(String::new(), ToString::to_string));
        page += &format!("| {room} | {} |\n", cells.join(" | "));
    }
    page
}

/// A cell keeps to its column.
fn cell(text: &str) -> String {
    text.replace('|', "\\|").replace('\n', " ")
}

fn values(values: &BTreeMap<String, String>) -> String {
    let each = values.iter().map(|(key, value)| match key.as_str() {
        "" => cell(value),
        key => format!("{key} {}", cell(value)),
    });
    each.collect::<Vec<_>>().join("; ")
}

fn table_of_cases(cases: &[Case]) -> String {
    let mut page = String::new();
    page += "\n| case | kind | source | value | tolerance | reason |\n|---|---|---|---|---|---|\n";
    for case in cases {
        let source = format!("{}: {}", case.source, case.locator);
        let kind = case.kind.replace('_', " ");
        let of_value = if case.relative { " of the value" } else { "" };
        let (value, within) = (values(&case.values), values(&case.tolerances) + of_value);
        let _ = writeln!(
            page,
            "| {} | {kind} | {} | {value} | {within} | {} |",
            cell(&case.name),
            cell(&source),
            cell(&case.reason)
        );
    }
    page
}

/// The whole page.
fn page(cases: &[File], sources: &[File]) -> String {
    let mut page = HEAD.to_owned() + &table_of_tests(sources);
    let mut station = String::new();
    for file in cases {
        let of = file.path.split('/').nth(1).unwrap_or_default();
        if of != station {
            station = of.to_owned();
            let _ = write!(page, "\n## {station}\n");
        }
        let _ = write!(page, "\n`{}`\n", file.path);
        page += &table_of_cases(&cases_of(&file.path, &file.text).unwrap_or_default());
    }
    page
}

#[test]
#[expect(
    clippy::disallowed_methods,
    reason = "on request the test writes the page it would compare"
)]
fn law_the_page_is_made_from_the_cases() {
    let made = page(&case_files(), &files("crates", &[".rs"]));
    if std::env::var("WRITE_VALIDATION").is_ok() {
        std::fs::write(root().join(PAGE), made).expect("the page can be written");
    } else {
        assert!(
            file(PAGE).text == made,
            "{PAGE} is not what the cases make: run scripts/validation"
        );
    }
}

/// The page shows what a case holds, and counts each test once.
#[test]
fn law_a_case_and_a_test_reach_the_page() {
    let case = "[[case]]\nname = \"ring\"\nkind = \"closed_form\"\nsource = \"derived\"\nlocator = \"a|b\"\n\
        value = { mass_g = \"17.980\" }\ntolerance = \"0.0005\"\nreason = \"half a digit\"\n";
    let case = File {
        path: "validation/design/rings.toml".to_owned(),
        text: case.to_owned(),
    };
    let text =
        "#[test]\nfn law_a() {}\n#[test]\nfn law_b() {}\n#[test]\nfn twin_c() {}\n".to_owned();
    let source = File {
        path: "crates/kit/src/matching/sparse.rs".to_owned(),
        text,
    };
    let made = page(&[case], &[source]);
    for line in [
        "| ring | closed form | derived: a\\|b | mass_g 17.980 | 0.0005 | half a digit |",
        "| kit: matching |  |  | 2 |  | 1 |  |  |",
        "## design",
    ] {
        assert!(made.contains(line), "`{line}` is missing from\n{made}");
    }
}
