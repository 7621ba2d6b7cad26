//! British spelling, and no word about how the files came to be.

use super::tree::rust::{Keep, bare, tokens};
use super::tree::{File, Finding, apply, files, none};

/// What a reader or a maker writes; data files and generated scripts of others are not ours to spell.
const TEXTS: [&str; 10] = [
    ".rs", ".md", ".toml", ".sql", ".sh", ".py", ".cpp", ".svg", ".json", ".txt",
];

/// American spelling, British spelling. Only whole words, in any case.
const SPELLING: [(&str, &str); 30] = [
    ("color", "colour"),
    ("colors", "colours"),
    ("colored", "coloured"),
    ("center", "centre"),
    ("centers", "centres"),
    ("centered", "centred"),
    ("mold", "mould"),
    ("molds", "moulds"),
    ("molded", "moulded"),
    ("molding", "moulding"),
    ("gray", "grey"),
    ("gage", "gauge"),
    ("aluminum", "aluminium"),
    ("meter", "metre"),
    ("meters", "metres"),
    ("millimeter", "millimetre"),
    ("millimeters", "millimetres"),
    ("fiber", "fibre"),
    ("behavior", "behaviour"),
    ("neighbor", "neighbour"),
    ("neighbors", "neighbours"),
    ("analyze", "analyse"),
    ("analyzed", "analysed"),
    ("labeled", "labelled"),
    ("canceled", "cancelled"),
    ("modeled", "modelled"),
    ("catalog", "catalogue"),
    ("favor", "favour"),
    ("caliper", "calliper"),
    ("calipers", "callipers"),
];

/// Where a language or a format, not we, chose the word.
const THEIRS: [(&str, &str); 13] = [
    ("color:", "CSS"),
    ("color=", "SVG"),
    ("-color", "CSS and SVG"),
    ("color-", "CSS"),
    ("color(", "CSS"),
    (": center", "CSS"),
    (":center", "CSS"),
    ("\"center\"", "SVG and CSS"),
    ("color::", "a crate's module"),
    (".color", "a crate's call"),
    (".center", "a crate's call"),
    ("title =", "a title as printed"),
    ("words = [", "what people write in their files"),
];

/// Files that list the words people write, in whatever spelling.
const WRITTEN_BY_PEOPLE: [&str; 1] = ["crates/counter/src/read/table/words.rs"];

/// A word of the American spelling that is ours.
fn spells_british(path: &str, text: &str) -> Vec<Finding> {
    let mut found = if path.ends_with(".rs") {
        names_we_gave(path, text)
    } else {
        Vec::new()
    };
    if WRITTEN_BY_PEOPLE.contains(&path) {
        return found;
    }
    let prose = if path.ends_with(".rs") {
        without_code(text)
    } else {
        text.to_owned()
    };
    for (index, line) in prose.lines().enumerate() {
        let small = line.to_lowercase();
        if THEIRS.iter().any(|(mark, _)| small.contains(mark)) {
            continue;
        }
        for word in small.split(|letter: char| !letter.is_alphabetic()) {
            found.extend(american(word).map(|says| Finding::new(path, index + 1, says)));
        }
    }
    found
}

fn american(word: &str) -> Option<String> {
    let (wrong, right) = SPELLING.iter().find(|(wrong, _)| *wrong == word)?;
    Some(format!("`{wrong}` is spelt `{right}` here"))
}

/// Comments and strings alone: in code, a crate's own names are as its authors spelt them.
fn without_code(text: &str) -> String {
    let code = bare(text, Keep::Code);
    let beside = text.chars().zip(code.chars());
    beside
        .map(|(letter, code)| {
            if code == letter && letter != '\n' {
                ' '
            } else {
                letter
            }
        })
        .collect()
}

/// The names that this file gives: what follows `fn`, `let`, `struct`, `pub` and the like.
fn names_we_gave(path: &str, text: &str) -> Vec<Finding> {
    const GIVES: [&str; 12] = [
        "fn", "let", "mut", "struct", "enum", "mod", "const", "static", "type", "trait", "pub",
        "ref",
    ];
    let tokens = tokens(&bare(text, Keep::Code));
    let mut found = Vec::new();
    for pair in tokens
        .windows(2)
        .filter(|pair| GIVES.contains(&pair[0].text.as_str()))
    {
        for word in pair[1].text.to_lowercase().split('_') {
            found.extend(american(word).map(|says| Finding::new(path, pair[1].line, says)));
        }
    }
    found
}

