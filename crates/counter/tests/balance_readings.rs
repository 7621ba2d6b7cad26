//! Balance readings: every bad file is refused as its table says, and leaves nothing behind.

mod common;

use std::fs;

use common::{program, root};
use serde::Deserialize;

#[derive(Deserialize)]
struct Expectations {
    file: Vec<Expected>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Expected {
    name: String,
    says: Vec<String>,
    #[serde(default)]
    lines: Vec<usize>,
    #[serde(default)]
    doubted: bool,
}

#[test]
fn refuses_every_bad_file_of_readings_as_its_table_says() {
    let folder = root().join("validation/balance/bad");
    let text = fs::read_to_string(folder.join("expect.toml")).expect("the table");
    let expectations: Expectations = toml::from_str(&text).expect("the table");
    let mut there: Vec<String> = fs::read_dir(&folder)
        .expect("the folder")
        .map(|entry| {
            entry
                .expect("a file")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .filter(|name| name != "expect.toml")
        .collect();
    there.sort();
    let mut listed: Vec<&str> = expectations.file.iter().map(|f| f.name.as_str()).collect();
    listed.sort_unstable();
    assert_eq!(there, listed);
    let scratch = tempfile::tempdir().expect("a folder");
    let mut wrong = Vec::new();
    for expected in &expectations.file {
        let name = &expected.name;
        fs::copy(folder.join(name), scratch.path().join(name)).expect("a copy");
        let done = program(scratch.path())
            .args([
                "balance",
                "correct",
                name,
                "--svg",
                &format!("{name}.out.svg"),
                "--pdf",
                &format!("{name}.out.pdf"),
            ])
            .output()
            .expect("the program runs");
        let told = String::from_utf8_lossy(&done.stderr) + String::from_utf8_lossy(&done.stdout);
        let code = if expected.doubted { 1 } else { 2 };
        if done.status.code() != Some(code) || done.stdout.is_empty() == expected.doubted {
            wrong.push(format!("{name}: ended with {}\n{told}", done.status));
        }
        for says in expected.says.iter().filter(|says| !told.contains(*says)) {
            wrong.push(format!("{name}: lacks {says:?}:\n{told}"));
        }
        for line in &expected.lines {
            if !told.contains(&format!("{name}:{line}:")) {
                wrong.push(format!("{name}: does not name line {line}:\n{told}"));
            }
        }
        if told.contains("panicked") || told.contains("fault in the program") {
            wrong.push(format!("{name}: fell over:\n{told}"));
        }
        for made in ["out.svg", "out.pdf"] {
            let made = &format!("{name}.{made}");
            if scratch.path().join(made).exists() != expected.doubted {
                wrong.push(format!(
                    "{name}: {made} is there or not there, against its table"
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}
