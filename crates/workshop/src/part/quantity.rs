//! A value with its unit beside it, as a file or a command line writes it: `"58 mm"`.

use std::fmt;

use super::Decimal;
pub use crate::shelf::Dimension;
use crate::shelf::{self, Unit};

/// A value that was written with its unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// As it was written.
    pub text: String,
    /// What it measures.
    pub dimension: Dimension,
    /// The value in the base unit of its dimension (mm, g, g/cm³, deg, degC, N, MPa, g·mm, g·mm²,
    /// rpm, s, 1, m/s, µN·m, µN·m/rad, cSt, m/s², W/(m²·K)).
    pub value: f64,
    /// The value in the base unit, where a plain decimal of 15 digits holds it exactly:
    /// 0.1 g is exactly 100 mg, and 2.283 in exactly 57.9882 mm.
    pub exact: Option<Decimal>,
}

/// Why a text is not the quantity that was wanted.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotAQuantity {
    /// Nothing was written.
    #[error("nothing is written here; {wanted} is wanted, such as {example}")]
    Empty {
        /// What is wanted.
        wanted: &'static str,
        /// An example of it.
        example: &'static str,
    },
    /// A number without a unit.
    #[error("`{text}` has no unit; {wanted} is wanted, such as {example}; known units: {known}")]
    Bare {
        /// What was written.
        text: String,
        /// What is wanted.
        wanted: &'static str,
        /// An example of it.
        example: &'static str,
        /// Units of the wanted dimension.
        known: String,
    },
    /// The part before the unit is not a number.
    #[error("`{text}` does not start with a number; {wanted} is wanted, such as {example}{hint}")]
    NoNumber {
        /// What was written.
        text: String,
        /// What is wanted.
        wanted: &'static str,
        /// An example of it.
        example: &'static str,
        /// What may have been meant.
        hint: String,
    },
    /// A number too large for anything.
    #[error("`{text}` is too large a number to reckon with")]
    TooLarge {
        /// What was written.
        text: String,
    },
    /// A unit that is not in the table.
    #[error("`{unit}` is not a known unit; units of {wanted}: {known}{hint}")]
    UnknownUnit {
        /// The unit that was written.
        unit: String,
        /// What is wanted.
        wanted: &'static str,
        /// Units of the wanted dimension.
        known: String,
        /// The near one, if any.
        hint: String,
    },
    /// A value of another dimension.
    #[error("`{text}` is {found}; {wanted} is wanted, such as {example}; known units: {known}")]
    WrongDimension {
        /// What was written.
        text: String,
        /// What was found.
        found: &'static str,
        /// What is wanted.
        wanted: &'static str,
        /// An example of it.
        example: &'static str,
        /// Units of the wanted dimension.
        known: String,
    },
}

impl Quantity {
    /// Reads a value with its unit; the space between them may be left out.
    ///
    /// # Errors
    /// No unit, no number, an unknown unit, another dimension than `wanted`, or a number past the
    /// range of floats. The message says what was read and what was wanted.
    pub fn read(text: &str, wanted: Dimension) -> Result<Self, NotAQuantity> {
        let trimmed = text.trim();
        let (name, example) = (wanted.name(), wanted.example());
        if trimmed.is_empty() {
            return Err(NotAQuantity::Empty {
                wanted: name,
                example,
            });
        }
        let (number, word) = split(trimmed);
        let Some(value) = float(number) else {
            return Err(NotAQuantity::NoNumber {
                text: trimmed.to_owned(),
                wanted: name,
                example,
                hint: comma_hint(trimmed),
            });
        };
        if !value.is_finite() {
            return Err(NotAQuantity::TooLarge {
                text: trimmed.to_owned(),
            });
        }
        let known = wanted.known_units();
        if word.is_empty() {
            let text = trimmed.to_owned();
            return Err(NotAQuantity::Bare {
                text,
                wanted: name,
                example,
                known,
            });
        }
        if word.starts_with(',') {
            let hint = comma_hint(trimmed);
            let text = trimmed.to_owned();
            return Err(NotAQuantity::NoNumber {
                text,
                wanted: name,
                example,
                hint,
            });
        }
        let word = word.split_whitespace().collect::<Vec<_>>().join(" ");
        let Some(unit) = shelf::unit(&word) else {
            let hint = near_unit(&word, wanted);
            return Err(NotAQuantity::UnknownUnit {
                unit: word,
                wanted: name,
                known,
                hint,
            });
        };
        if unit.dimension != wanted {
            return Err(NotAQuantity::WrongDimension {
                text: trimmed.to_owned(),
                found: unit.dimension.name(),
                wanted: name,
                example,
                known,
            });
        }
        Ok(in_base_units(trimmed, number, value, unit))
    }

