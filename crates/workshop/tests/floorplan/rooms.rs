//! What each crate may hold and need, and how long a file may grow.

use super::source;
use super::tree::rust::{Keep, bare, tokens};
use super::tree::{File, Finding, apply, file, files, none, words};

/// Words that make sense only to somebody who knows the trade; `half` and `lot` are plain English.
const TRADE: [&str; 24] = [
    "yo-yo", "yoyo", "dunlin", "tarnside", "rim", "rims", "dressed", "spigot", "recut", "recuts",
    "mould", "moulds", "moulded", "moulding", "cavity", "cavities", "tray", "trays", "axle",
    "sprue", "workshop", "turner", "moulder", "spin",
];

/// `kit` would make sense to someone who never saw the trade.
fn knows_no_trade(path: &str, text: &str) -> Vec<Finding> {
    words(text)
        .filter(|(_, word)| TRADE.contains(&word.as_str()))
        .map(|(line, word)| {
            Finding::new(path, line, format!("kit does not know the word `{word}`"))
        })
        .collect()
}

const SQL: [&str; 8] = [
    "SELECT ",
    "INSERT INTO",
    "UPDATE ",
    "DELETE FROM",
    "CREATE TABLE",
    "PRAGMA ",
    "sqlx",
    "rusqlite",
];

/// Only the ledger speaks to a database.
fn speaks_no_sql(path: &str, text: &str) -> Vec<Finding> {
    let code = bare(text, Keep::CodeAndStrings);
    let mut found = Vec::new();
    for (index, line) in code.lines().enumerate() {
        for word in SQL.iter().filter(|word| line.contains(**word)) {
            found.push(Finding::new(
                path,
                index + 1,
                format!("`{}` belongs in ledger", word.trim()),
            ));
        }
    }
    found
}

/// Signs of reckoning that no front and no record needs.
const PHYSICS: [&str; 14] = [
    "sqrt", "cbrt", "sin", "cos", "tan", "asin", "acos", "atan", "atan2", "exp", "ln", "powf",
    "hypot", "PI",
];

/// The counter and the ledger hold no physics.
fn holds_no_physics(path: &str, text: &str) -> Vec<Finding> {
    let tokens = tokens(&bare(text, Keep::Code));
    let mut found = Vec::new();
    for (at, token) in tokens.iter().enumerate().skip(1) {
        let called = tokens[at - 1].is(".") || tokens[at - 1].is("::");
        if called && PHYSICS.contains(&token.text.as_str()) {
            let says = format!("`{}` is reckoning: it belongs in a station", token.text);
            found.push(Finding::new(path, token.line, says));
        }
    }
    found
}

/// Which of our crates each crate may need, and which outside crates are kept to one of ours.
const ARROWS: [(&str, &[&str]); 5] = [
    ("kit", &[]),
    ("workshop", &["kit"]),
    ("ledger", &["workshop"]),
    ("paper", &["workshop"]),
    ("counter", &["workshop", "ledger", "paper"]),
];
const KEPT_TO_ONE: [(&str, &str); 7] = [
    ("sqlx", "ledger"),
    ("krilla", "paper"),
    ("axum", "counter"),
    ("clap", "counter"),
    ("calamine", "counter"),
    ("plotly", "counter"),
    ("csv", "counter"),
];
/// What a pure crate cannot need.
const IMPURE: [&str; 6] = ["tokio", "jiff", "chrono", "tempfile", "rayon", "indicatif"];

/// The arrows between the crates are those drawn in `ARCHITECTURE.md`.
fn follows_the_arrows(path: &str, text: &str) -> Vec<Finding> {
    let room = path.split('/').nth(1).unwrap_or_default();
    let Ok(manifest) = text.parse::<toml::Table>() else {
        return vec![Finding::new(path, 1, "is no TOML")];
    };
    let Some((_, allowed)) = ARROWS.iter().find(|(name, _)| *name == room) else {
        return vec![Finding::new(
            path,
            1,
            format!("`{room}` is not one of the five crates"),
        )];
    };
    let needs = ["dependencies", "build-dependencies"]
        .iter()
        .filter_map(|key| manifest.get(*key)?.as_table());
    let mut found = Vec::new();
    for need in needs.flat_map(toml::Table::keys) {
        let line = text
            .lines()
            .position(|line| line.starts_with(need.as_str()))
            .map_or(1, |at| at + 1);
        if let Some(other) = need.strip_prefix("whirlwright-")
            && !allowed.contains(&other)
        {
            found.push(Finding::new(
                path,
                line,
                format!("`{room}` may not need `{other}`"),
            ));
        }
        if let Some((_, home)) = KEPT_TO_ONE
            .iter()
            .find(|(name, home)| name == need && *home != room)
        {
            found.push(Finding::new(
                path,
                line,
                format!("`{need}` is kept to `{home}`"),
            ));
        }
        if ["kit", "workshop"].contains(&room) && IMPURE.contains(&need.as_str()) {
            found.push(Finding::new(
                path,
                line,
                format!("a pure crate cannot need `{need}`"),
            ));
        }
    }
    found
}

/// The most lines of a source file.
const MOST_LINES: usize = 600;