/// Marks of one machine, or of how a file was made. Split, so that this file does not hold them.
const MARKS: [&str; 14] = [
    concat!("/wo", "rk/"),
    concat!("/tm", "p/"),
    concat!("/ro", "ot/"),
    concat!("/ho", "me/"),
    concat!("../sha", "red"),
    concat!("seed docu", "ment"),
    concat!("sub", "agent"),
    concat!("language mo", "del"),
    concat!("chat", "bot"),
    concat!("this ses", "sion"),
    concat!("plan", ".md"),
    concat!("issue ", "#"),
    concat!("issues ", "show"),
    concat!("CARGO_TARGET_", "DIR="),
];

/// A file speaks of the project alone.
fn speaks_of_the_project(path: &str, text: &str) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, line) in text.lines().enumerate() {
        for mark in MARKS
            .iter()
            .filter(|mark| line.to_lowercase().contains(&mark.to_lowercase()))
        {
            found.push(Finding::new(
                path,
                index + 1,
                format!("`{mark}` has no place in the project"),
            ));
        }
    }
    found
}

/// Words that promise what has not been made.
const UNMADE: [&str; 4] = [
    concat!("TO", "DO"),
    concat!("FIX", "ME"),
    concat!("XX", "X"),
    concat!("st", "ub"),
];

/// Nothing in the tree is announced and not there.
fn leaves_nothing_unmade(path: &str, text: &str) -> Vec<Finding> {
    let mut found = Vec::new();
    for (index, line) in text.lines().enumerate() {
        let words: Vec<&str> = line
            .split(|letter: char| !letter.is_alphanumeric())
            .collect();
        for mark in UNMADE
            .iter()
            .filter(|mark| words.contains(*mark) || mark.contains(' ') && line.contains(**mark))
        {
            found.push(Finding::new(
                path,
                index + 1,
                format!("`{mark}`: make it or leave the word out"),
            ));
        }
    }
    found
}

/// What the project wrote itself.
fn own_texts() -> Vec<File> {
    files("", &TEXTS)
        .into_iter()
        .filter(|file| !file.path.ends_with("Cargo.lock"))
        .collect()
}

/// The table of this test holds the wrong spellings; a rule is not run over itself.
fn but_the_table(file: &File) -> bool {
    !file.path.ends_with("names/spelling.rs")
}

#[test]
fn law_the_spelling_is_british() {
    let texts: Vec<File> = own_texts().into_iter().filter(but_the_table).collect();
    none(&apply(&texts, spells_british));
}

#[test]
fn law_files_speak_of_the_project_alone() {
    none(&apply(&files("", &[]), speaks_of_the_project));
}

#[test]
fn law_nothing_is_announced_and_not_there() {
    none(&apply(&own_texts(), leaves_nothing_unmade));
}

/// Each rule, shown to fail on a planted fault.
mod planted {
    use super::*;

    #[test]
    fn law_american_spelling_is_named() {
        let lines = |path, text| -> Vec<usize> {
            spells_british(path, text).iter().map(|f| f.line).collect()
        };
        let page = "the color of it\nstyle=\"background-color: red\"\nthe rim_center\nparameter, diameter\n";
        assert_eq!(lines("a.md", page), [1, 3]);
        let code = "use qr::Color;\nfn rim_center_mm() {}\nx.center();\n// the gray one\nlet a = \"mold\";\n";
        assert_eq!(lines("a.rs", code), [2, 4, 5]);
    }

    #[test]
    fn law_a_machine_path_and_a_promise_are_named() {
        let text = format!("fine\nsee {}notes\n// {}: later\n", MARKS[1], UNMADE[0]);
        assert_eq!(
            speaks_of_the_project("a", &text).first().map(|f| f.line),
            Some(2)
        );
        assert_eq!(
            leaves_nothing_unmade("a", &text).first().map(|f| f.line),
            Some(3)
        );
        assert_eq!(leaves_nothing_unmade("a", "stubborn"), []);
    }
}
