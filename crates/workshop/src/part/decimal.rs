//! A reading as it was shown: a whole number of last digits.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// A decimal number kept exactly: `units · 10^-places`.
///
/// A scale shows whole last digits; keeping them whole makes sums, limits and costs exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Decimal {
    /// How many last digits.
    pub units: i64,
    /// How many digits stand behind the point.
    pub places: u8,
}

/// Why a text is not a plain decimal number.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotADecimal {
    /// No digits at all.
    #[error("no number was written")]
    Empty,
    /// A sign that is not a digit, a point or a leading sign.
    #[error("`{0}` does not belong in a plain decimal number such as 10.83")]
    Letter(char),
    /// More than fifteen digits.
    #[error("more than 15 digits")]
    TooLong,
}

/// Fifteen digits pass through a 64-bit float unharmed.
const MOST_DIGITS: usize = 15;

impl Decimal {
    /// The number itself.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        // Dividing by an exact power of ten rounds once, so 10.83 comes out as the literal would.
        self.units as f64 / 10f64.powi(i32::from(self.places))
    }

    /// The same number in whole units of `10^-places`; none if digits would be lost.
    #[must_use]
    pub fn units_at(self, places: u8) -> Option<i64> {
        let more = places.checked_sub(self.places)?;
        self.units.checked_mul(10i64.checked_pow(u32::from(more))?)
    }
}

impl FromStr for Decimal {
    type Err = NotADecimal;

    fn from_str(text: &str) -> Result<Self, NotADecimal> {
        let text = text.trim();
        let (negative, digits) = match text.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (true, rest),
            None => (false, text.strip_prefix('+').unwrap_or(text)),
        };
        let (mut units, mut places, mut count, mut point) = (0i64, 0u8, 0usize, false);
        for letter in digits.chars() {
            match letter {
                '.' if !point => point = true,
                '0'..='9' => {
                    count += 1;
                    if count > MOST_DIGITS {
                        return Err(NotADecimal::TooLong);
                    }
                    units = units * 10 + i64::from(letter as u8 - b'0');
                    places += u8::from(point);
                }
                other => return Err(NotADecimal::Letter(other)),
            }
        }
        if count == 0 {
            return Err(NotADecimal::Empty);
        }
        Ok(Self {
            units: if negative { -units } else { units },
            places,
        })
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let places = usize::from(self.places);
        let digits = format!("{:0width$}", self.units.unsigned_abs(), width = places + 1);
        let (whole, fraction) = digits.split_at(digits.len() - places);
        let sign = if self.units < 0 { "-" } else { "" };
        let point = if places > 0 { "." } else { "" };
        f.pad(&format!("{sign}{whole}{point}{fraction}"))
    }
}

impl TryFrom<String> for Decimal {
    type Error = NotADecimal;
    fn try_from(text: String) -> Result<Self, NotADecimal> {
        text.parse()
    }
}

impl From<Decimal> for String {
    fn from(value: Decimal) -> Self {
        value.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_reading_is_written_back_as_it_was_read() {
        for text in ["10.83", "0.00", "-0.02", "7", "17.980", "-31.5"] {
            assert_eq!(
                text.parse::<Decimal>().map(|d| d.to_string()),
                Ok(text.to_owned())
            );
        }
    }

    #[test]
    fn law_text_that_is_no_plain_decimal_is_refused() {
        for text in [
            "",
            "+",
            "1e5",
            "1.2.3",
            "nan",
            "10,83",
            "1 0.83",
            "0x10",
            "1234567890123456",
        ] {
            assert!(text.parse::<Decimal>().is_err(), "{text} was taken");
        }
    }

    #[test]
    fn law_digits_are_never_lost_in_a_change_of_places() {
        let reading = Decimal {
            units: 1083,
            places: 2,
        };
        assert_eq!(reading.units_at(3), Some(10830));
        assert_eq!(reading.units_at(1), None);
    }
}
