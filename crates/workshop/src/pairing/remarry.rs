//! Re-marrying with the couples fixed: one side stands, the other side's rims (or halves) are dealt
//! anew, exactly; left and right in turn until nothing improves.

use whirlwright_kit::transport::{FORBIDDEN, ship};

use super::couple::rank;
use super::lot::Lot;
use super::marry::Dressed;

/// A set of two dressed halves.
pub(super) type Duo = [Dressed; 2];

/// Improves the sets without losing one; returns whether anything changed.
pub(super) fn improve(lot: &Lot, sets: &mut [Duo]) -> bool {
    let mut changed = false;
    for side in [0, 1] {
        changed |= deal(lot, sets, side, What::Rims);
        changed |= deal(lot, sets, side, What::Halves);
    }
    changed
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum What {
    Rims,
    Halves,
}

/// Deals all free rims (or halves) to one side of every set.
fn deal(lot: &Lot, sets: &mut [Duo], side: usize, what: What) -> bool {
    let total = if what == What::Rims {
        lot.rims.len()
    } else {
        lot.halves.len()
    };
    let mut free = vec![true; total];
    for set in sets.iter() {
        let stands = set[1 - side];
        free[if what == What::Rims {
            stands.rim
        } else {
            stands.half
        }] = false;
    }
    let candidates: Vec<usize> = (0..total).filter(|&part| free[part]).collect();
    let mut gains = vec![FORBIDDEN; sets.len() * candidates.len()];
    let mut ways: Vec<Option<Dressed>> = vec![None; gains.len()];
    for (row, set) in sets.iter().enumerate() {
        for (column, &part) in candidates.iter().enumerate() {
            let (half, rim) = match what {
                What::Rims => (set[side].half, part),
                What::Halves => (part, set[side].rim),
            };
            if let Some((cost, dressed)) = best_way(lot, &set[1 - side], half, rim) {
                let cell = row * candidates.len() + column;
                gains[cell] = KEEP - cost;
                ways[cell] = Some(dressed);
            }
        }
    }
    let plan = ship(&vec![1; sets.len()], &vec![1; candidates.len()], &gains);
    let before: i128 = sets
        .iter()
        .map(|set| i128::from(KEEP - cost_of(lot, set)))
        .sum();
    if plan.gain <= before {
        return false;
    }
    for (row, set) in sets.iter_mut().enumerate() {
        let cells = row * candidates.len()..(row + 1) * candidates.len();
        if let Some(cell) = cells.into_iter().find(|&cell| plan.sent[cell] > 0)
            && let Some(dressed) = ways[cell]
        {
            set[side] = dressed;
        }
    }
    true
}

/// Worth of keeping a set: above every cost, so that no set is given up, and low enough that a
/// thousand sets stay inside the transport problem's numbers.
const KEEP: i64 = 1 << 50;

/// Cost of a set, cuts before quality.
pub(super) fn cost_of(lot: &Lot, set: &Duo) -> i64 {
    let cost = lot.cost_millionths(set[0].deviation, set[1].deviation);
    rank(set[0].steps, set[1].steps, cost).min(KEEP - 1)
}

/// Least cost of a set in which `other` stands and this half gets this rim.
fn best_way(lot: &Lot, other: &Dressed, half: usize, rim: usize) -> Option<(i64, Dressed)> {
    if !lot.may_marry(half, rim) || !lot.may_pair(half, other.half) {
        return None;
    }
    let uncut = lot.deviation(&lot.halves[half], &lot.rims[rim], 0);
    let mut best: Option<(i64, Dressed)> = None;
    // Cutting only makes lighter: the first steps that can reach the limits are reckoned directly.
    let highest = (other.deviation + lot.mass_limit).min(lot.piece_limit - other.deviation);
    let first = match (uncut - highest, lot.step_mass) {
        (over, _) if over <= 0 => 0,
        (_, 0) => return None,
        (over, step) => (over + 2 * step - 1) / (2 * step),
    };
    for steps in first..=i64::from(lot.most_steps).min(first + 1) {
        let deviation = uncut - 2 * steps * lot.step_mass;
        if !lot.in_limits(deviation, other.deviation) {
            continue;
        }
        let steps = steps as u32;
        let dressed = Dressed {
            half,
            rim,
            steps,
            deviation,
        };
        let cost = cost_of(lot, &[*other, dressed]);
        if best.is_none_or(|(least, _)| cost < least) {
            best = Some((cost, dressed));
        }
    }
    best
}
