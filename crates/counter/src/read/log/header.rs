//! The header of a log: which column holds what, and in which unit.

use whirlwright_workshop::part::Dimension;
use whirlwright_workshop::shelf;

use crate::read::table::finding::{Finding, shortened};

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Holds {
    /// Times; so many seconds are one of them.
    Time(f64),
    /// Speeds; so many rad/s are one of them.
    Speed(f64),
    /// Times at which a mark passed; so many seconds are one of them.
    Pulse(f64),
    /// Which bearing.
    Bearing,
    /// Something that is not used.
    Other,
}

/// The columns of a log.
#[derive(Debug, Clone, PartialEq)]
pub struct Header {
    /// What separates the cells.
    pub separator: char,
    /// The header words as they stand.
    pub words: Vec<String>,
    /// What each column holds.
    pub holds: Vec<Holds>,
}

/// Names a column may have, with the kind of value under them.
const NAMES: [(&[&str], Kind); 4] = [
    (&["time", "t"], Kind::Time),
    (&["speed", "omega", "n", "spin"], Kind::Speed),
    (&["pulse", "pulses", "mark"], Kind::Pulse),
    (&["bearing", "serial"], Kind::Bearing),
];

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    Time,
    Speed,
    Pulse,
    Bearing,
}

const EXAMPLE: &str = "`time_s,speed_rpm`, `time_s,speed_rad_s`, or `pulse_s` alone";

/// Reads a header line. `speed_unit` is what the person says beforehand and goes before the header.
///
/// # Errors
/// Numbers where the header should be; a column without its unit, or with one that is not known.
pub fn read(line: &str, number: usize, speed_unit: Option<f64>) -> Result<Header, Box<Finding>> {
    let found = |field: &str, read: String, expected: String, advice: &str| {
        Box::new(Finding {
            line: Some(number),
            field: field.to_owned(),
            read,
            expected,
            advice: advice.to_owned(),
            source_line: shortened(line),
            ..Finding::default()
        })
    };
    let separator = ['\t', ';', ',']
        .into_iter()
        .find(|mark| line.contains(*mark))
        .unwrap_or(',');
    let words: Vec<String> = line
        .split(separator)
        .map(|w| w.trim().trim_matches('"').trim().to_owned())
        .collect();
    let is_number = |word: &String| word.replace(',', ".").parse::<f64>().is_ok();
    if words.iter().any(is_number) {
        let read = "numbers, and no header".to_owned();
        let advice = "Write a first line that names the columns with their units";
        return Err(found("header", read, EXAMPLE.to_owned(), advice));
    }
    let mut holds = Vec::new();
    for (at, word) in words.iter().enumerate() {
        match column(word, speed_unit) {
            Ok(one) => holds.push(one),
            Err(expected) => {
                let mut finding = found(
                    word,
                    format!("`{word}`"),
                    expected,
                    "Write the unit into the header, or rename the column",
                );
                finding.column = Some(at + 1);
                return Err(finding);
            }
        }
    }
    Ok(Header {
        separator,
        words,
        holds,
    })
}

impl Header {
    /// The place of the one column that holds such a thing.
    ///
    /// # Errors
    /// There is none, or more than one.
    pub fn only(&self, what: &str, is: impl Fn(&Holds) -> bool) -> Result<usize, Box<Finding>> {
        let places: Vec<usize> = (0..self.holds.len())
            .filter(|at| is(&self.holds[*at]))
            .collect();
        match *places.as_slice() {
            [one] => Ok(one),
            ref others => Err(Box::new(Finding {
                line: None,
                field: "header".to_owned(),
                read: if others.is_empty() {
                    format!(
                        "no column of {what} among `{}`",
                        shortened(&self.words.join("`, `"))
                    )
                } else {
                    format!("{} columns of {what}", others.len())
                },
                expected: EXAMPLE.to_owned(),
                advice: "Name the columns with their units, each once".to_owned(),
                ..Finding::default()
            })),
        }
    }

    /// Columns that are not used, as a remark.
    #[must_use]
    pub fn unused(&self) -> Option<String> {
        let pairs = self.words.iter().zip(&self.holds);
        let unused: Vec<&str> = pairs
            .filter(|(word, holds)| **holds == Holds::Other && !word.is_empty())
            .map(|(word, _)| word.as_str())
            .collect();
        (!unused.is_empty()).then(|| format!("not used: column {}", unused.join(", ")))
    }
}

/// What one header word says; an error in words where it says it only half.
fn column(word: &str, speed_unit: Option<f64>) -> Result<Holds, String> {
    let lower = word.to_lowercase();
    // `speed [rad/s]` and `time (s)`, `speed in rpm`, `speed_rad_s`; `rpm` alone is a speed.
    let (name, unit) = match lower.split_once(['[', '(']) {
        Some((name, unit)) => (
            name.trim().to_owned(),
            unit.trim_end_matches([']', ')']).trim().to_owned(),
        ),
        None => match lower.split_once(" in ") {
            Some((name, unit)) => (name.trim().to_owned(), unit.trim().to_owned()),
            None => match lower.split_once(['_', ' ']) {
                Some((name, unit)) => (name.to_owned(), unit.to_owned()),
                None if factor(&lower, Dimension::AngularSpeed).is_some() => {
                    ("speed".to_owned(), lower.clone())
                }
                None => (lower.clone(), String::new()),
            },
        },
    };
    let kind = NAMES
        .iter()
        .find(|(names, _)| names.contains(&name.as_str()));
    let Some((_, kind)) = kind else {
        return Ok(Holds::Other);
    };
    let seconds =
        || factor(&unit, Dimension::Time).ok_or_else(|| wanted(&unit, "a time", "_s, _ms, _min"));
    match kind {
        Kind::Bearing => Ok(Holds::Bearing),
        Kind::Time => seconds().map(Holds::Time),
        Kind::Pulse => seconds().map(Holds::Pulse),
        Kind::Speed => speed_unit
            .or_else(|| speed_factor(&unit))
            .map(Holds::Speed)
            .ok_or_else(|| wanted(&unit, "a speed", "_rpm, _rad_s, _hz")),
    }
}

fn wanted(unit: &str, what: &str, such: &str) -> String {
    if unit.is_empty() {
        format!("the unit of {what} in the header: {such}")
    } else {
        format!("a unit of {what} ({such}), not `{unit}`")
    }
}

/// How many rad/s one of a unit is.
#[must_use]
pub fn speed_factor(word: &str) -> Option<f64> {
    let per_rad_s = shelf::unit("rad/s")?.factor.float;
    factor(word, Dimension::AngularSpeed).map(|rpm| rpm / per_rad_s)
}

/// The factor of a unit word, in the spelling of a header (`rad_s`) or of a value (`rad/s`).
pub(in crate::read) fn factor(word: &str, wanted: Dimension) -> Option<f64> {
    let spellings = [
        word.to_owned(),
        word.replace('_', "/"),
        word.replace("_per_", "/"),
    ];
    let known = spellings.iter().find_map(|spelling| {
        let units = shelf::units()
            .iter()
            .filter(|unit| unit.dimension == wanted);
        let mut words = units.flat_map(|unit| unit.words.iter().map(move |w| (unit, w)));
        words.find(|(_, w)| w.to_lowercase() == *spelling)
    });
    known.map(|(unit, _)| unit.factor.float)
}
