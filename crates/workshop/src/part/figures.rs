//! Numbers in sentences, with a true minus sign, so that a dash is never read as one.

/// With so many figures behind the point; a nought has no minus.
#[must_use]
pub fn fixed(value: f64, places: usize) -> String {
    let written = format!("{value:.places$}");
    let nought = !written.contains(|c: char| c.is_ascii_digit() && c != '0');
    match written.strip_prefix('-') {
        Some(digits) if nought => digits.to_owned(),
        Some(digits) => format!("−{digits}"),
        None => written,
    }
}

/// The same with its sign always written, for differences.
#[must_use]
pub fn signed(value: f64, places: usize) -> String {
    let written = fixed(value, places);
    if written.starts_with('−') {
        written
    } else {
        format!("+{written}")
    }
}

/// As short as it can be and still be read back.
#[must_use]
pub fn whole(value: f64) -> String {
    value.to_string().replace('-', "−")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_minus_is_a_minus_and_nought_has_none() {
        assert_eq!(fixed(-1.25, 1), "−1.2");
        assert_eq!(fixed(-0.04, 1), "0.0");
        assert_eq!(signed(0.04, 1), "+0.0");
        assert_eq!(signed(-3.0, 0), "−3");
        assert_eq!(whole(-7.5), "−7.5");
    }
}