    /// The value as a plain decimal of the base unit for a limit: exact where it can be, otherwise
    /// brought down to a millionth, because a limit must never grow by being rewritten.
    #[must_use]
    pub fn as_limit(&self) -> Option<Decimal> {
        const PLACES: u8 = 6;
        const MILLION: f64 = 1e6;
        self.exact.or_else(|| {
            let units = (self.value * MILLION).trunc();
            // Above 2^53 a float no longer counts by ones.
            (units.abs() < 9.0e15).then_some(Decimal {
                units: units as i64,
                places: PLACES,
            })
        })
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.text)
    }
}

/// Splits `12.5e3mm` into its number and the rest.
fn split(text: &str) -> (&str, &str) {
    let bytes = text.as_bytes();
    let mut end = 0;
    while end < bytes.len() {
        let exponent = matches!(bytes[end], b'e' | b'E')
            && end > 0
            && bytes
                .get(end + 1)
                .is_some_and(|b| b.is_ascii_digit() || matches!(b, b'+' | b'-'));
        let sign = matches!(bytes[end], b'+' | b'-')
            && (end == 0 || matches!(bytes[end - 1], b'e' | b'E'));
        if bytes[end].is_ascii_digit() || bytes[end] == b'.' || sign || exponent {
            end += 1;
        } else if end == 0 && text.starts_with('\u{2212}') {
            end = '\u{2212}'.len_utf8();
        } else {
            break;
        }
    }
    (&text[..end], text[end..].trim())
}

fn float(number: &str) -> Option<f64> {
    number.replace('\u{2212}', "-").parse().ok()
}

fn comma_hint(text: &str) -> String {
    let comma = text
        .split_once(',')
        .filter(|(a, _)| a.ends_with(|c: char| c.is_ascii_digit()));
    match comma {
        Some((whole, rest)) => format!("; write a point, not a comma: `{whole}.{rest}`"),
        None => String::new(),
    }
}

fn near_unit(word: &str, wanted: Dimension) -> String {
    let words = shelf::units()
        .iter()
        .flat_map(|u| u.words.iter().map(move |w| (u.dimension, w)));
    let lower = word.to_lowercase();
    let near = words
        .filter(|(_, w)| {
            w.to_lowercase() == lower || (w.len() > 2 && strsim::levenshtein(w, word) <= 1)
        })
        .min_by_key(|(dimension, w)| (*dimension != wanted, strsim::levenshtein(w, word)));
    near.map(|(_, w)| format!("; did you mean `{w}`?"))
        .unwrap_or_default()
}

fn in_base_units(text: &str, number: &str, value: f64, unit: &Unit) -> Quantity {
    let exact = number.parse::<Decimal>().ok().and_then(|d| exact(d, unit));
    let plain = (value + unit.offset.to_f64()) * unit.factor.float;
    Quantity {
        text: text.to_owned(),
        dimension: unit.dimension,
        value: exact.map_or(plain, Decimal::to_f64),
        exact,
    }
}

