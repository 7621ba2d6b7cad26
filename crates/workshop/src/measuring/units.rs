//! The units a table of parts may state, with exact factors (`shelf/units.toml`).

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use crate::part::Decimal;

/// What a number is a number of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// Grams.
    Mass,
    /// Millimetres.
    Length,
    /// Gram-millimetres.
    Unbalance,
    /// Degrees.
    Angle,
}

/// One unit.
#[derive(Debug, Clone, Deserialize)]
pub struct Unit {
    /// How it may be written; the first is ours.
    pub words: Vec<String>,
    /// How many of the base unit (g, mm, g·mm, deg) it is, exactly.
    #[serde(rename = "value")]
    pub factor: Decimal,
}

#[derive(Deserialize)]
struct Shelf {
    mass: BTreeMap<String, Unit>,
    length: BTreeMap<String, Unit>,
    unbalance: BTreeMap<String, Unit>,
    angle: BTreeMap<String, Unit>,
}

static SHELF: LazyLock<Shelf> = LazyLock::new(|| {
    // Compiled in and read by a test, so a person never meets this.
    toml::from_str(include_str!("../../../../shelf/units.toml")).expect("shelf/units.toml is read")
});

/// Digits kept beyond those read when a factor such as the ounce's has many. Four keep the inch and
/// its thousandth exact; in grams read as ounces the rounding is a 500,000th of the last digit read.
const GUARD_DIGITS: u8 = 4;

impl Dimension {
    /// Every unit of this dimension.
    pub fn units(self) -> impl Iterator<Item = &'static Unit> {
        let shelf = &*SHELF;
        match self {
            Self::Mass => &shelf.mass,
            Self::Length => &shelf.length,
            Self::Unbalance => &shelf.unbalance,
            Self::Angle => &shelf.angle,
        }
        .values()
    }

    /// The unit that is written so (case and spaces around it do not matter).
    #[must_use]
    pub fn unit(self, word: &str) -> Option<&'static Unit> {
        let word = word.trim().to_lowercase();
        self.units().find(|unit| unit.words.contains(&word))
    }
}

impl Unit {
    /// How it is written on paper.
    #[must_use]
    pub fn name(&self) -> &str {
        self.words.first().map_or("", String::as_str)
    }

    /// A reading in this unit, in the base unit; none if it has more digits than can be kept.
    ///
    /// Exact when at most four digits are added; otherwise rounded half away from zero to four
    /// digits beyond those read.
    #[must_use]
    pub fn to_base(&self, reading: Decimal) -> Option<Decimal> {
        let factor = self.factor;
        if factor.units == 1 {
            // A power of ten below one moves the point and keeps the digits as they were shown.
            return Some(Decimal {
                places: reading.places.checked_add(factor.places)?,
                ..reading
            });
        }
        let mut units = i128::from(reading.units) * i128::from(factor.units);
        let mut places = reading.places.checked_add(factor.places)?;
        while factor.places == 0
            && places > 0
            && units % 10 == 0
            && is_ten(factor.units, reading, places)
        {
            (units, places) = (units / 10, places - 1);
        }
        let most = reading.places.checked_add(GUARD_DIGITS)?;
        if places > most {
            let ten = 10i128.checked_pow(u32::from(places - most))?;
            units = (units + units.signum() * ten / 2) / ten;
            places = most;
        }
        Some(Decimal {
            units: i64::try_from(units).ok()?,
            places,
        })
    }
}

/// Whether a factor of a power of ten above one still has a zero to give back as a place.
fn is_ten(factor: i64, reading: Decimal, places: u8) -> bool {
    let given_back = u32::from(reading.places - places);
    10i64
        .checked_pow(given_back + 1)
        .is_some_and(|ten| factor % ten == 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn converted(dimension: Dimension, word: &str, text: &str) -> String {
        let unit = dimension.unit(word).expect("a unit of the shelf");
        unit.to_base(text.parse().expect("a number"))
            .expect("few digits")
            .to_string()
    }

    #[test]
    fn law_every_unit_is_found_by_its_words_and_one_is_the_base() {
        for dimension in [
            Dimension::Mass,
            Dimension::Length,
            Dimension::Unbalance,
            Dimension::Angle,
        ] {
            for unit in dimension.units() {
                for word in &unit.words {
                    let found = dimension.unit(&format!(" {} ", word.to_uppercase()));
                    assert_eq!(found.map(Unit::name), Some(unit.name()), "{word}");
                }
            }
        }
    }

    #[test]
    fn closed_form_powers_of_ten_move_the_point_and_keep_the_digits() {
        assert_eq!(converted(Dimension::Mass, "mg", "10700.00"), "10.70000");
        assert_eq!(converted(Dimension::Mass, "kg", "0.01070"), "10.70");
        assert_eq!(converted(Dimension::Mass, "kg", "2"), "2000");
        assert_eq!(converted(Dimension::Mass, "kg", "2.5"), "2500");
        assert_eq!(converted(Dimension::Length, "µm", "12"), "0.012");
        assert_eq!(converted(Dimension::Mass, "g", "10.70"), "10.70");
    }

    #[test]
    fn closed_form_inches_are_exact_and_ounces_keep_four_more_digits() {
        assert_eq!(converted(Dimension::Length, "in", "2.283"), "57.9882");
        assert_eq!(converted(Dimension::Length, "thou", "3"), "0.0762");
        // 0.377 × 28.349523125 = 10.687770218125, by hand.
        assert_eq!(converted(Dimension::Mass, "oz", "0.377"), "10.6877702");
        assert_eq!(converted(Dimension::Mass, "oz", "-0.377"), "-10.6877702");
    }

    #[test]
    fn law_an_ounce_inch_is_an_ounce_times_an_inch() {
        let [ounce, inch] = [(Dimension::Mass, "oz"), (Dimension::Length, "in")]
            .map(|(dimension, word)| dimension.unit(word).expect("a unit of the shelf").factor);
        let both = Dimension::Unbalance
            .unit("oz·in")
            .expect("a unit of the shelf")
            .factor;
        let places = ounce.places + inch.places;
        assert_eq!(both.units_at(places), Some(ounce.units * inch.units));
    }
}
