//! Readings as they are written: `"170 um at 112 deg"`, `"170 um"`, and lists of them.

use toml::Spanned;
use toml::de::DeValue;
use whirlwright_workshop::balance::given::ReadingVector;
use whirlwright_workshop::part::Dimension::{Angle, Force, Length, Speed, Unbalance as GramMm};
use whirlwright_workshop::part::{Quantity, Unbalance};
use whirlwright_workshop::shelf;

use crate::read::job::block::{Faults, Said, as_text, kind};

/// Most repeats of one reading.
const MOST_REPEATS: usize = 1000;

/// What is written, one text or a list of texts; everything else is a fault.
pub(super) fn texts<'a>(
    value: &'a Spanned<DeValue<'a>>,
    faults: &Faults,
    example: &str,
) -> Vec<Said<'a>> {
    let each: Vec<&Spanned<DeValue<'a>>> = match value.get_ref() {
        DeValue::Array(array) => array.iter().collect(),
        _ => vec![value],
    };
    if each.is_empty() || each.len() > MOST_REPEATS {
        let what = format!(
            "{} readings stand here; 1 to {MOST_REPEATS} were expected",
            each.len()
        );
        faults.add(value.span(), what);
        return Vec::new();
    }
    let text = |value: &'a Spanned<DeValue<'a>>| {
        let said = as_text(value);
        if said.is_none() {
            let found = kind(value.get_ref());
            let what =
                format!("{found} was read; a reading in quotes was expected, such as {example}");
            faults.add(value.span(), what);
        }
        said
    };
    each.into_iter().filter_map(text).collect()
}

/// The unit all amplitudes of a file are in: that of the first one read.
#[derive(Default)]
pub(super) struct OneUnit {
    word: Option<String>,
}

impl OneUnit {
    pub(super) fn word(self) -> String {
        self.word.unwrap_or_default()
    }

    /// Reads an amplitude; its unit must be the one before it.
    fn amplitude(&mut self, text: &str) -> Result<f64, String> {
        const EXAMPLE: &str = "\"170 um\"";
        let text = text.trim();
        let end = text
            .find(|c: char| !(c.is_ascii_digit() || "+-.".contains(c)))
            .unwrap_or(text.len());
        let (number, unit) = (&text[..end], text[end..].trim());
        let value: f64 = match number.parse() {
            Ok(value) if f64::is_finite(value) => value,
            _ => {
                return Err(format!(
                    "`{text}` does not start with a number; an amplitude with its unit was expected, such as {EXAMPLE}"
                ));
            }
        };
        if unit.is_empty() {
            return Err(format!(
                "`{text}` has no unit; an amplitude with its unit was expected, such as {EXAMPLE}"
            ));
        }
        if value < 0.0 {
            return Err(format!("`{text}` is below 0; an amplitude is 0 or more"));
        }
        let unit = plain_unit(text, unit)?;
        match &self.word {
            Some(word) if *word != unit => Err(format!(
                "`{text}` is in {unit}, and the readings before it are in {word}; write all of them in one unit"
            )),
            _ => {
                self.word = Some(unit);
                Ok(value)
            }
        }
    }

    /// An amplitude with its phase.
    pub(super) fn vector(&mut self, said: &Said<'_>, faults: &Faults) -> Option<ReadingVector> {
        let Some((size, phase)) = said.text.split_once(" at ") else {
            let what = format!(
                "`{}` has no phase; `at` and an angle were expected, such as \"170 um at 112 deg\"",
                said.text
            );
            faults.add(said.span.clone(), what);
            return None;
        };
        let amplitude = told(self.amplitude(size), said, faults);
        let phase = angle(phase, said, faults);
        Some(ReadingVector {
            amplitude_value: amplitude?,
            phase_deg: phase?,
        })
    }

    /// An amplitude alone.
    pub(super) fn plain(&mut self, said: &Said<'_>, faults: &Faults) -> Option<f64> {
        told(self.amplitude(said.text), said, faults)
    }
}

/// One spelling a unit; what can be no amplitude is told. Units no table knows (mV, m/s2) are kept.
fn plain_unit(text: &str, unit: &str) -> Result<String, String> {
    let Some(known) = shelf::unit(unit) else {
        return Ok(unit.to_owned());
    };
    if [Length, Speed, Force, GramMm].contains(&known.dimension) {
        return Ok(known.words[0].clone());
    }
    Err(format!(
        "`{text}` is {}; an amplitude was expected first, then `at` and its angle, such as \"170 um at 112 deg\"",
        known.dimension.name()
    ))
}

/// An unbalance with its angle, `"0.35 g·mm at 40 deg"`.
pub(super) fn unbalance(said: &Said<'_>, faults: &Faults) -> Option<Unbalance> {
    let Some((size, at)) = said.text.split_once(" at ") else {
        let what = format!(
            "`{}` has no angle; `at` and an angle were expected, such as \"0.35 g·mm at 40 deg\"",
            said.text
        );
        faults.add(said.span.clone(), what);
        return None;
    };
    let read = Quantity::read(size, GramMm).map_err(|why| why.to_string());
    let size = told(read, said, faults).map(|q| q.value);
    let at = angle(at, said, faults);
    Some(Unbalance::new(size?, at?))
}

pub(super) fn angle(text: &str, said: &Said<'_>, faults: &Faults) -> Option<f64> {
    let read = Quantity::read(text, Angle).map_err(|why| why.to_string());
    told(read, said, faults).map(|q| q.value)
}

fn told<T>(read: Result<T, String>, said: &Said<'_>, faults: &Faults) -> Option<T> {
    read.map_err(|why| faults.add(said.span.clone(), why)).ok()
}
