//! A number that is not known better than a range.

use serde::{Deserialize, Serialize};

/// A number with the least and the largest it may well be; the unit is that of the name it stands under.
///
/// It is drawn from as a triangle: nothing outside `low` to `high`, most often near `likely`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Range {
    /// The least it may well be, in the unit of the name it stands under.
    pub low: f64,
    /// What it is taken for, in the same unit.
    pub likely: f64,
    /// The largest it may well be, in the same unit.
    pub high: f64,
}

impl Range {
    /// A number that is known: all three are the same.
    #[must_use]
    pub const fn exactly(value: f64) -> Self {
        Self {
            low: value,
            likely: value,
            high: value,
        }
    }

    /// Two ends, in either order, with the middle as the likely value.
    #[must_use]
    pub fn between(one: f64, other: f64) -> Self {
        Self {
            low: one.min(other),
            likely: 0.5 * (one + other),
            high: one.max(other),
        }
    }

    /// Whether the three are finite and stand in order.
    #[must_use]
    pub fn is_in_order(&self) -> bool {
        self.low <= self.likely
            && self.likely <= self.high
            && self.low.is_finite()
            && self.high.is_finite()
    }

    /// Whether there is but one value.
    #[must_use]
    pub fn is_one(&self) -> bool {
        self.low == self.high
    }

    /// The range of another number that is reckoned from this one, rising or falling with it.
    #[must_use]
    pub fn map(self, f: impl Fn(f64) -> f64) -> Self {
        let (a, likely, b) = (f(self.low), f(self.likely), f(self.high));
        Self {
            low: a.min(b),
            likely,
            high: a.max(b),
        }
    }

    /// The value below which the share `quantile` (0 to 1) of the triangle lies, in the range's own unit.
    ///
    /// Closed form: the area left of `x` is `(x − low)² / ((high − low)(likely − low))` up to the
    /// likely value, and the mirror of that beyond it.
    #[must_use]
    pub fn at_quantile(&self, quantile: f64) -> f64 {
        let width = self.high - self.low;
        let left = self.likely - self.low;
        if width <= 0.0 {
            self.likely
        } else if quantile * width <= left {
            self.low + (quantile * width * left).sqrt()
        } else {
            self.high - ((1.0 - quantile) * width * (self.high - self.likely)).sqrt()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_the_triangle_is_met_at_its_ends_its_top_and_its_middle() {
        let range = Range {
            low: 1.0,
            likely: 2.0,
            high: 5.0,
        };
        // A quarter of the area lies left of the top; one square root is rounded.
        for (quantile, value) in [
            (0.0, 1.0),
            (0.25, 2.0),
            (1.0, 5.0),
            (0.0625, 1.5),
            (0.8125, 3.5),
        ] {
            assert!((range.at_quantile(quantile) - value).abs() < 1e-15 * 8.0);
        }
        assert_eq!(Range::exactly(3.0).at_quantile(0.3), 3.0);
        assert_eq!(Range::between(4.0, 2.0).likely, 3.0);
    }

    #[test]
    fn law_a_falling_map_keeps_the_order() {
        let turned = Range::between(1.0, 4.0).map(|x| 1.0 / x);
        assert!(turned.is_in_order() && turned.low == 0.25 && turned.high == 1.0);
        assert!(
            !Range {
                low: 2.0,
                ..Range::exactly(1.0)
            }
            .is_in_order()
        );
    }
}
