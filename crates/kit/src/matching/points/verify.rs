//! The slow check of a proof on the complete graph.

use super::given::Points;
use crate::matching::answer::Matching;
use crate::matching::proof::{Proof, Unproved};

/// Checks by brute force, over all pairs, that `matching` is a matching of least cost: what
/// [`super::match_points`] proves with boxes, proved pair by pair. Time n²/2; for tests.
///
/// # Errors
/// What is broken first.
pub fn verify(points: &Points<'_>, alone_cost: i64, matching: &Matching) -> Result<(), Unproved> {
    verify_where(points, alone_cost, |_, _| true, matching)
}

/// The same with pairs that must not be made.
///
/// # Errors
/// What is broken first.
pub fn verify_where(
    points: &Points<'_>,
    alone_cost: i64,
    allowed: impl Fn(u32, u32) -> bool,
    matching: &Matching,
) -> Result<(), Unproved> {
    let n = points.coords.len();
    let proof = Proof::new(n, alone_cost, matching)?;
    let cost = |a: u32, b: u32| {
        points
            .cost(a as usize, b as usize)
            .filter(|_| allowed(a, b))
    };
    for a in 0..n as u32 {
        for b in a + 1..n as u32 {
            if let Some(cost) = cost(a, b) {
                proof.pair(a, b, cost)?;
            }
        }
    }
    proof.close(cost)
}
