//! Which places of a contact press, and how hard.
//!
//! Searched: pressures `p ≥ 0` with gaps `S p − d ≥ 0`, one of each pair 0. Method: the set of pressing places is
//! guessed from the last round's signs (M. Hintermüller, K. Ito, K. Kunisch 2002: ends in a few rounds); should a
//! set come back, one place at a time changes, the lowest first (K. G. Murty 1974: ends for every positive definite matrix).
//!
//! Bonded places are held along the line too, while their neighbours settle; those that then part are let go for good and the
//! search begins again, so that it ends: a bond is never made anew.

use faer::linalg::solvers::Solve as _;
use faer::{Mat, Side};

/// Rounds before the search gives up.
const ROUNDS: usize = 400;
/// A pressure or gap counts as below 0 beyond this share of the largest: the rounding of a solve.
const ROUNDING: f64 = 1e-11;

/// A contact to be settled. Rows of `compliance` and `push` are the places that press, then, when the lines are bonded,
/// the same places along the line.
#[derive(Debug)]
pub struct Pressing<'a> {
    /// What unit forces at the places do to the gaps there; symmetric, positive definite.
    pub compliance: &'a Mat<f64>,
    /// How far the gaps would close if nothing pressed.
    pub push: &'a [f64],
    /// How many places there are.
    pub count: usize,
    /// The one rigid movement that is free: what it does to the gaps, and the force along it the places must carry.
    pub free: Option<(&'a [f64], f64)>,
}

/// The contact found no state that keeps all conditions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("no set of pressing places keeps all conditions after {0} rounds")]
pub struct NotSettled(pub usize);

/// Forces at the places, and how far the free movement went.
#[derive(Debug, Clone, PartialEq)]
pub struct Settled {
    /// One force for each row.
    pub forces: Vec<f64>,
    /// The way of the free movement.
    pub moved: f64,
    /// Which places press.
    pub pressing: Vec<bool>,
}

/// Settles a contact.
///
/// # Errors
/// No state was found; for places without bond and free movement this does not happen.
pub fn settle(given: &Pressing<'_>) -> Result<Settled, NotSettled> {
    let mut bonded = vec![true; given.push.len() - given.count];
    loop {
        let state = settle_bonded(given, &bonded)?;
        let parted: Vec<usize> = (0..bonded.len())
            .filter(|place| bonded[*place] && !state.pressing[*place])
            .collect();
        if parted.is_empty() {
            return Ok(state);
        }
        for place in parted {
            bonded[place] = false;
        }
    }
}

/// Settles with just these bonds.
fn settle_bonded(given: &Pressing<'_>, bonded: &[bool]) -> Result<Settled, NotSettled> {
    let mut pressing = vec![true; given.count];
    let mut seen: Vec<Vec<bool>> = Vec::new();
    let mut one_by_one = false;
    for _ in 0..ROUNDS {
        let state = solve(given, &pressing, bonded);
        let wrong = wrong(given, &state);
        if wrong.is_empty() {
            return Ok(state);
        }
        seen.push(pressing.clone());
        let changes = if one_by_one { &wrong[..1] } else { &wrong[..] };
        for place in changes {
            pressing[*place] = !pressing[*place];
        }
        one_by_one = one_by_one || seen.contains(&pressing);
    }
    Err(NotSettled(ROUNDS))
}

/// The places whose state breaks a condition.
fn wrong(given: &Pressing<'_>, state: &Settled) -> Vec<usize> {
    let rows = given.push.len();
    let mut gaps = vec![0.0; given.count];
    for (place, gap) in gaps.iter_mut().enumerate() {
        let carried: f64 = (0..rows)
            .map(|row| given.compliance[(place, row)] * state.forces[row])
            .sum();
        let free = given.free.map_or(0.0, |(c, _)| c[place] * state.moved);
        *gap = carried - given.push[place] - free;
    }
    let largest = |list: &[f64]| list.iter().fold(0.0_f64, |m, x| m.max(x.abs()));
    let least_force = -ROUNDING * largest(&state.forces);
    let least_gap = -ROUNDING * largest(given.push);
    (0..given.count)
        .filter(|place| {
            if state.pressing[*place] {
                state.forces[*place] < least_force
            } else {
                gaps[*place] < least_gap
            }
        })
        .collect()
}

/// The forces when just these places press and just these are bonded.
fn solve(given: &Pressing<'_>, pressing: &[bool], bonded: &[bool]) -> Settled {
    let rows = given.push.len();
    let used: Vec<usize> = (0..rows)
        .filter(|row| match row.checked_sub(given.count) {
            None => pressing[*row],
            Some(bond) => bonded[bond],
        })
        .collect();
    let n = used.len();
    let mut forces = vec![0.0; rows];
    let mut moved = 0.0;
    if n > 0 {
        let part = Mat::from_fn(n, n, |i, j| given.compliance[(used[i], used[j])]);
        let columns = 1 + usize::from(given.free.is_some());
        let mut right = Mat::from_fn(n, columns, |i, j| match (j, given.free) {
            (1, Some((c, _))) => c[used[i]],
            _ => given.push[used[i]],
        });
        // Positive definite but for rounding; pivoting does where two places all but share a node.
        match part.llt(Side::Lower) {
            Ok(factor) => factor.solve_in_place(right.as_mut()),
            Err(_) => part.partial_piv_lu().solve_in_place(right.as_mut()),
        }
        if let Some((c, force)) = given.free {
            let sum = |column: usize| (0..n).map(|i| c[used[i]] * right[(i, column)]).sum::<f64>();
            let (pushed, stiff) = (sum(0), sum(1));
            if stiff > 0.0 {
                moved = (force - pushed) / stiff;
            }
        }
        for (i, row) in used.iter().enumerate() {
            let extra = if columns > 1 {
                right[(i, 1)] * moved
            } else {
                0.0
            };
            forces[*row] = right[(i, 0)] + extra;
        }
    }
    Settled {
        forces,
        moved,
        pressing: pressing.to_vec(),
    }
}
