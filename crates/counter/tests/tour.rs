//! The README's tour: every command in a `console` block is run, and what it prints is what is shown.
//!
//! `scripts/samples` writes the outputs anew (`WRITE_TOUR=1`); a line `…` stands for lines left out, and
//! times of day, which differ from run to run, are shown as `<time>`.

use std::path::{Path, PathBuf};
use std::process::Command;

/// Longer outputs are cut after so many lines.
const MOST_LINES: usize = 48;

fn readme() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../README.md")
}

/// A part of the page: text as it stands, or a command with the output shown below it.
#[derive(Debug, PartialEq, Eq)]
enum Piece {
    Text(String),
    Ran { command: String, shown: Vec<String> },
}

/// The page in pieces; only fences that open with `console` hold commands.
fn pieces(page: &str) -> Vec<Piece> {
    let mut found = Vec::new();
    let mut inside = false;
    for line in page.lines() {
        if line.starts_with("```") {
            inside = line == "```console";
            found.push(Piece::Text(line.to_owned()));
        } else if let (true, Some(command)) = (inside, line.strip_prefix("$ ")) {
            found.push(Piece::Ran {
                command: command.to_owned(),
                shown: Vec::new(),
            });
        } else if let (true, Some(Piece::Ran { shown, .. })) = (inside, found.last_mut()) {
            shown.push(line.to_owned());
        } else {
            found.push(Piece::Text(line.to_owned()));
        }
    }
    found
}

/// Words of a command; double quotes hold one word together.
fn words(command: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for letter in command.chars() {
        match letter {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            other => words.last_mut().expect("there is a first word").push(other),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

/// What a command prints, line by line, with times of day made alike; panics if it could not run.
fn run(command: &str, folder: &Path) -> Vec<String> {
    let words = words(command);
    assert_eq!(
        words.first().map(String::as_str),
        Some("whirlwright"),
        "`{command}`"
    );
    let ran = Command::new(env!("CARGO_BIN_EXE_whirlwright"))
        .args(&words[1..])
        .current_dir(folder)
        .output()
        .expect("the command starts");
    let told =
        String::from_utf8_lossy(&ran.stdout).into_owned() + &String::from_utf8_lossy(&ran.stderr);
    // 0 is yes and 1 is no; anything above is a fault of the tour or of the program.
    assert!(
        ran.status.code().is_some_and(|code| code <= 1),
        "`{command}` ended with {}:\n{told}",
        ran.status
    );
    told.lines()
        .map(|line| without_times(line.trim_end()))
        .collect()
}

/// `2026-11-25T09:00:00.123Z` and `2026-11-25 09:00` become `<time>`.
fn without_times(line: &str) -> String {
    const SHAPE: &str = "0000-00-00 00:00";
    let letters: Vec<char> = line.chars().collect();
    let (mut out, mut at) = (String::new(), 0);
    while at < letters.len() {
        let fits = SHAPE.chars().enumerate().all(|(step, shape)| {
            letters.get(at + step).is_some_and(|&letter| match shape {
                '0' => letter.is_ascii_digit(),
                ' ' => letter == ' ' || letter == 'T',
                other => letter == other,
            })
        });
        if fits {
            let rest = &letters[at + SHAPE.len()..];
            let tail = rest
                .iter()
                .take_while(|l| l.is_ascii_digit() || matches!(l, ':' | '.' | 'Z'))
                .count();
            out += "<time>";
            at += SHAPE.len() + tail;
        } else {
            out.push(letters[at]);
            at += 1;
        }
    }
    out
}

/// The lines to show: all, or the first of them and `…`.
fn cut(mut lines: Vec<String>) -> Vec<String> {
    if lines.len() > MOST_LINES {
        lines.truncate(MOST_LINES - 1);
        lines.push("…".to_owned());
    }
    lines
}

/// Runs the tour in a folder of its own; the first command makes the folder the others run in.
fn tour(pieces: &[Piece]) -> Vec<Vec<String>> {
    let scratch = tempfile::tempdir().expect("a folder to work in");
    let mut folder = scratch.path().to_path_buf();
    let mut told = Vec::new();
    for piece in pieces {
        let Piece::Ran { command, .. } = piece else {
            continue;
        };
        told.push(cut(run(command, &folder)));
        if let Some(made) = command.strip_prefix("whirlwright demo ") {
            folder = scratch.path().join(made);
        }
    }
    told
}

#[test]
fn scene_the_tour_prints_what_it_shows() {
    let page = std::fs::read_to_string(readme()).expect("the README is there");
    let pieces = pieces(&page);
    let mut told = tour(&pieces).into_iter();
    if std::env::var("WRITE_TOUR").is_ok() {
        let lines = pieces.iter().flat_map(|piece| match piece {
            Piece::Text(line) => vec![line.clone()],
            Piece::Ran { command, .. } => {
                let mut lines = vec![format!("$ {command}")];
                lines.extend(told.next().unwrap_or_default());
                lines
            }
        });
        let page: String = lines.map(|line| line + "\n").collect();
        std::fs::write(readme(), page).expect("the README can be written");
        return;
    }
    for piece in &pieces {
        if let Piece::Ran { command, shown } = piece {
            let told = told.next().unwrap_or_default();
            assert_eq!(
                told, *shown,
                "`{command}` prints other than the README shows: run scripts/samples"
            );
        }
    }
}

/// The reader of the page, on a page where the answer is known.
#[test]
fn reads_commands_and_outputs_from_a_page() {
    let page = "a\n```console\n$ whirlwright x \"a b\"\none\ntwo\n$ whirlwright y\n```\n```text\n$ no\n```\n";
    let ran: Vec<(String, usize)> = pieces(page)
        .into_iter()
        .filter_map(|piece| match piece {
            Piece::Ran { command, shown } => Some((command, shown.len())),
            Piece::Text(_) => None,
        })
        .collect();
    assert_eq!(
        ran,
        [
            ("whirlwright x \"a b\"".to_owned(), 2),
            ("whirlwright y".to_owned(), 0)
        ]
    );
    assert_eq!(words("whirlwright x \"a b\""), ["whirlwright", "x", "a b"]);
    assert_eq!(
        without_times("at 2026-11-25T09:00:01.5Z, 10.83 g"),
        "at <time>, 10.83 g"
    );
    assert_eq!(without_times("D26-0001-02-03"), "D26-0001-02-03");
}
