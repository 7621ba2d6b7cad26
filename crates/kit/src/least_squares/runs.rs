//! Whether residuals hang together in order.

use super::quantiles::normal_below;

/// How residuals change sign along the data.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Runs {
    /// Stretches of one sign.
    pub runs: usize,
    /// How many stretches residuals without order would have.
    pub expected: f64,
    /// How far off that is, in standard deviations: negative for too few.
    pub sigmas: f64,
    /// Probability of being as far off or farther by chance, either way.
    pub probability: f64,
}

/// Wald and Wolfowitz's test of the signs of residuals in their order; none with fewer than 10 of either
/// sign, where the normal distribution does not stand for that of the runs.
///
/// Source: A. Wald, J. Wolfowitz, "On a test whether two samples are from the same population", Annals of
/// Mathematical Statistics 11 (1940), from memory.
#[must_use]
pub fn runs(residuals: &[f64]) -> Option<Runs> {
    let signs: Vec<bool> = residuals
        .iter()
        .filter(|r| **r != 0.0)
        .map(|r| *r > 0.0)
        .collect();
    let above = signs.iter().filter(|s| **s).count() as f64;
    let n = signs.len() as f64;
    let below = n - above;
    if above < 10.0 || below < 10.0 {
        return None;
    }
    let runs = 1 + signs.windows(2).filter(|pair| pair[0] != pair[1]).count();
    let expected = 1.0 + 2.0 * above * below / n;
    let variance = (expected - 1.0) * (expected - 2.0) / (n - 1.0);
    let sigmas = (runs as f64 - expected) / variance.sqrt();
    Some(Runs {
        runs,
        expected,
        sigmas,
        probability: 2.0 * normal_below(-sigmas.abs()),
    })
}
