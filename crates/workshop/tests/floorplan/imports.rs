//! Who may import whom.

use std::collections::{BTreeMap, BTreeSet};

use super::tree::rust::{Reference, module_of, references};
use super::tree::{File, Finding, apply, none};
use super::{ORDER, place_in_order, source};

/// A station imports only `kit` and what stands before it in [`ORDER`]. The shelf and the parts stand
/// before all stations and may use each other's types (no circle of files: see below).
fn looks_back(path: &str, text: &str) -> Vec<Finding> {
    let Some((_, own)) = module_of(path) else {
        return Vec::new();
    };
    let Some(place) = place_in_order(&own) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for reference in references(path, text) {
        let says = match (reference.room.as_str(), place_in_order(&reference.path)) {
            ("kit", _) => continue,
            ("workshop", Some(other)) if other <= place.max(BEFORE_ALL) => continue,
            ("workshop", Some(other)) => format!(
                "`{}` imports `{}`, a later station: hand the value on as a part",
                ORDER[place], ORDER[other]
            ),
            ("workshop", None) => format!(
                "`{}` imports `{}`, which is no station before it",
                ORDER[place],
                reference.path.join("::")
            ),
            (other, _) => format!("`{}` imports the crate `{other}`", ORDER[place]),
        };
        found.push(Finding::new(path, reference.line, says));
    }
    found
}

/// The places of `shelf` and `part` in [`ORDER`] are 0 and 1.
const BEFORE_ALL: usize = 1;

/// Files that check what comes in, and so stand before `given`.
const CHECKS: [&str; 1] = ["faults"];

/// The file a reference leads to, as a module path: the longest prefix that is a file.
fn leads_to(reference: &Reference, modules: &BTreeSet<Vec<String>>) -> Vec<String> {
    (0..=reference.path.len())
        .rev()
        .map(|length| reference.path[..length].to_vec())
        .find(|prefix| modules.contains(prefix))
        .unwrap_or_default()
}

fn modules_of(files: &[File]) -> BTreeSet<Vec<String>> {
    files
        .iter()
        .filter_map(|file| module_of(&file.path))
        .map(|(_, module)| module)
        .collect()
}

/// No file of a station imports a module it stands in: what both need stands in a file of its own.
fn knows_no_parent(path: &str, text: &str, modules: &BTreeSet<Vec<String>>) -> Vec<Finding> {
    let Some((room, own)) = module_of(path) else {
        return Vec::new();
    };
    if place_in_order(&own).is_none_or(|place| place <= BEFORE_ALL) {
        return Vec::new();
    }
    let mut found = Vec::new();
    for reference in references(path, text)
        .iter()
        .filter(|r| r.room == room && !r.in_tests)
    {
        let target = leads_to(reference, modules);
        // A `mod.rs` is the module its children stand in, so for it only what is above counts.
        if target.len() < own.len() && own.starts_with(&target) {
            let says = format!(
                "imports `{}` from the module it stands in: name the file that defines it",
                reference.path.join("::")
            );
            found.push(Finding::new(path, reference.line, says));
        }
    }
    found
}

/// Inside a station: `given` knows no effect, an effect does not know `run`.
fn keeps_the_run_last(path: &str, text: &str, modules: &BTreeSet<Vec<String>>) -> Vec<Finding> {
    let Some((_, own)) = module_of(path) else {
        return Vec::new();
    };
    let (Some(_), Some(file)) = (place_in_order(&own), own.get(1)) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for reference in references(path, text) {
        let target = leads_to(&reference, modules);
        let (true, Some(other)) = (target.first() == own.first(), target.get(1)) else {
            continue;
        };
        let says = if file == "given" && other != "given" && !CHECKS.contains(&other.as_str()) {
            format!("`given` imports `{other}`: what comes in knows no effect")
        } else if file != "run" && other == "run" {
            format!("`{file}` imports `run`: only mod.rs and later stations do")
        } else {
            continue;
        };
        found.push(Finding::new(path, reference.line, says));
    }
    found
}

/// No circles between files: found by taking away files that import nothing that is left.
fn runs_in_no_circle(files: &[File]) -> Vec<Finding> {
    let modules = modules_of(files);
    let mut needs: BTreeMap<Vec<String>, BTreeSet<Vec<String>>> = BTreeMap::new();
    let mut path_of = BTreeMap::new();
    for file in files {
        let Some((room, own)) = module_of(&file.path) else {
            continue;
        };
        let targets = references(&file.path, &file.text)
            .iter()
            .filter(|reference| reference.room == room && !reference.in_tests)
            .map(|reference| leads_to(reference, &modules))
            .filter(|target| *target != own)
            .collect();
        path_of.insert(own.clone(), file.path.clone());
        needs.insert(own, targets);
    }
    while let Some(free) = needs
        .iter()
        .find(|(_, on)| !on.iter().any(|o| needs.contains_key(o)))
        .map(|(m, _)| m.clone())
    {
        needs.remove(&free);
    }
    let in_circle = needs.iter().map(|(module, on)| {
        let others: Vec<String> = on
            .iter()
            .filter(|o| needs.contains_key(*o))
            .map(|o| o.join("::"))
            .collect();
        let says = format!(
            "stands in or before a circle of imports: it needs {}",
            others.join(", ")
        );
        Finding::new(&path_of[module], 1, says)
    });
    in_circle.collect()
}

