//! What we depend on comes from the public registry, under a licence that `deny.toml` allows.

mod tree;

use std::process::Command;

use toml::{Table, Value};
use tree::{Finding, file, none};

/// Every crate of the lock file comes from a registry that `deny.toml` allows.
fn from_the_registry(path: &str, text: &str, allowed: &[String]) -> Vec<Finding> {
    let Ok(lock) = text.parse::<Table>() else {
        return vec![Finding::new(path, 1, "is no TOML")];
    };
    let packages = lock
        .get("package")
        .and_then(Value::as_array)
        .cloned()
        .unwrap_or_default();
    let mut found = Vec::new();
    for package in packages {
        let said = |key: &str| {
            package
                .get(key)
                .and_then(Value::as_str)
                .unwrap_or("")
                .to_owned()
        };
        let source = said("source");
        let is_ours = source.is_empty() && said("name").starts_with("whirlwright-");
        if !is_ours
            && !allowed
                .iter()
                .any(|registry| source == format!("registry+{registry}"))
        {
            let line = text
                .lines()
                .position(|line| line.contains(&said("name")))
                .map_or(1, |at| at + 1);
            found.push(Finding::new(
                path,
                line,
                format!("`{}` comes from `{source}`", said("name")),
            ));
        }
    }
    found
}

/// Whether a licence expression (SPDX) can be met with the licences allowed.
fn is_met(expression: &str, allowed: &[String]) -> bool {
    let spaced = expression
        .replace('/', " OR ")
        .replace('(', " ( ")
        .replace(')', " ) ");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut at = 0;
    let met = either(&words, &mut at, allowed);
    met && at == words.len()
}

fn either(words: &[&str], at: &mut usize, allowed: &[String]) -> bool {
    let mut met = both(words, at, allowed);
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        met |= both(words, at, allowed);
    }
    met
}

fn both(words: &[&str], at: &mut usize, allowed: &[String]) -> bool {
    let mut met = one(words, at, allowed);
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        met &= one(words, at, allowed);
    }
    met
}

fn one(words: &[&str], at: &mut usize, allowed: &[String]) -> bool {
    let Some(word) = words.get(*at) else {
        return false;
    };
    *at += 1;
    if *word == "(" {
        let met = either(words, at, allowed);
        *at += 1;
        return met;
    }
    let mut licence = (*word).to_owned();
    if let (Some(&"WITH"), Some(exception)) = (words.get(*at), words.get(*at + 1)) {
        licence = format!("{licence} WITH {exception}");
        *at += 2;
    }
    allowed.contains(&licence)
}

/// A list of texts in `deny.toml`.
fn listed(section: &str, key: &str) -> Vec<String> {
    let rules: Table = file("deny.toml").text.parse().expect("deny.toml is TOML");
    let list = rules
        .get(section)
        .and_then(|s| s.get(key))
        .and_then(Value::as_array);
    list.expect("deny.toml has the list")
        .iter()
        .filter_map(|v| Some(v.as_str()?.to_owned()))
        .collect()
}

/// What cargo says of every crate that goes into a build on this machine.
fn metadata() -> serde_json::Value {
    let cargo = env!("CARGO");
    let host = Command::new("rustc")
        .arg("-vV")
        .output()
        .expect("rustc answers");
    let host = String::from_utf8_lossy(&host.stdout).into_owned();
    let host = host
        .lines()
        .find_map(|line| line.strip_prefix("host: "))
        .expect("rustc names its host");
    let mut ask = Command::new(cargo);
    ask.args([
        "metadata",
        "--format-version",
        "1",
        "--locked",
        "--offline",
        "--filter-platform",
        host,
    ]);
    let said = ask
        .current_dir(tree::root())
        .output()
        .expect("cargo answers");
    assert!(
        said.status.success(),
        "{}",
        String::from_utf8_lossy(&said.stderr)
    );
    serde_json::from_slice(&said.stdout).expect("cargo's answer is JSON")
}

#[test]
fn law_every_outside_crate_comes_from_the_registry() {
    let lock = file("Cargo.lock");
    none(&from_the_registry(
        "Cargo.lock",
        &lock.text,
        &listed("sources", "allow-registry"),
    ));
}

#[test]
fn law_every_licence_is_allowed() {
    let allowed = listed("licenses", "allow");
    let metadata = metadata();
    let packages = metadata["packages"].as_array().expect("a list of packages");
    assert!(packages.len() > 50, "cargo named {} crates", packages.len());
    let mut found = Vec::new();
    for package in packages {
        let (name, licence) = (
            &package["name"],
            package["license"].as_str().unwrap_or("none stated"),
        );
        if !is_met(licence, &allowed) {
            found.push(Finding::new(
                "Cargo.lock",
                1,
                format!("{name}: licence `{licence}` is not in deny.toml"),
            ));
        }
    }
    none(&found);
}

/// Each rule, shown to fail on a planted fault.
#[test]
fn law_a_planted_licence_or_origin_is_named() {
    let allowed = ["MIT".to_owned(), "Apache-2.0".to_owned(), "ISC".to_owned()];
    for met in [
        "MIT",
        "MIT OR GPL-3.0",
        "MIT/X",
        "(MIT OR X) AND ISC",
        "MIT AND (X OR Apache-2.0)",
    ] {
        assert!(is_met(met, &allowed), "{met}");
    }
    for refused in [
        "GPL-3.0",
        "MIT AND GPL-3.0",
        "(MIT OR ISC) AND X",
        "",
        "Apache-2.0 WITH X",
        "MIT MIT",
    ] {
        assert!(!is_met(refused, &allowed), "{refused}");
    }
    let lock =
        "[[package]]\nname = \"a\"\nversion = \"1\"\nsource = \"git+https://example.org/a\"\n";
    assert_eq!(
        from_the_registry("Cargo.lock", lock, &[String::new()]).len(),
        1
    );
}
