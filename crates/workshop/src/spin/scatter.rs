//! The range of a forecast: what it is when every factor is drawn from its own range.

use whirlwright_kit::ode::NotArrived;
use whirlwright_kit::random::SplitMix64;

use super::body::RangeShare;
use super::case::Case;
use super::given::Given;
use super::profile::Surfaces;
use crate::part::Range;
use crate::part::spin_factor::Factor;

/// Draws of the whole set of factors; the 5 % and 95 % marks of so many are off by about 1 % of the draws.
pub(super) const DRAWS: usize = 400;
/// Any fixed number: the same question has the same answer.
const SEED: u64 = 20;

/// Ranges of the sleep in s and of the speed after the throw in rad/s: the likely values, with the marks
/// below which 5 % and 95 % of the draws lie.
pub(super) fn ranges(given: &Given, surfaces: &Surfaces) -> Result<(Range, Range), NotArrived> {
    let mut stream = SplitMix64::new(SEED);
    let (mut sleeps, mut speeds) = (Vec::with_capacity(DRAWS), Vec::with_capacity(DRAWS));
    for _ in 0..DRAWS {
        let values = given
            .ranges
            .map(|range| range.at_quantile(stream.uniform()));
        let case = Case::new(given, surfaces, values);
        speeds.push(case.start_rad_per_s()?);
        sleeps.push(case.sleep_s()?);
    }
    let likely = Case::likely(given, surfaces);
    let speed = marks(speeds, likely.start_rad_per_s()?);
    Ok((marks(sleeps, likely.sleep_s()?), speed))
}

/// The 5 % and 95 % marks about a likely value.
fn marks(mut drawn: Vec<f64>, likely: f64) -> Range {
    drawn.sort_by(f64::total_cmp);
    let last = drawn.len() - 1;
    let at = |percent: usize| drawn[(percent * last + 50) / 100];
    Range {
        low: at(5).min(likely),
        likely,
        high: at(95).max(likely),
    }
}

/// What each factor alone does to the sleep, from the low to the high end of its range, the others at
/// their likely values; the largest first, and none that does nothing.
pub(super) fn spent(given: &Given, surfaces: &Surfaces) -> Result<Vec<RangeShare>, NotArrived> {
    let likely = Case::likely(given, surfaces);
    let mut found = Vec::new();
    for factor in Factor::ALL {
        let range = given.range(factor);
        if range.is_one() {
            continue;
        }
        let (low, high) = (
            likely.at(factor, range.low).sleep_s()?,
            likely.at(factor, range.high).sleep_s()?,
        );
        found.push((factor, low, high));
    }
    let width = |low: f64, high: f64| (high - low) * (high - low);
    let whole: f64 = found.iter().map(|(_, low, high)| width(*low, *high)).sum();
    let mut shares: Vec<RangeShare> = found
        .into_iter()
        .filter(|(_, low, high)| low != high)
        .map(|(factor, low, high)| RangeShare {
            factor: factor.key().to_owned(),
            words: factor.words().to_owned(),
            from: given.range(factor).low,
            to: given.range(factor).high,
            sleep_at_low_s: low,
            sleep_at_high_s: high,
            share: width(low, high) / whole,
        })
        .collect();
    shares.sort_by(|a, b| b.share.total_cmp(&a.share));
    Ok(shares)
}
