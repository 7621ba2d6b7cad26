//! Two scores that are not each other: same mass, and runs true.

use super::body::{PairSet, Score, Scores};

/// Scores over the sets; limits where they were asked for.
pub(super) fn scores(
    sets: &[PairSet],
    mass_within_g: Option<f64>,
    unbalance_within_g_mm: Option<f64>,
) -> Scores {
    let masses: Vec<f64> = sets
        .iter()
        .filter_map(|set| set.mass_difference_g)
        .collect();
    let statics: Vec<f64> = sets.iter().filter_map(static_unbalance).collect();
    let mut same_mass = score(&masses, sets.len(), mass_within_g, "g");
    same_mass.sentence = if same_mass.known {
        format!(
            "Same mass: the two sides differ by {:.3} g on the mean, {:.3} g at worst; a difference turns the piece about its string, it does not shake it.",
            same_mass.mean, same_mass.worst
        )
    } else {
        "Same mass: not known for every set.".to_owned()
    };
    let mut runs_true = score(&statics, sets.len(), unbalance_within_g_mm, "g·mm");
    runs_true.sentence = if runs_true.known {
        format!(
            "Runs true: at the best angle {:.3} g·mm of static unbalance is left on the mean, {:.3} g·mm at worst; look at the couple too.",
            runs_true.mean, runs_true.worst
        )
    } else {
        "Runs true: not measured. Shake comes from off-centre and tilt, and equal mass says nothing of it."
            .to_owned()
    };
    Scores {
        same_mass,
        runs_true,
    }
}

/// Static unbalance that the set can be brought to.
fn static_unbalance(set: &PairSet) -> Option<f64> {
    let clocked = set
        .clocking
        .first()
        .map(|option| option.static_unbalance_g_mm);
    clocked.or(set.unbalance_difference_g_mm)
}

fn score(values: &[f64], sets: usize, limit: Option<f64>, unit: &str) -> Score {
    let known = !values.is_empty() && values.len() == sets;
    // Differences are whole last digits over a power of ten: one rounding either side.
    let inside =
        |value: &f64| limit.is_none_or(|limit| *value <= limit * (1.0 + 2.0 * f64::EPSILON));
    Score {
        known,
        sets_within: if known {
            values.iter().filter(|value| inside(value)).count()
        } else {
            0
        },
        mean: if known {
            values.iter().sum::<f64>() / values.len() as f64
        } else {
            0.0
        },
        worst: if known {
            values.iter().copied().fold(0.0, f64::max)
        } else {
            0.0
        },
        unit: unit.to_owned(),
        sentence: String::new(),
    }
}