/// Ledger and paper use the stations' types and never call a station.
fn calls_no_station(path: &str, text: &str, modules: &BTreeSet<Vec<String>>) -> Vec<Finding> {
    let mut found = Vec::new();
    for reference in references(path, text) {
        let of_a_station =
            place_in_order(&reference.path).is_some_and(|place| ORDER[place] != "part");
        let Some(last) = reference.path.last() else {
            continue;
        };
        let is_function = last.starts_with(|letter: char| letter.is_ascii_lowercase());
        if reference.room == "workshop"
            && of_a_station
            && is_function
            && !reference.in_tests
            && !modules.contains(&reference.path)
        {
            let says = format!("`{last}` computes: only the counter asks a station");
            found.push(Finding::new(path, reference.line, says));
        }
    }
    found
}

#[test]
fn law_stations_look_only_back() {
    none(&apply(&source("workshop"), looks_back));
}

#[test]
fn law_no_file_of_a_station_imports_the_module_it_stands_in() {
    let (files, modules) = (source("workshop"), modules_of(&source("workshop")));
    none(&apply(&files, |path, text| {
        knows_no_parent(path, text, &modules)
    }));
}

#[test]
fn law_given_then_effects_then_run() {
    let (files, modules) = (source("workshop"), modules_of(&source("workshop")));
    none(&apply(&files, |path, text| {
        keeps_the_run_last(path, text, &modules)
    }));
}

#[test]
fn law_no_circle_of_files() {
    for room in ["kit", "workshop"] {
        none(&runs_in_no_circle(&source(room)));
    }
}

#[test]
fn law_ledger_and_paper_call_no_station() {
    let modules = modules_of(&source("workshop"));
    for room in ["ledger", "paper"] {
        none(&apply(&source(room), |path, text| {
            calls_no_station(path, text, &modules)
        }));
    }
}

/// Each rule, shown to fail on a planted fault.
mod planted {
    use super::super::lines;
    use super::*;

    fn modules(of: &[&[&str]]) -> BTreeSet<Vec<String>> {
        of.iter()
            .map(|path| path.iter().map(|&step| step.to_owned()).collect())
            .collect()
    }

    fn rust(path: &str, text: &str) -> File {
        File {
            path: path.to_owned(),
            text: text.to_owned(),
        }
    }

    #[test]
    fn law_a_look_ahead_is_named_with_its_line() {
        let text = "use crate::part::Decimal;\n\nuse crate::{design, spin::decay};\nuse whirlwright_kit::x;\n";
        assert_eq!(
            lines(&looks_back("crates/workshop/src/pairing/cost.rs", text)),
            [3]
        );
        let text = "//! crate::spin in words\nfn f() { let x = super::super::route::all(); }\n";
        assert_eq!(
            lines(&looks_back("crates/workshop/src/pairing/cost.rs", text)),
            [2]
        );
        assert_eq!(
            lines(&looks_back(
                "crates/workshop/src/part/job.rs",
                "use whirlwright_ledger::A;"
            )),
            [1]
        );
    }

    #[test]
    fn law_a_parent_import_is_named() {
        let known = modules(&[&[], &["design"], &["design", "given"], &["design", "run"]]);
        let rule = |path, text| lines(&knows_no_parent(path, text, &known));
        assert_eq!(
            rule(
                "crates/workshop/src/design/run.rs",
                "use super::given::Given;\nuse super::*;"
            ),
            [2]
        );
        assert_eq!(
            rule(
                "crates/workshop/src/design/run.rs",
                "use crate::design::Given;"
            ),
            [1]
        );
        assert_eq!(
            rule(
                "crates/workshop/src/design/run.rs",
                "mod tests {\nuse super::*;\n}"
            ),
            []
        );
        assert_eq!(
            rule(
                "crates/workshop/src/design/mod.rs",
                "pub use self::run::section;"
            ),
            []
        );
    }

    #[test]
    fn law_an_effect_that_knows_the_run_is_named() {
        let known = modules(&[
            &["spin"],
            &["spin", "given"],
            &["spin", "air"],
            &["spin", "run"],
        ]);
        let rule = |path, text| lines(&keeps_the_run_last(path, text, &known));
        assert_eq!(
            rule("crates/workshop/src/spin/air.rs", "use super::run::Body;"),
            [1]
        );
        assert_eq!(
            rule(
                "crates/workshop/src/spin/given.rs",
                "\nuse super::air::Air;"
            ),
            [2]
        );
        assert_eq!(
            rule(
                "crates/workshop/src/spin/run.rs",
                "use super::{air, given::Given};"
            ),
            []
        );
        assert_eq!(
            rule(
                "crates/workshop/src/trial/run.rs",
                "use crate::spin::run::spin;"
            ),
            []
        );
    }

    #[test]
    fn law_a_circle_is_named() {
        let a = rust("crates/kit/src/a.rs", "use crate::b::B;");
        let b = rust("crates/kit/src/b.rs", "use crate::c::C;");
        let back = rust("crates/kit/src/c.rs", "use crate::a::A;");
        let alone = rust("crates/kit/src/c.rs", "");
        assert_eq!(runs_in_no_circle(&[a.clone(), b.clone(), back]).len(), 3);
        assert_eq!(runs_in_no_circle(&[a, b, alone]), []);
    }

    #[test]
    fn law_a_record_that_computes_is_named() {
        let known = modules(&[&["pairing"], &["pairing", "run"], &["part"]]);
        let rule = |text| lines(&calls_no_station("crates/paper/src/text.rs", text, &known));
        assert_eq!(
            rule("use whirlwright_workshop::pairing::{PairBody, pair_dressed};"),
            [1]
        );
        assert_eq!(
            rule("use whirlwright_workshop::pairing::run::PairBody;"),
            []
        );
        assert_eq!(
            rule(
                "use whirlwright_workshop::pairing;\nmod tests { use whirlwright_workshop::pairing::go; }"
            ),
            []
        );
    }
}
