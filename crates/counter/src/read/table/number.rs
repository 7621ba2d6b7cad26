//! One number as a person or a scale writes it.

use whirlwright_workshop::part::Decimal;
use whirlwright_workshop::part::decimal::NotADecimal;

/// The decimal mark of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mark {
    /// `10.70`
    Point,
    /// `10,70`
    Comma,
}

impl Mark {
    /// Its name.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Point => "decimal point",
            Self::Comma => "decimal comma",
        }
    }
}

/// Why a text is no number: what was expected instead.
pub type Expected = String;

/// Reads a plain number.
///
/// # Errors
/// Says what was expected: no exponents, no thousands marks, no unit in the cell, no `nan`.
pub fn read(text: &str, mark: Mark) -> Result<Decimal, Expected> {
    let text = text.trim();
    let parsed = match mark {
        Mark::Point => text.parse(),
        Mark::Comma if text.contains('.') => Err(NotADecimal::Letter('.')),
        Mark::Comma => text.replacen(',', ".", 1).parse(),
    };
    parsed.map_err(|reason| expected(text, mark, &reason))
}

fn expected(text: &str, mark: Mark, reason: &NotADecimal) -> Expected {
    let sample = if mark == Mark::Comma {
        "10,83"
    } else {
        "10.83"
    };
    let plain = format!("a plain number such as {sample}");
    let lower = text.to_lowercase();
    let digits = text.chars().any(|letter| letter.is_ascii_digit());
    let letters = text.chars().any(char::is_alphabetic);
    let why = match reason {
        NotADecimal::TooLong => "with at most 15 digits",
        _ if lower.contains("nan") || lower.contains("inf") => "that the scale showed",
        NotADecimal::Letter('e' | 'E') if digits => "without an exponent",
        _ if digits && letters => "alone: its unit belongs in the header",
        _ if digits => "without thousands marks, and with one decimal mark throughout",
        _ => return plain,
    };
    format!("{plain}, {why}")
}

/// Whether a text says that nothing was measured.
#[must_use]
pub fn is_not_measured(text: &str) -> bool {
    let text = text.trim();
    text.is_empty()
        || [
            "n/a",
            "na",
            "n.a.",
            "none",
            "not weighed",
            "not measured",
            "-",
            "–",
            "—",
            "?",
        ]
        .iter()
        .any(|word| text.eq_ignore_ascii_case(word))
}

/// The decimal mark of a file, from the lines and texts of its number columns.
///
/// A comma is the mark if some number has one comma and no number has a point. Where commas could
/// as well be thousands marks (`1,234` everywhere, and commas or tabs between the cells) nothing
/// is guessed.
///
/// # Errors
/// Says what is mixed or ambiguous, with the number that shows it and its line.
pub fn find_mark<'t>(
    texts: impl Iterator<Item = (usize, &'t str)>,
    separator: Option<char>,
) -> Result<Mark, (String, String)> {
    let (mut point, mut comma, mut plain_comma) = (None, None, false);
    for (line, text) in texts {
        match (text.contains('.'), text.contains(',')) {
            (true, false) => point = point.or(Some((line, text))),
            (false, true) => {
                comma = comma.or(Some((line, text)));
                plain_comma |= !looks_like_thousands(text);
            }
            // Both in one number: thousands marks, and `read` says so at its line.
            _ => {}
        }
    }
    match (point, comma) {
        (_, None) => Ok(Mark::Point),
        (Some((line, point)), Some((comma_line, comma))) => Err((
            format!(
                "{point} with a point in line {line}, {comma} with a comma in line {comma_line}"
            ),
            "one decimal mark throughout, and no thousands marks".to_owned(),
        )),
        (None, Some(_)) if plain_comma || separator == Some(';') => Ok(Mark::Comma),
        (None, Some((line, comma))) => Err((
            format!(
                "{comma} in line {line}, which may be one thousand and more, or one and a fraction"
            ),
            "numbers without thousands marks, with a decimal point".to_owned(),
        )),
    }
}

/// `1,234` and `12,345,678` look like thousands; `10,70` does not.
fn looks_like_thousands(text: &str) -> bool {
    let mut groups = text.trim().trim_start_matches(['-', '+']).split(',');
    let first = groups.next().unwrap_or_default();
    let lead = (1..=3).contains(&first.len()) && !first.starts_with('0');
    lead && groups.all(|group| group.len() == 3)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_plain_numbers_with_either_mark() {
        assert_eq!(
            read(" 10.70 ", Mark::Point),
            Ok(Decimal {
                units: 1070,
                places: 2
            })
        );
        assert_eq!(
            read("48,089", Mark::Comma),
            Ok(Decimal {
                units: 48089,
                places: 3
            })
        );
        assert_eq!(
            read("7", Mark::Comma),
            Ok(Decimal {
                units: 7,
                places: 0
            })
        );
    }

    #[test]
    fn refuses_what_is_no_plain_number_and_says_why() {
        for (text, mark, said) in [
            ("1e5", Mark::Point, "without an exponent"),
            ("nan", Mark::Point, "that the scale showed"),
            ("inf", Mark::Point, "that the scale showed"),
            ("-Infinity", Mark::Point, "that the scale showed"),
            ("1,234.5", Mark::Point, "without thousands marks"),
            ("1.234,5", Mark::Comma, "without thousands marks"),
            ("1'234.5", Mark::Point, "without thousands marks"),
            ("1 234.5", Mark::Point, "without thousands marks"),
            ("10.70 g", Mark::Point, "unit belongs in the header"),
            ("10.70g", Mark::Point, "unit belongs in the header"),
            ("abc", Mark::Point, "a plain number"),
            ("1234567890123456", Mark::Point, "at most 15 digits"),
        ] {
            let refused = read(text, mark).expect_err(text);
            assert!(refused.contains(said), "{text}: {refused}");
        }
    }

    #[test]
    fn reads_the_decimal_mark_or_says_what_is_mixed() {
        let find = |texts: &[&'static str], separator| {
            find_mark(texts.iter().map(|text| (2, *text)), Some(separator))
        };
        assert_eq!(find(&["10,70", "48,089"], ';'), Ok(Mark::Comma));
        assert_eq!(find(&["48,089"], ';'), Ok(Mark::Comma));
        assert_eq!(find(&["10,70", "48,089"], '\t'), Ok(Mark::Comma));
        assert_eq!(find(&["10.70", "48"], ','), Ok(Mark::Point));
        assert!(find(&["48,089", "48,090"], ',').is_err());
        assert!(find(&["10.70", "10,71"], ';').is_err());
    }
}
