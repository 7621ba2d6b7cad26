//! Numbers as they are shown: rounded by their uncertainty, never without a unit.
//!
//! The rule: an uncertainty is shown with two figures, and the number ends at the same place.

/// What stands where a number is not a number.
pub const UNKNOWN: &str = "not known";

/// A true minus sign, so that a dash is never read as one.
const MINUS: char = '−';

/// The number with its unit and this many figures behind the point.
#[must_use]
pub fn places(value: f64, places: usize, unit: &str) -> String {
    with(number(value, places), unit)
}

/// The number with its unit and about this many figures in all (none before the point are dropped).
///
/// For numbers that were reckoned exactly from a drawing, whose uncertainty is told in words.
#[must_use]
pub fn figures(value: f64, figures: usize, unit: &str) -> String {
    if value == 0.0 {
        return with("0".to_owned(), unit);
    }
    let behind = figures as i32 - 1 - tens(value.abs());
    places(value, behind.clamp(0, 9) as usize, unit)
}

/// The number and its uncertainty, both ending at the uncertainty's second figure.
#[must_use]
pub fn with_uncertainty(value: f64, uncertainty: f64, unit: &str) -> String {
    if !value.is_finite() || !uncertainty.is_finite() {
        return UNKNOWN.to_owned();
    }
    if uncertainty <= 0.0 {
        return figures(value, 4, unit);
    }
    let behind = places_for(uncertainty);
    let rounded = |x: f64| {
        if behind >= 0 {
            return number(x, behind as usize);
        }
        // Above the point the same rule rounds to whole tens, hundreds and so on.
        let step = 10f64.powi(-behind);
        number((x / step).round() * step, 0)
    };
    with(
        format!("{} ± {}", rounded(value), rounded(uncertainty)),
        unit,
    )
}

/// How many figures behind the point show an uncertainty with two figures; negative above it.
#[must_use]
pub fn places_for(uncertainty: f64) -> i32 {
    let behind = 1 - tens(uncertainty);
    // 0.0996 rounds up to 0.10: one figure less, or it would show three.
    let shown = (uncertainty * 10f64.powi(behind)).round();
    (if shown >= 100.0 { behind - 1 } else { behind }).clamp(-12, 9)
}

/// A whole number of things, with its noun: `1 set`, `240 sets`.
#[must_use]
pub fn count(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// The bare number; only for columns and axes whose heading bears the unit.
#[must_use]
pub fn number(value: f64, places: usize) -> String {
    if !value.is_finite() {
        return UNKNOWN.to_owned();
    }
    let digits = format!("{:.places$}", value.abs());
    let zero = digits.chars().all(|c| c == '0' || c == '.');
    if value < 0.0 && !zero {
        format!("{MINUS}{digits}")
    } else {
        digits
    }
}

/// The bare number with its sign always written, for differences.
#[must_use]
pub fn signed(value: f64, places: usize) -> String {
    let text = number(value, places);
    let zero = text.chars().all(|c| c == '0' || c == '.');
    if value > 0.0 && value.is_finite() && !zero {
        format!("+{text}")
    } else {
        text
    }
}

/// The fewest figures behind the point that show every one of these readings whole.
///
/// Readings are whole last digits of an instrument, so this is the instrument's own number of
/// figures; more than `most` are not shown.
#[must_use]
pub fn shared_places(values: impl IntoIterator<Item = f64>, most: usize) -> usize {
    values
        .into_iter()
        .filter(|value| value.is_finite())
        .map(|value| own_places(value, most))
        .max()
        .unwrap_or(0)
}

fn own_places(value: f64, most: usize) -> usize {
    // A sum of a few readings is off by some ulps; a millionth of the last figure is far above that.
    let whole = |places: &usize| {
        let scaled = value * 10f64.powi(*places as i32);
        (scaled - scaled.round()).abs() < 1e-6
    };
    (0..most).find(whole).unwrap_or(most)
}

fn with(number: String, unit: &str) -> String {
    if unit.is_empty() || number == UNKNOWN {
        return number;
    }
    // A per cent sign also takes a space (SI), a degree sign of an angle does not.
    if unit == "°" {
        format!("{number}{unit}")
    } else {
        format!("{number} {unit}")
    }
}

/// The power of ten of the first figure: 0 for 1…9.99, −1 for 0.1…0.999.
fn tens(value: f64) -> i32 {
    if value.is_finite() && value > 0.0 {
        value.log10().floor() as i32
    } else {
        0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_the_uncertainty_has_two_figures_and_the_number_ends_with_it() {
        for (value, uncertainty, shown) in [
            (63.0449, 0.118, "63.04 ± 0.12 g"),
            (10.8, 0.05, "10.800 ± 0.050 g"),
            (34512.3, 345.0, "34510 ± 350 g"),
            (34512.3, 1234.0, "34500 ± 1200 g"),
            (-0.004, 0.01, "−0.004 ± 0.010 g"),
            (0.0, 0.0996, "0.00 ± 0.10 g"),
            (1.0, 9.96, "1 ± 10 g"),
        ] {
            assert_eq!(with_uncertainty(value, uncertainty, "g"), shown);
        }
    }

    #[test]
    fn law_nothing_is_written_minus_nought_and_no_number_is_said() {
        assert_eq!(places(-0.0004, 2, "mm"), "0.00 mm");
        assert_eq!(signed(0.0004, 2), "0.00");
        assert_eq!(signed(0.02, 2), "+0.02");
        assert_eq!(places(f64::NAN, 2, "mm"), UNKNOWN);
        assert_eq!(figures(f64::INFINITY, 4, "mm"), UNKNOWN);
        assert_eq!(with_uncertainty(1.0, f64::NAN, "g"), UNKNOWN);
    }

    #[test]
    fn law_a_column_shows_every_reading_whole() {
        assert_eq!(shared_places([28.5, 28.47, 0.1 + 0.2], 4), 2);
        assert_eq!(shared_places([7.0, f64::NAN], 4), 0);
        assert_eq!(shared_places([1.0 / 3.0], 4), 4);
        assert_eq!(shared_places([], 4), 0);
    }

    #[test]
    fn law_figures_are_counted_from_the_first() {
        assert_eq!(figures(63.0449, 4, "g"), "63.04 g");
        assert_eq!(figures(0.012_345, 3, "mm"), "0.0123 mm");
        assert_eq!(figures(34512.3, 4, "g·mm²"), "34512 g·mm²");
        assert_eq!(figures(0.0, 4, "g"), "0 g");
    }
}