/// The most lines of code of a verb and of a page: a thin window on a desk. What verbs and pages share
/// (the frame of the page, tables, charts, uploads, the printing) is neither.
fn most_of_a_window(path: &str) -> Option<usize> {
    const SHARED: [&str; 13] = [
        "mod", "out", "args", "words", "layout", "guard", "assets", "chart", "tables", "upload",
        "forms", "shop", "trouble",
    ];
    let name = path.rsplit('/').next()?.trim_end_matches(".rs");
    let is_window = !SHARED.contains(&name) && !path.contains("/tests/");
    let most = [("/counter/src/cli/", 60), ("/counter/src/web/", 80)];
    let (_, most) = most
        .into_iter()
        .find(|(room, _)| path.contains(room) && is_window)?;
    Some(most)
}

/// Lines of code: no comments, no blank lines, no tests.
fn code_lines(text: &str) -> usize {
    let code = bare(text, Keep::CodeAndStrings);
    let code = code.split("#[cfg(test)]").next().unwrap_or_default();
    code.lines().filter(|line| !line.trim().is_empty()).count()
}

/// A file that has grown past its limit is two files.
fn stays_small(path: &str, text: &str) -> Vec<Finding> {
    let (lines, code) = (text.lines().count(), code_lines(text));
    let mut found = Vec::new();
    if lines > MOST_LINES {
        let says = format!("{lines} lines; {MOST_LINES} is the most: what second thing is in it?");
        found.push(Finding::new(path, MOST_LINES + 1, says));
    }
    if let Some(most) = most_of_a_window(path).filter(|most| code > *most) {
        let says =
            format!("{code} lines of code; {most} is the most of a window: the rest is a desk's");
        found.push(Finding::new(path, most + 1, says));
    }
    found
}

#[test]
fn law_kit_knows_no_trade() {
    none(&apply(&files("crates/kit", &[".rs"]), knows_no_trade));
}

#[test]
fn law_only_the_ledger_speaks_sql() {
    for room in ["kit", "workshop", "paper", "counter"] {
        none(&apply(&source(room), speaks_no_sql));
    }
}

#[test]
fn law_fronts_and_records_hold_no_physics() {
    for room in ["ledger", "counter"] {
        none(&apply(&source(room), holds_no_physics));
    }
}

#[test]
fn law_crates_need_each_other_as_drawn() {
    let manifests: Vec<File> = ARROWS
        .iter()
        .map(|(room, _)| file(&format!("crates/{room}/Cargo.toml")))
        .collect();
    none(&apply(&manifests, follows_the_arrows));
}

#[test]
#[expect(
    clippy::disallowed_macros,
    clippy::print_stdout,
    reason = "the list of long files is for whoever reads the run"
)]
fn law_files_stay_small() {
    let all = files("crates", &[".rs"]);
    for file in all.iter().filter(|file| file.text.lines().count() > 400) {
        println!(
            "{}: {} lines, look hard",
            file.path,
            file.text.lines().count()
        );
    }
    none(&apply(&all, stays_small));
}

/// Each rule, shown to fail on a planted fault.
mod planted {
    use super::super::lines;
    use super::*;

    #[test]
    fn law_trade_sql_and_physics_in_the_wrong_room_are_named() {
        assert_eq!(
            lines(&knows_no_trade(
                "a",
                "fn x() {}\n/// the rim_mass\nfn y() {}"
            )),
            [2]
        );
        assert_eq!(lines(&knows_no_trade("a", "trim, primary, half")), []);
        let text = "// SELECT in words\nlet q = \"SELECT id FROM parts\";";
        assert_eq!(lines(&speaks_no_sql("a", text)), [2]);
        assert_eq!(
            lines(&holds_no_physics(
                "a",
                "let a = 1;\nlet b = x.sqrt();\nlet sin = 2;"
            )),
            [2]
        );
    }

    #[test]
    fn law_a_wrong_arrow_is_named() {
        let text = "[dependencies]\nwhirlwright-ledger = \"1\"\nsqlx = \"1\"\ntokio = \"1\"\nserde = \"1\"\n";
        assert_eq!(
            lines(&follows_the_arrows("crates/workshop/Cargo.toml", text)),
            [2, 3, 4]
        );
        assert_eq!(
            follows_the_arrows("crates/attic/Cargo.toml", "[dependencies]\n").len(),
            1
        );
    }

    #[test]
    fn law_a_long_file_is_named() {
        let long = "a();\n".repeat(61) + "\n// words\n#[cfg(test)]\nmod tests {}\n";
        assert_eq!(
            lines(&stays_small("crates/kit/src/a.rs", &"\n".repeat(601))),
            [601]
        );
        assert_eq!(stays_small("crates/kit/src/a.rs", &"\n".repeat(600)), []);
        assert_eq!(
            lines(&stays_small("crates/counter/src/cli/pair.rs", &long)),
            [61]
        );
        assert_eq!(stays_small("crates/counter/src/web/page.rs", &long), []);
        assert_eq!(
            stays_small("crates/counter/src/cli/pair.rs", &"// words\n".repeat(61)),
            []
        );
    }
}
