//! Which column holds what: from the header, or as the person says.

use whirlwright_workshop::measuring::Windows;
use whirlwright_workshop::part::{Kind, Measure};

use super::finding::{Finding, shortened};
use super::number::{self, Mark};
use super::options::ReadOptions;
use super::raw::{RawRow, RawTable, Sort};
use super::words::{Holds, meaning, nearest};

/// The columns of a file and where its rows begin.
#[derive(Debug, Clone)]
pub struct Columns {
    /// Header word and meaning, column by column.
    pub list: Vec<Column>,
    /// How many rows of the table stand before the first part (0 or 1).
    pub header_rows: usize,
    /// What to say about them.
    pub remarks: Vec<String>,
}

/// One column.
#[derive(Debug, Clone)]
pub struct Column {
    /// Its header word as written.
    pub word: String,
    /// What it holds.
    pub holds: Holds,
}

/// Finds out what the columns hold.
///
/// # Errors
/// Everything wrong with the header at once; a file without one gets a mapping offered.
pub fn find(table: &RawTable<'_>, options: &ReadOptions) -> Result<Columns, Vec<Finding>> {
    let Some(first) = table.rows.first() else {
        return Err(vec![super::encoding::empty("an empty file")]);
    };
    let words: Vec<String> = first
        .cells
        .iter()
        .map(|cell| cell.trimmed().to_owned())
        .collect();
    let is_header = looks_like_header(&words, options.kind);
    let (words, header_rows) = match &options.columns {
        Some(said) => (said.clone(), usize::from(is_header)),
        None if is_header => (words, 1),
        None => return Err(vec![no_header(table, first, options)]),
    };
    if words.len() != first.cells.len() {
        return Err(vec![Finding {
            line: Some(first.line),
            field: "columns".to_owned(),
            read: format!("{} columns", first.cells.len()),
            expected: format!("{} columns, as said", words.len()),
            advice: "Name every column, with - for one to leave out".to_owned(),
            source_line: shortened(&first.text),
            ..Finding::default()
        }]);
    }
    take(words, header_rows, first, options)
}

/// A header has a word that is known (with or without its unit) and no cell that is a number.
fn looks_like_header(words: &[String], kind: Kind) -> bool {
    let known = |word: &String| !matches!(meaning(word, kind), Ok(Holds::Unknown | Holds::LeftOut));
    let is_number = |word: &String| number::read(word, Mark::Point).is_ok();
    words.iter().any(known) && !words.iter().any(is_number)
}

fn take(
    words: Vec<String>,
    header_rows: usize,
    first: &RawRow<'_>,
    options: &ReadOptions,
) -> Result<Columns, Vec<Finding>> {
    let mut findings = Vec::new();
    let mut list = Vec::new();
    for (at, word) in words.into_iter().enumerate() {
        let holds = match meaning(&word, options.kind) {
            Ok(holds) => holds,
            Err(bad) => {
                let expected = "a header word with its unit".to_owned();
                findings.push(in_header(
                    first,
                    Some(at),
                    &word,
                    bad.read,
                    expected,
                    bad.advice,
                ));
                Holds::Unknown
            }
        };
        list.push(Column { word, holds });
    }
    findings.extend(twice(&list, first));
    findings.extend(missing(&list, first, !findings.is_empty()));
    findings.extend(other_kind(&list, first, options.kind));
    if findings.is_empty() {
        let remarks = remarks(&list);
        Ok(Columns {
            list,
            header_rows,
            remarks,
        })
    } else {
        Err(findings)
    }
}

fn in_header(
    first: &RawRow<'_>,
    at: Option<usize>,
    field: &str,
    read: String,
    expected: String,
    advice: String,
) -> Finding {
    Finding {
        line: Some(first.line),
        column: at.map(|at| at + 1),
        field: if field.is_empty() {
            "header".to_owned()
        } else {
            shortened(field)
        },
        read,
        expected,
        advice,
        source_line: shortened(&first.text),
    }
}

/// A short name of what may stand only once in a file.
fn only_once(holds: &Holds) -> Option<&'static str> {
    match holds {
        Holds::Serial => Some("serial"),
        Holds::Origin => Some("origin (cavity, insert, pack, batch)"),
        Holds::Number { measure, .. } => Some(measure.key()),
        Holds::Colour => Some("colour"),
        Holds::Tray => Some("tray"),
        Holds::Place => Some("place"),
        Holds::WeighedAt => Some("weighed_at"),
        Holds::Operator => Some("operator"),
        Holds::Scale => Some("scale"),
        Holds::Note | Holds::Unknown | Holds::LeftOut => None,
    }
}

fn twice(list: &[Column], first: &RawRow<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (at, column) in list.iter().enumerate() {
        let Some(name) = only_once(&column.holds) else {
            continue;
        };
        let before = list
            .iter()
            .take(at)
            .position(|other| only_once(&other.holds) == Some(name));
        if let Some(before) = before {
            findings.push(in_header(
                first,
                Some(at),
                &column.word,
                format!(
                    "a second column of {name}; the first is column {}",
                    before + 1
                ),
                "one".to_owned(),
                "Take one of them out, or give it another word".to_owned(),
            ));
        }
    }
    findings
}

fn missing(list: &[Column], first: &RawRow<'_>, bad_words: bool) -> Vec<Finding> {
    let mut findings = Vec::new();
    let has = |name: &str| {
        list.iter()
            .any(|column| only_once(&column.holds) == Some(name))
    };
    for (name, word) in [("serial", "serial"), (Measure::MassG.key(), "mass_g")] {
        // A mass without its unit has been named already.
        if has(name) || (bad_words && word == "mass_g") {
            continue;
        }
        let near = list
            .iter()
            .find(|column| nearest(&column.word) == Some(word));
        let advice = match near {
            Some(column) => format!("Is the column `{}` meant? Write {word}", column.word),
            None => format!("Write {word} over the right column"),
        };
        let read = format!("no column of {name}");
        let expected = format!("a column {word}");
        findings.push(in_header(first, None, "", read, expected, advice));
    }
    findings
}

