//! The name of a test says what kind of proof it is.

use super::tree::rust::tests_of;
use super::tree::{Finding, KINDS, apply, files, none};

/// What the tests of the fronts may say besides: how a person is served.
const AT_THE_FRONT: [&str; 3] = ["refuses", "scene", "reads"];

fn says_its_proof(path: &str, text: &str) -> Vec<Finding> {
    let front = ["crates/counter/", "crates/paper/", "crates/ledger/"]
        .iter()
        .any(|room| path.starts_with(room));
    let starts = |name: &str, kinds: &[&str]| {
        kinds
            .iter()
            .any(|kind| name.starts_with(&format!("{kind}_")))
    };
    let says = |name: &str| starts(name, &KINDS) || (front && starts(name, &AT_THE_FRONT));
    tests_of(text)
        .into_iter()
        .filter(|(_, name)| !says(name))
        .map(|(line, name)| {
            Finding::new(
                path,
                line,
                format!("`{name}` does not say its kind of proof"),
            )
        })
        .collect()
}

#[test]
fn law_a_test_says_its_kind_of_proof() {
    none(&apply(&files("crates", &[".rs"]), says_its_proof));
}

/// The rule, shown to fail on a planted fault.
#[test]
fn law_a_planted_test_without_a_kind_is_named() {
    let text =
        "#[test]\nfn law_a() {}\n#[cfg(test)]\nmod tests {\n#[tokio::test]\nasync fn works() {}\n}";
    let lines = |path, text| {
        says_its_proof(path, text)
            .iter()
            .map(|f| f.line)
            .collect::<Vec<_>>()
    };
    assert_eq!(lines("crates/kit/src/a.rs", text), [6]);
    assert_eq!(
        lines("crates/counter/src/a.rs", "#[test]\nfn refuses_x() {}"),
        [0usize; 0]
    );
    assert_eq!(
        lines("crates/kit/src/a.rs", "#[test]\nfn refuses_x() {}"),
        [2]
    );
}
