//! The two questions pairing answers.

use super::body::PairBody;
use super::dressed::pair;
use super::dressed_answer;
use super::effort::Effort;
use super::given::{DressedGiven, PartsGiven, Progress, Refusal};
use super::lot::{self, Sorted};
use super::more::leftovers;
use super::needs;
use super::parts_answer;
use super::search::{Found, count, search};
use super::usable::sort_out;
use crate::part::Answer;

/// Pairs parts of one kind two and two.
///
/// With `all`, every part finds a partner and the total cost is the least there is; without it, most
/// sets inside all limits, then least cost. Both are exact and proved on every pair there is, unless
/// `optimal` says otherwise (forbidden pairs or a keyed joint in lots above 1,500 parts, or limits
/// of so many digits that weights had to be rounded).
///
/// # Errors
/// A [`Refusal`] when the question itself cannot be answered.
pub fn pair_dressed(given: &DressedGiven) -> Result<Answer<PairBody>, Refusal> {
    given.check()?;
    let (parts, left_out) = sort_out(&given.parts, &needs::needed(given), given.include_doubtful);
    let needs = needs::make(given, &parts)?;
    let pairs = pair(given, &parts, &needs);
    Ok(dressed_answer::Made {
        given,
        parts,
        left_out,
        needs,
        pairs,
    }
    .tell())
}

/// Marries rims to halves and pairs the dressed halves.
///
/// Most sets first (then, with `recut`, least mass cut, then fewest rims cut), then least cost: a
/// set's cost is `(mass difference / limit)² + (piece's deviation / limit)²`. The joint question is
/// hard; the search is exact in its steps and not as a whole, so the answer carries a proved bound
/// on the number of sets, on the mass cut and on the cost, and claims no more than they show.
/// `stop` is told how far the search has come; when it returns `true`, the best so far is answered.
///
/// # Errors
/// A [`Refusal`] when the question itself cannot be answered.
pub fn pair_parts(
    given: &PartsGiven,
    stop: &dyn Fn(Progress) -> bool,
) -> Result<Answer<PairBody>, Refusal> {
    given.check()?;
    let uncut = given.recut.map(|_| PartsGiven {
        recut: None,
        ..given.clone()
    });
    let (sorted, found, sets_without) = match &uncut {
        None => {
            let sorted = lot::make(given)?;
            let found = search(&sorted.lot, Effort::FULL, stop);
            let sets = found.sets.len();
            (sorted, found, sets)
        }
        Some(uncut) => with_recut(given, uncut, stop)?,
    };
    let leftovers = if found.stopped {
        super::body::Leftovers::default()
    } else {
        leftovers(&sorted.lot, &found, given.more_rims, stop)
    };
    Ok(parts_answer::Made {
        given,
        sorted,
        found,
        sets_without,
        leftovers,
    }
    .tell())
}

/// The lot with cuts allowed, and how many sets it has without any.
///
/// Where every part that can have a set has one uncut, there is nothing a cut could better: the
/// answer is then that of the question without recut, to the last digit.
fn with_recut<'a>(
    given: &'a PartsGiven,
    uncut: &'a PartsGiven,
    stop: &dyn Fn(Progress) -> bool,
) -> Result<(Sorted<'a>, Found, usize), Refusal> {
    let plain = lot::make(uncut)?;
    let sets_without = count(&plain.lot, stop);
    if sets_without == plain.lot.halves.len().min(plain.lot.rims.len()) / 2 {
        let found = search(&plain.lot, Effort::FULL, stop);
        return Ok((plain, found, sets_without));
    }
    let sorted = lot::make(given)?;
    let found = search(&sorted.lot, Effort::FULL, stop);
    Ok((sorted, found, sets_without))
}
