//! Deviations gathered into classes, and which two classes can make a set at best.

use std::collections::BTreeSet;

use super::lot::Lot;
use super::whole::gcd;

/// Most classes for exact steering; above it deviations are gathered into bins, which loosens the
/// bound a little and keeps the linear program small.
const MOST_CLASSES: usize = 96;

/// Classes of deviation, the same for every colour.
#[derive(Debug, Clone)]
pub(super) struct Classes {
    /// Least and largest deviation of each class; by size alone where the limits are equal.
    bounds: Vec<(i64, i64)>,
    colours: Vec<u32>,
    by_size: bool,
    /// Every class holds one deviation only.
    exact: bool,
}

/// Two classes that can make a set, and the least cost of it in millionths.
#[derive(Debug, Clone, Copy)]
pub(super) struct Meeting {
    pub a: usize,
    pub b: usize,
    pub least_cost: i64,
}

impl Classes {
    /// Classes for the deviations that occur.
    pub(super) fn of(lot: &Lot, deviations: &BTreeSet<i64>) -> Self {
        let by_size = lot.equal_limits();
        let shown: BTreeSet<i64> = deviations
            .iter()
            .map(|&d| if by_size { d.abs() } else { d })
            .collect();
        let mut colours: Vec<u32> = lot.halves.iter().map(|half| half.colour).collect();
        colours.sort_unstable();
        colours.dedup();
        let most = (MOST_CLASSES / colours.len().max(1)).max(12);
        let bounds = match (shown.first(), shown.last()) {
            (Some(&least), Some(&last)) if shown.len() > most => {
                let width = (last - least) / most as i64 + 1;
                let mut bounds: Vec<(i64, i64)> = Vec::new();
                for &d in &shown {
                    match bounds.last_mut() {
                        Some(bin) if (bin.0 - least) / width == (d - least) / width => bin.1 = d,
                        _ => bounds.push((d, d)),
                    }
                }
                bounds
            }
            _ => shown.iter().map(|&d| (d, d)).collect(),
        };
        let exact = bounds.len() == shown.len();
        Self {
            bounds,
            colours,
            by_size,
            exact,
        }
    }

    pub(super) fn count(&self) -> usize {
        self.bounds.len() * self.colours.len()
    }

    /// Class of a deviation that occurs.
    pub(super) fn class(&self, deviation: i64, colour: u32) -> usize {
        let shown = if self.by_size {
            deviation.abs()
        } else {
            deviation
        };
        let bin = self.bounds.partition_point(|bin| bin.1 < shown);
        let place = self.colours.binary_search(&colour).unwrap_or(0);
        place * self.bounds.len() + bin.min(self.bounds.len().saturating_sub(1))
    }

    /// All pairs of classes some members of which make a set.
    pub(super) fn meetings(&self, lot: &Lot) -> Vec<Meeting> {
        let mut meetings = Vec::new();
        let bins = self.bounds.len();
        for one in 0..bins {
            for two in one..bins {
                if let Some(least_cost) = self.best(lot, self.bounds[one], self.bounds[two]) {
                    for colour in 0..self.colours.len() {
                        let (a, b) = (colour * bins + one, colour * bins + two);
                        meetings.push(Meeting { a, b, least_cost });
                    }
                }
            }
        }
        meetings
    }

    /// Every cost there can be is a whole number of these (in the lot's cost numerators); 0 where
    /// that is not known.
    pub(super) fn cost_grain(&self, lot: &Lot) -> i128 {
        if !self.exact {
            return 0;
        }
        let mut grain = 0;
        for (at, one) in self.bounds.iter().enumerate() {
            for two in &self.bounds[at..] {
                if lot.in_limits(one.0, two.0) {
                    grain = gcd(grain, lot.cost_numerator(one.0, two.0));
                }
            }
        }
        grain
    }

    /// Least cost of a set from two bins, or a bound below it; none where no set can be.
    fn best(&self, lot: &Lot, one: (i64, i64), two: (i64, i64)) -> Option<i64> {
        if self.by_size {
            // Sizes: the smallest of both decide, and the cost is a sum over the two.
            return lot
                .in_limits(one.0, two.0)
                .then(|| lot.cost_millionths(one.0, two.0));
        }
        let near = |least: i64, most: i64| if least > 0 { least } else { (-most).max(0) };
        let difference = near(one.0 - two.1, one.1 - two.0);
        let sum = near(one.0 + two.0, one.1 + two.1);
        if difference > lot.mass_limit || sum > lot.piece_limit {
            return None;
        }
        // Some a, b with a − b = difference and a + b = sum need not exist; as a bound it will do.
        let (mass, piece) = (
            difference as f64 / lot.mass_limit as f64,
            sum as f64 / lot.piece_limit as f64,
        );
        Some(((mass * mass + piece * piece) * super::lot::MILLION as f64) as i64)
    }
}
