//! Points in, proved matchings out.

use crate::matching::answer::Matching;

/// Points whose pairs cost `Σ weight_k (x_k − y_k)²`.
#[derive(Debug, Clone, Copy)]
pub struct Points<'a> {
    /// Coordinates; unused ones are 0.
    pub coords: &'a [[i64; 4]],
    /// What a squared unit of each coordinate costs, at least 0.
    pub weights: [i64; 4],
    /// Pairs further apart than this in a coordinate are no pairs at all; none: no such limit.
    pub limits: Option<[Option<i64>; 4]>,
    /// Only points of one group may be paired; none: all are of one group.
    pub groups: Option<&'a [u32]>,
}

/// A matching of points, and whether it is proved to be of least cost among all pairs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Certified {
    /// The matching and its dual values.
    pub matching: Matching,
    /// Proved on the complete graph: no pair, listed or not, could improve the matching.
    pub optimal: bool,
    /// How often the sparse graph was solved.
    pub rounds: u32,
    /// How many pairs were listed in the end.
    pub edges: usize,
}

impl Points<'_> {
    /// The group of a point; 0 where none is given.
    pub(super) fn group(&self, point: usize) -> u32 {
        self.groups
            .and_then(|groups| groups.get(point))
            .copied()
            .unwrap_or(0)
    }

    /// Cost of a pair, if it may be made; too large for 64 bits reads as the largest number.
    pub fn cost(&self, a: usize, b: usize) -> Option<i64> {
        if a == b || self.group(a) != self.group(b) {
            return None;
        }
        self.space().cost(&self.coords[a], &self.coords[b])
    }

    /// Weights and limits alone.
    pub(super) fn space(&self) -> Space {
        let limits = self.limits.unwrap_or([None; 4]);
        Space {
            weights: self.weights.map(|weight| weight.max(0).unsigned_abs()),
            limits: limits.map(|limit| limit.map_or(u64::MAX, |limit| limit.max(0).unsigned_abs())),
            closed: limits.iter().flatten().any(|&limit| limit < 0),
        }
    }
}

/// How far apart points may be, and what that costs.
#[derive(Debug, Clone, Copy)]
pub(super) struct Space {
    pub weights: [u64; 4],
    limits: [u64; 4],
    /// No pair is allowed: a limit is below 0.
    closed: bool,
}

impl Space {
    /// Cost of a pair, if it may be made.
    pub fn cost(&self, a: &[i64; 4], b: &[i64; 4]) -> Option<i64> {
        self.sum(|k| a[k].abs_diff(b[k]))
    }

    /// No point of the box costs less, with `point`; none if none of them may be its mate.
    pub fn least_cost(&self, point: &[i64; 4], low: &[i64; 4], high: &[i64; 4]) -> Option<i64> {
        self.sum(|k| {
            if point[k] < low[k] {
                low[k].abs_diff(point[k])
            } else if point[k] > high[k] {
                point[k].abs_diff(high[k])
            } else {
                0
            }
        })
    }

    /// Weighted sum of squares, held at the largest number instead of wrapping.
    fn sum(&self, gap: impl Fn(usize) -> u64) -> Option<i64> {
        let mut sum = 0_u64;
        let mut allowed = !self.closed;
        for k in 0..4 {
            let gap = gap(k);
            allowed &= gap <= self.limits[k];
            sum = sum.saturating_add(gap.saturating_mul(gap).saturating_mul(self.weights[k]));
        }
        allowed.then(|| i64::try_from(sum).unwrap_or(i64::MAX))
    }
}
