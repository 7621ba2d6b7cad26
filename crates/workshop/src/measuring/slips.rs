//! Slips of a person with a table: the wrong column, the wrong unit, the wrong place of the point,
//! a cavity that does not exist.
//!
//! Nothing is ever changed here: a slip is named with what was read, what was expected and what to
//! do; the person decides.

use std::collections::BTreeSet;

use whirlwright_kit::describe;

use crate::part::{Decimal, Kind, LotPart, Measure};

use super::body::Doubt;
use super::doubts::doubts;
use super::origins;
use super::slip::{Slip, Weight};
use super::units::{Dimension, Unit};
use super::windows::{Window, Windows};

/// A column of numbers as it stands in the file, to be asked whether it is the one that is missed.
#[derive(Debug, Clone)]
pub struct NumberColumn {
    /// Its header word.
    pub name: String,
    /// Its place, counted from 1.
    pub column: usize,
    /// Its numbers, in whatever unit the column is in.
    pub values: Vec<Decimal>,
}

/// Everything in a file of one kind of parts that cannot be believed.
///
/// `columns` are the file's other columns of measured numbers. A column that is wrong as a whole is
/// named once, and its rows are not named again.
#[must_use]
pub fn look_for_slips(parts: &[LotPart], windows: &Windows, columns: &[NumberColumn]) -> Vec<Slip> {
    let Some(kind) = parts.first().map(|part| part.kind) else {
        return Vec::new();
    };
    let known = windows.of(kind);
    let mut slips = Vec::new();
    for (quantity, window) in [
        (Measure::MassG, &known.mass_g),
        (Measure::FitMm, &known.fit_mm),
    ] {
        let Some(window) = window else { continue };
        let question = Question {
            kind,
            quantity,
            window,
        };
        match question.whole_column(parts, columns) {
            Some(slip) => slips.push(slip),
            None => slips.extend(question.single_rows(parts)),
        }
    }
    slips.extend(origins::strangers(parts, kind, &known.origins));
    let wrong_column = |slip: &Slip| slip.part.is_none() && slip.quantity == Measure::MassG.key();
    if !slips.iter().any(wrong_column) {
        // A few refused readings do not move a median; what is refused need not be doubted too.
        let refused: BTreeSet<usize> = slips.iter().filter_map(|slip| slip.part).collect();
        let doubts = doubts(parts)
            .into_iter()
            .filter(|doubt| !refused.contains(&doubt.part));
        slips.extend(doubts.map(doubtful));
    }
    slips
}

fn doubtful(doubt: Doubt) -> Slip {
    Slip {
        part: Some(doubt.part),
        weight: Weight::Doubt,
        quantity: Measure::MassG.key().to_owned(),
        read: format!("{} g", doubt.mass_g),
        expected: "a mass near those of its own origin".to_owned(),
        advice: doubt.why,
    }
}

/// Parts whose mass or fitting diameter lies outside what is believed: serial and reading.
#[must_use]
pub fn outside(parts: &[LotPart], windows: &Windows) -> Vec<String> {
    let mut found = Vec::new();
    for part in parts {
        let known = windows.of(part.kind);
        for (quantity, window) in [
            (Measure::MassG, &known.mass_g),
            (Measure::FitMm, &known.fit_mm),
        ] {
            if let (Some(window), Some(read)) = (window, quantity.of(part))
                && !window.holds(read.to_f64())
            {
                let unit = quantity.unit();
                found.push(format!(
                    "{} ({read} {unit}, not {})",
                    part.serial,
                    window.words(unit)
                ));
            }
        }
    }
    found
}

/// One reading held against its window.
struct Question<'a> {
    kind: Kind,
    quantity: Measure,
    window: &'a Window,
}

