//! What stands in the `mod.rs` of a station.

use super::tree::rust::{Keep, bare, module_of};
use super::tree::{Finding, apply, none};
use super::{ORDER, place_in_order, source};

/// What a station card must say, in these words.
const CARD: [&str; 5] = [
    "comes in",
    "leaves",
    "effects counted",
    "left out",
    "sources",
];

/// A `mod.rs` of a station holds documentation, module declarations and re-exports alone.
fn is_only_a_card(path: &str, text: &str) -> Vec<Finding> {
    let place = module_of(path).and_then(|(_, module)| place_in_order(&module));
    let is_station = place.is_some_and(|place| !["part", "shelf"].contains(&ORDER[place]));
    if !path.ends_with("/mod.rs") || !is_station {
        return Vec::new();
    }
    let code = bare(text, Keep::Code);
    let mut found = Vec::new();
    let mut line = 1;
    for statement in code.split_inclusive(';') {
        let starts = line + statement.len() - statement.trim_start().len();
        let starts = starts.min(line + statement.matches('\n').count());
        let bare_statement = without_attributes(statement);
        let allowed = [
            "mod ",
            "pub mod ",
            "pub(crate) mod ",
            "pub use ",
            "pub(crate) use ",
        ];
        let is_allowed = allowed
            .iter()
            .any(|start| bare_statement.starts_with(start));
        let is_whole = is_allowed && bare_statement.ends_with(';');
        if !is_whole && !bare_statement.is_empty() {
            let shown: String = bare_statement.chars().take(40).collect();
            found.push(Finding::new(
                path,
                starts,
                format!("a mod.rs holds the card alone, not `{shown}`"),
            ));
        }
        line += statement.matches('\n').count();
    }
    found
}

fn without_attributes(statement: &str) -> String {
    let mut rest = statement.trim();
    while let (true, Some(end)) = (rest.starts_with('#'), rest.find(']')) {
        rest = rest[end + 1..].trim_start();
    }
    rest.to_owned()
}

/// The card of a station says what comes in, what leaves, what is counted, left out, and whence.
fn says_the_five_things(path: &str, text: &str) -> Vec<Finding> {
    let parts: Vec<&str> = path.split('/').collect();
    let is_station = matches!(parts[..], ["crates", "workshop", "src", name, "mod.rs"]
        if ORDER.contains(&name) && name != "part" && name != "shelf");
    if !is_station {
        return Vec::new();
    }
    let card: String = text
        .lines()
        .filter(|line| line.starts_with("//!"))
        .collect();
    let card = card.to_lowercase();
    let missing = CARD.iter().filter(|words| !card.contains(**words));
    missing
        .map(|words| Finding::new(path, 1, format!("the station card does not say: {words}")))
        .collect()
}

#[test]
fn law_every_station_has_its_card_and_nothing_beside_it() {
    none(&apply(&source("workshop"), is_only_a_card));
    none(&apply(&source("workshop"), says_the_five_things));
}

/// The rule, shown to fail on a planted fault.
mod planted {
    use super::*;

    #[test]
    fn law_code_in_a_card_is_named() {
        let path = "crates/workshop/src/spin/mod.rs";
        let good =
            "//! x\n#![doc = \"a; b\"]\nmod given;\npub mod run;\npub use run::{spin, Body};\n";
        assert_eq!(is_only_a_card(path, good), []);
        assert_eq!(
            is_only_a_card(path, "mod given;\nconst X: f64 = 1.0;\n").len(),
            1
        );
        assert_eq!(is_only_a_card(path, "mod given;\nfn f() {}\n").len(), 1);
        assert_eq!(
            says_the_five_things(path, "//! comes in, leaves, left out, sources\n").len(),
            1
        );
    }
}
