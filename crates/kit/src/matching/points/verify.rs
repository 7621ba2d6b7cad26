//! The slow check of a proof.

use super::given::Points;
use crate::matching::answer::Matching;

/// Checks by brute force, over all pairs, that `matching` is a matching of least cost.
///
/// # Errors
/// What is broken first, in words.
pub fn verify(points: &Points<'_>, alone_cost: i64, matching: &Matching) -> Result<(), String> {
    let _ = (points, alone_cost, matching);
    Err("not proved".to_owned())
}