impl Question<'_> {
    fn expected(&self) -> String {
        let unit = self.quantity.unit();
        let what = match self.quantity {
            Measure::FitMm => format!("{} of a {}", self.kind.fit_word(), self.kind.word()),
            _ => self.kind.word().to_owned(),
        };
        format!(
            "{} for a {what} ({})",
            self.window.words(unit),
            self.window.source
        )
    }

    fn dimension(&self) -> Dimension {
        match self.quantity {
            Measure::MassG => Dimension::Mass,
            _ => Dimension::Length,
        }
    }

    fn refusal(&self, part: Option<usize>, read: String, advice: String) -> Slip {
        let quantity = self.quantity.key().to_owned();
        Slip {
            part,
            weight: Weight::Refuse,
            quantity,
            read,
            expected: self.expected(),
            advice,
        }
    }

    /// The column as a whole lies outside: another column, or another unit, or simply wrong.
    fn whole_column(&self, parts: &[LotPart], columns: &[NumberColumn]) -> Option<Slip> {
        let read: Vec<f64> = parts
            .iter()
            .filter_map(|part| Some(self.quantity.of(part)?.to_f64()))
            .collect();
        let middle = describe::median(&read)?;
        if self.window.holds(middle) {
            return None;
        }
        let advice = self
            .swapped(columns)
            .or_else(|| self.other_unit(middle))
            .unwrap_or_else(|| "look at the header, the unit and the scale".to_owned());
        let said = format!(
            "{} {} in the middle (median)",
            sensible(middle),
            self.quantity.unit()
        );
        Some(self.refusal(None, said, advice))
    }

    /// The column that looks like the missed one, by its own middle.
    fn swapped(&self, columns: &[NumberColumn]) -> Option<String> {
        let (column, middle) = columns.iter().find_map(|column| {
            let numbers: Vec<f64> = column.values.iter().map(|value| value.to_f64()).collect();
            let middle = describe::median(&numbers)?;
            self.window.holds(middle).then_some((column, middle))
        })?;
        Some(format!(
            "Column {} ({}) has {} in the middle and looks like it: are the two columns swapped? \
             Put the header words over the right columns",
            column.column,
            column.name,
            sensible(middle),
        ))
    }

    /// The units in which the column would be believed.
    fn other_unit(&self, middle: f64) -> Option<String> {
        let fits = |unit: &&Unit| self.window.holds(middle * unit.factor.to_f64());
        let units: Vec<&Unit> = self.dimension().units().filter(fits).collect();
        let short = units.first()?.name();
        let asked: Vec<String> = units.iter().map(|unit| self.asked(unit, middle)).collect();
        let how = match self.quantity {
            Measure::MassG => format!("say --unit {short}, or write mass [{short}] in the header"),
            _ => format!("write the unit in the header, as in spigot [{short}]"),
        };
        Some(format!(
            "{}. If so, {how}; nothing is converted unasked",
            asked.join("; or ")
        ))
    }

    fn asked(&self, unit: &Unit, middle: f64) -> String {
        let plural = unit.words.last().map_or("", String::as_str);
        let lands = sensible(middle * unit.factor.to_f64());
        format!(
            "{plural}? × {} gives {lands} {}",
            unit.factor,
            self.quantity.unit()
        )
    }

    /// Single readings outside the window, with the place where the point may have slipped.
    fn single_rows(&self, parts: &[LotPart]) -> Vec<Slip> {
        let inside: Vec<f64> = parts
            .iter()
            .filter_map(|part| Some(self.quantity.of(part)?.to_f64()))
            .filter(|&read| self.window.holds(read))
            .collect();
        let middle = describe::median(&inside);
        let unit = self.quantity.unit();
        let rows = parts.iter().enumerate();
        rows.filter_map(|(at, part)| {
            let read = self.quantity.of(part)?;
            if self.window.holds(read.to_f64()) {
                return None;
            }
            let advice = match middle.and_then(|middle| self.point_moved(read, middle)) {
                Some(meant) => {
                    format!("Is {meant} {unit} meant? Read the scale again and write it")
                }
                None => "Read the scale again and write it".to_owned(),
            };
            Some(self.refusal(Some(at), format!("{read} {unit}"), advice))
        })
        .collect()
    }

    /// The reading with its point moved into the window, nearest to the middle of the others.
    fn point_moved(&self, read: Decimal, middle: f64) -> Option<Decimal> {
        let away = |meant: &Decimal| (meant.to_f64() - middle).abs();
        (-3i16..=3)
            .filter_map(|by| move_point(read, by))
            .filter(|meant| self.window.holds(meant.to_f64()))
            .min_by(|a, b| away(a).total_cmp(&away(b)))
    }
}

/// The same digits with the point `by` places further left.
fn move_point(read: Decimal, by: i16) -> Option<Decimal> {
    let places = i16::from(read.places) + by;
    if let Ok(places) = u8::try_from(places) {
        return Some(Decimal { places, ..read });
    }
    let ten = 10i64.checked_pow(u32::from(places.unsigned_abs()))?;
    Some(Decimal {
        units: read.units.checked_mul(ten)?,
        places: 0,
    })
}

/// A number with the digits a person wants to see when something is far off.
fn sensible(number: f64) -> String {
    let size = number.abs();
    if size >= 1000.0 {
        format!("{number:.0}")
    } else if size >= 1.0 {
        format!("{number:.2}")
    } else {
        format!("{number:.4}")
    }
}
