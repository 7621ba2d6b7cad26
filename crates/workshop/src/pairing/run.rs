//! The two questions pairing answers.

use super::body::PairBody;
use super::given::{DressedGiven, PartsGiven, Progress, Refusal};
use crate::part::Answer;

/// Pairs parts of one kind two and two.
///
/// # Errors
/// A [`Refusal`] when the question itself cannot be answered.
pub fn pair_dressed(given: &DressedGiven) -> Result<Answer<PairBody>, Refusal> {
    given.check()?;
    Err(Refusal::NothingAsked)
}

/// Marries rims to halves and pairs the dressed halves.
///
/// # Errors
/// A [`Refusal`] when the question itself cannot be answered.
pub fn pair_parts(
    given: &PartsGiven,
    stop: &dyn Fn(Progress) -> bool,
) -> Result<Answer<PairBody>, Refusal> {
    given.check()?;
    let _ = stop;
    Err(Refusal::NothingAsked)
}