/// `(number + offset) · factor` without rounding; none if 15 digits do not hold it.
fn exact(number: Decimal, unit: &Unit) -> Option<Decimal> {
    const MOST: i128 = 1_000_000_000_000_000;
    if !unit.factor.exact {
        return None;
    }
    let places = number.places.max(unit.offset.places);
    let sum = number
        .units_at(places)?
        .checked_add(unit.offset.units_at(places)?)?;
    let mut units = i128::from(sum).checked_mul(unit.factor.units)?;
    let mut places = places + unit.factor.places;
    while places > number.places && units % 10 == 0 {
        units /= 10;
        places -= 1;
    }
    (units.abs() < MOST).then_some(Decimal {
        units: i64::try_from(units).ok()?,
        places,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str, wanted: Dimension) -> Quantity {
        Quantity::read(text, wanted).unwrap()
    }

    #[test]
    fn closed_form_limits_stay_exact_decimals() {
        assert_eq!(
            read("0.1 g", Dimension::Mass).exact,
            Some(Decimal {
                units: 1,
                places: 1
            })
        );
        assert_eq!(read("100 mg", Dimension::Mass).exact.unwrap().to_f64(), 0.1);
        assert_eq!(
            read("2.283in", Dimension::Length)
                .exact
                .unwrap()
                .to_string(),
            "57.9882"
        );
        assert_eq!(
            read("3 thou", Dimension::Length).exact.unwrap().to_string(),
            "0.0762"
        );
        assert_eq!(read("65 tf", Dimension::Force).value, 637_432.25);
        assert_eq!(read("1130 kg/m3", Dimension::Density).value, 1.13);
        assert_eq!(read("0 degC", Dimension::Temperature).value, 0.0);
        assert_eq!(
            read("300 K", Dimension::Temperature)
                .exact
                .unwrap()
                .to_string(),
            "26.85"
        );
        for same in ["0.3 g·mm", "0.3 g mm", "0.3 gmm", "0.3g·mm", "300 mg·mm"] {
            assert_eq!(read(same, Dimension::Unbalance).value, 0.3, "{same}");
        }
    }

    #[test]
    fn law_a_limit_never_grows_by_being_rewritten() {
        let limit = read("0.37 rad", Dimension::Angle);
        assert_eq!(limit.exact, None);
        let written = limit.as_limit().unwrap().to_f64();
        assert!(written <= limit.value && limit.value - written < 1e-6);
    }

    #[test]
    fn law_what_is_no_quantity_is_refused_with_what_was_wanted() {
        let cases = [
            ("58", "no unit"),
            ("58 g", "is a mass; a length is wanted"),
            ("58 furlong", "not a known unit"),
            ("58 MM", "did you mean `mm`"),
            ("mm", "does not start with a number"),
            ("0,1 mm", "`0.1 mm`"),
            ("", "nothing is written"),
            ("NaN mm", "does not start with a number"),
            ("inf mm", "does not start with a number"),
            ("1e400 mm", "too large"),
            ("1.2.3 mm", "does not start with a number"),
            ("--3 mm", "does not start with a number"),
        ];
        for (text, said) in cases {
            let error = Quantity::read(text, Dimension::Length)
                .unwrap_err()
                .to_string();
            assert!(error.contains(said), "{text}: {error}");
        }
    }

    #[test]
    fn law_one_word_stands_for_one_unit() {
        let mut words: Vec<_> = shelf::units().iter().flat_map(|u| &u.words).collect();
        let count = words.len();
        words.sort();
        words.dedup();
        assert_eq!(words.len(), count);
    }

    #[test]
    fn twin_factors_agree_with_an_independent_library_of_units() {
        use uom::si::f64 as si;
        use uom::si::{angle, angular_velocity, force, length, mass, mass_density, pressure};
        let twins = [
            (
                "1 in",
                Dimension::Length,
                si::Length::new::<length::inch>(1.0).get::<length::millimeter>(),
            ),
            (
                "1 thou",
                Dimension::Length,
                si::Length::new::<length::mil>(1.0).get::<length::millimeter>(),
            ),
            (
                "1 oz",
                Dimension::Mass,
                si::Mass::new::<mass::ounce>(1.0).get::<mass::gram>(),
            ),
            (
                "1 lb",
                Dimension::Mass,
                si::Mass::new::<mass::pound>(1.0).get::<mass::gram>(),
            ),
            (
                "1 lbf",
                Dimension::Force,
                si::Force::new::<force::pound_force>(1.0).get::<force::newton>(),
            ),
            (
                "1 psi",
                Dimension::Pressure,
                si::Pressure::new::<pressure::psi>(1.0).get::<pressure::megapascal>(),
            ),
            (
                "1 bar",
                Dimension::Pressure,
                si::Pressure::new::<pressure::bar>(1.0).get::<pressure::megapascal>(),
            ),
            (
                "1 rad",
                Dimension::Angle,
                si::Angle::new::<angle::radian>(1.0).get::<angle::degree>(),
            ),
            (
                "1 rad/s",
                Dimension::AngularSpeed,
                si::AngularVelocity::new::<angular_velocity::radian_per_second>(1.0)
                    .get::<angular_velocity::revolution_per_minute>(),
            ),
            (
                "1 lb/in3",
                Dimension::Density,
                si::MassDensity::new::<mass_density::pound_per_cubic_inch>(1.0)
                    .get::<mass_density::gram_per_cubic_centimeter>(),
            ),
        ];
        for (text, dimension, twin) in twins {
            let ours = read(text, dimension).value;
            // The library prints its own factors to seven digits at least.
            assert!(
                (ours / twin - 1.0).abs() < 5e-7,
                "{text}: {ours} against {twin}"
            );
        }
    }
}
