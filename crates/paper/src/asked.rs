//! Limits read back from the question as it was asked, for drawing them.
//!
//! An answer carries its limits as words with units; a picture needs the numbers in them.

use whirlwright_workshop::pairing::PairBody;

/// How far the masses of the two sides may differ, in g.
#[must_use]
pub fn mass_within_g(body: &PairBody) -> Option<f64> {
    let asked = body.limits.iter().find(|limit| {
        let what = limit.what.to_lowercase();
        what.contains("mass") && !what.contains("piece") && in_grams(&limit.limit)
    })?;
    numbers(&asked.limit)
        .last()
        .copied()
        .filter(|limit| *limit > 0.0)
}

/// Between which masses the two sides together must lie, in g.
#[must_use]
pub fn piece_window_g(body: &PairBody) -> Option<(f64, f64)> {
    let piece = |what: &str| what.to_lowercase().contains("piece");
    let found: Vec<f64> = body
        .limits
        .iter()
        .filter(|limit| piece(&limit.what) && in_grams(&limit.limit))
        .flat_map(|limit| numbers(&limit.limit))
        .collect();
    // The wanted mass and how far it may be off, in one line or in two.
    let [wanted, within] = found.as_slice() else {
        return None;
    };
    (*within > 0.0 && *within < *wanted).then_some((wanted - within, wanted + within))
}

fn in_grams(text: &str) -> bool {
    let text = text.trim_end();
    text.strip_suffix('g').is_some_and(|rest| {
        rest.ends_with([
            ' ', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9', '\u{a0}',
        ])
    })
}

fn numbers(text: &str) -> Vec<f64> {
    text.split(|c: char| !c.is_ascii_digit() && c != '.')
        .filter_map(|word| word.parse().ok())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_numbers_are_read_and_units_are_minded() {
        assert_eq!(numbers("57.60 g ± 0.10 g"), [57.6, 0.1]);
        assert_eq!(numbers("within . of 3"), [3.0]);
        assert!(
            in_grams("0.1 g") && in_grams("0.1g ") && !in_grams("0.1 mg") && !in_grams("0.3 g·mm")
        );
    }
}