/// Halves handed in as rims, or rims as halves.
fn other_kind(list: &[Column], first: &RawRow<'_>, kind: Kind) -> Option<Finding> {
    let begins = |with: &str| {
        list.iter()
            .any(|column| column.word.to_lowercase().starts_with(with))
    };
    let (own, other, words, others) = match kind {
        Kind::Half => ("spigot", "bore", "halves", "rims"),
        Kind::Rim => ("bore", "spigot", "rims", "halves"),
        Kind::Dressed | Kind::Other => return None,
    };
    (begins(other) && !begins(own)).then(|| {
        in_header(
            first,
            None,
            other,
            format!("a column of {other}, as {others} have it"),
            format!("{words}, with {own} or without a fitting diameter"),
            format!("Hand the file in as {others}"),
        )
    })
}

fn remarks(list: &[Column]) -> Vec<String> {
    let unknown: Vec<String> = list
        .iter()
        .filter(|column| matches!(column.holds, Holds::Unknown) && !column.word.is_empty())
        .map(|column| match nearest(&column.word) {
            Some(near) => format!("{} (is {near} meant?)", shortened(&column.word)),
            None => shortened(&column.word),
        })
        .collect();
    if unknown.is_empty() {
        return Vec::new();
    }
    vec![format!(
        "columns not known, kept as notes: {}",
        unknown.join(", ")
    )]
}

fn no_header(table: &RawTable<'_>, first: &RawRow<'_>, options: &ReadOptions) -> Finding {
    let guess: Vec<String> = (0..first.cells.len())
        .map(|at| looks_like(table, at, options))
        .collect();
    let guess = if guess.iter().all(|word| word == "-") {
        "serial,mass_g,…".to_owned()
    } else {
        only_first_of_each(guess).join(",")
    };
    let is_number = |text: &str| number::read(text, Mark::Point).is_ok();
    let data = first.cells.iter().any(|cell| is_number(cell.trimmed()));
    let read = if data {
        "data in the first line, no header"
    } else {
        "no header word that is known"
    };
    Finding {
        line: Some(first.line),
        field: "header".to_owned(),
        read: read.to_owned(),
        expected: "a first line with the words serial, mass_g and so on".to_owned(),
        advice: format!(
            "Write a header line, or name the columns: by their looks --columns {guess}"
        ),
        source_line: shortened(&first.text),
        ..Finding::default()
    }
}

fn only_first_of_each(words: Vec<String>) -> Vec<String> {
    let mut seen: Vec<String> = Vec::new();
    for word in words {
        let again = word != "-" && seen.contains(&word);
        seen.push(if again { "-".to_owned() } else { word });
    }
    seen
}

/// The header word that a column looks like by its first cells; `-` for none.
fn looks_like(table: &RawTable<'_>, at: usize, options: &ReadOptions) -> String {
    /// Cells that are looked at.
    const LOOKED_AT: usize = 50;
    let cells = || {
        table
            .rows
            .iter()
            .take(LOOKED_AT)
            .filter_map(|row| row.cells.get(at))
            .filter(|cell| !cell.trimmed().is_empty())
    };
    let all = |test: &dyn Fn(&str) -> bool| {
        cells().next().is_some() && cells().all(|cell| test(cell.trimmed()))
    };
    let is_time = |text: &str| {
        text.parse::<jiff::Timestamp>().is_ok() || text.parse::<jiff::civil::DateTime>().is_ok()
    };
    if cells().any(|cell| cell.sort == Sort::Date) || all(&is_time) {
        return "weighed_at".to_owned();
    }
    let numbers: Vec<_> = cells()
        .filter_map(|cell| number::read(&cell.trimmed().replacen(',', ".", 1), Mark::Point).ok())
        .collect();
    if numbers.len() == cells().count() && !numbers.is_empty() {
        if numbers.iter().all(|number| number.places == 0) {
            let alike = |number| numbers.iter().filter(|other| *other == number).count() > 1;
            let word = origin_column(options.kind);
            return if numbers.iter().any(alike) { word } else { "-" }.to_owned();
        }
        let middle =
            numbers.iter().map(|number| number.to_f64()).sum::<f64>() / numbers.len() as f64;
        return number_column(&options.windows, options.kind, middle).to_owned();
    }
    let mixed = |text: &str| {
        text.chars().any(char::is_alphabetic) && text.chars().any(|letter| letter.is_ascii_digit())
    };
    let mut texts: Vec<&str> = cells().map(|cell| cell.trimmed()).collect();
    let count = texts.len();
    texts.sort_unstable();
    texts.dedup();
    if all(&mixed) && texts.len() == count {
        "serial".to_owned()
    } else {
        "-".to_owned()
    }
}

fn origin_column(kind: Kind) -> &'static str {
    match kind {
        Kind::Half | Kind::Dressed => "cavity",
        Kind::Rim => "insert",
        Kind::Other => "pack",
    }
}

fn number_column(windows: &Windows, kind: Kind, middle: f64) -> &'static str {
    let known = windows.of(kind);
    match (&known.mass_g, &known.fit_mm) {
        (Some(mass), _) if mass.holds(middle) => "mass_g",
        (_, Some(fit)) if fit.holds(middle) && kind == Kind::Half => "spigot_mm",
        (_, Some(fit)) if fit.holds(middle) && kind == Kind::Rim => "bore_mm",
        (None, _) => "mass_g",
        _ => "-",
    }
}
