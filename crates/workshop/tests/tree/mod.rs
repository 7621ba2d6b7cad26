//! The tree as it stands: its files, and what a rule has to say about a line of one of them.
#![allow(
    dead_code,
    reason = "each test file uses its own part of these helpers"
)]

pub mod rust;

use std::fmt;
use std::path::{Path, PathBuf};

/// The kinds of proof a test can be; `pinned` guards against change and proves nothing.
pub const KINDS: [&str; 7] = [
    "published",
    "closed_form",
    "law",
    "order",
    "twin",
    "measured",
    "pinned",
];

/// What may stand in place of a source; an answer that rests on `memory` says so.
pub const NO_SOURCE: [&str; 4] = ["memory", "practice", "derived", "invented"];

/// A text file of the project; `path` is written from the root with `/`.
#[derive(Debug, Clone)]
pub struct File {
    pub path: String,
    pub text: String,
}

/// What a rule found: file, line (from 1) and what to do about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    pub path: String,
    pub line: usize,
    pub says: String,
}

impl Finding {
    pub fn new(path: &str, line: usize, says: impl Into<String>) -> Self {
        Self {
            path: path.to_owned(),
            line,
            says: says.into(),
        }
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}: {}", self.path, self.line, self.says)
    }
}

/// The root of the project.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// What a build or a run leaves behind is no part of the project.
const LEFT_BEHIND: [&str; 4] = ["target", ".git", "node_modules", "__pycache__"];

/// Every text file below `under` whose name ends with one of `ends` (all files if `ends` is empty).
pub fn files(under: &str, ends: &[&str]) -> Vec<File> {
    let mut found = Vec::new();
    walk(
        &root().join(under),
        under.trim_end_matches('/'),
        ends,
        &mut found,
    );
    found.sort_by(|a, b| a.path.cmp(&b.path));
    found
}

fn walk(folder: &Path, name: &str, ends: &[&str], found: &mut Vec<File>) {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return;
    };
    for entry in entries.flatten() {
        let leaf = entry.file_name().to_string_lossy().into_owned();
        let path = if name.is_empty() {
            leaf.clone()
        } else {
            format!("{name}/{leaf}")
        };
        let is_link = entry.file_type().is_ok_and(|kind| kind.is_symlink());
        if is_link || LEFT_BEHIND.contains(&leaf.as_str()) || path == "demo" {
            continue;
        }
        if entry.path().is_dir() {
            walk(&entry.path(), &path, ends, found);
        } else if (ends.is_empty() || ends.iter().any(|end| leaf.ends_with(end)))
            && let Some(text) = text_of(&entry.path())
        {
            found.push(File { path, text });
        }
    }
}

/// The text of a file; none if it is no text (a picture, a sheet, a database).
#[expect(
    clippy::disallowed_methods,
    reason = "a test of the tree reads the tree"
)]
fn text_of(path: &Path) -> Option<String> {
    std::fs::read_to_string(path).ok()
}

/// One file by its path from the root; empty if it is not there.
pub fn file(path: &str) -> File {
    File {
        path: path.to_owned(),
        text: text_of(&root().join(path)).unwrap_or_default(),
    }
}

/// Runs a rule over files and gathers what it found.
pub fn apply(files: &[File], rule: impl Fn(&str, &str) -> Vec<Finding>) -> Vec<Finding> {
    files
        .iter()
        .flat_map(|file| rule(&file.path, &file.text))
        .collect()
}

/// Fails with every finding on a line of its own.
#[track_caller]
pub fn none(findings: &[Finding]) {
    let lines: Vec<String> = findings.iter().map(ToString::to_string).collect();
    assert!(
        findings.is_empty(),
        "{} finding(s):\n{}",
        findings.len(),
        lines.join("\n")
    );
}

/// Words of a text with their lines: letters only, so `rim_mass` gives `rim` and `mass`.
pub fn words(text: &str) -> impl Iterator<Item = (usize, String)> + '_ {
    text.lines().enumerate().flat_map(|(index, line)| {
        line.split(|letter: char| !letter.is_alphabetic() && letter != '-')
            .filter(|word| !word.is_empty())
            .map(move |word| (index + 1, word.to_lowercase()))
    })
}
