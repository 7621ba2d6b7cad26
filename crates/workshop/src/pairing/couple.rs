//! Coupling dressed halves two and two: most sets first, then least cost; exact.

use std::collections::{BTreeMap, BTreeSet};

use whirlwright_kit::matching::{Edge, match_sparse};

use super::lot::{Lot, MILLION};
use super::marry::Dressed;

/// Pairs of places in the list of dressed halves.
pub(super) type Couples = Vec<(usize, usize)>;

/// Most sets, then least cost, from dressed halves whose deviations are settled.
pub(super) fn couple(lot: &Lot, dressed: &[Dressed]) -> Couples {
    if lot.equal_limits() && lot.not_paired.is_empty() {
        by_size(lot, dressed)
    } else {
        by_matching(lot, dressed)
    }
}

/// Equal limits: a set is two sizes with a sum inside the limit. The largest with the smallest, as
/// boats for two are filled, gives the most sets; the same number from the smallest sizes alone is
/// always possible too and costs least, because the cost is a sum over the two.
fn by_size(lot: &Lot, dressed: &[Dressed]) -> Couples {
    let mut groups: BTreeMap<u32, Vec<usize>> = BTreeMap::new();
    for (place, one) in dressed.iter().enumerate() {
        groups
            .entry(lot.halves[one.half].colour)
            .or_default()
            .push(place);
    }
    let mut couples = Vec::new();
    for mut group in groups.into_values() {
        group.sort_by_key(|&place| (dressed[place].deviation.abs(), dressed[place].half));
        let size = |at: usize| dressed[group[at]].deviation.abs();
        let (mut low, mut high, mut sets) = (0, group.len(), 0);
        while low + 1 < high {
            if size(low) + size(high - 1) <= lot.mass_limit {
                low += 1;
                sets += 1;
            }
            high -= 1;
        }
        couples.extend((0..sets).map(|at| (group[at], group[2 * sets - 1 - at])));
    }
    couples
}

/// Any limits and any forbids: a general matching over every pair that keeps them.
fn by_matching(lot: &Lot, dressed: &[Dressed]) -> Couples {
    let mut edges = Vec::new();
    for a in 0..dressed.len() {
        edges.extend((a + 1..dressed.len()).filter_map(|b| edge(lot, dressed, a, b)));
    }
    most_sets(dressed.len(), &edges)
}

/// The same over some partners of each only: quick, and as a rule a set or two short.
pub(super) fn couple_quickly(lot: &Lot, dressed: &[Dressed]) -> Couples {
    /// Partners looked at around the dearest wish, and spread over all that keep the limits.
    const AROUND: usize = 6;
    if lot.equal_limits() && lot.not_paired.is_empty() {
        return by_size(lot, dressed);
    }
    let mut order: Vec<usize> = (0..dressed.len()).collect();
    order.sort_by_key(|&at| (dressed[at].deviation, dressed[at].half));
    let deviation = |at: usize| dressed[order[at]].deviation;
    let mut pairs = BTreeSet::new();
    for &a in &order {
        let one = dressed[a].deviation;
        let least = (one - lot.mass_limit).max(-one - lot.piece_limit);
        let most = (one + lot.mass_limit).min(lot.piece_limit - one);
        let first = order.partition_point(|&at| dressed[at].deviation < least);
        let end = order.partition_point(|&at| dressed[at].deviation <= most);
        // Where the cost is least: both squares in balance.
        let (mass, piece) = (1.0 / lot.mass_limit as f64, 1.0 / lot.piece_limit as f64);
        let balance = (mass * mass - piece * piece) / (mass * mass + piece * piece);
        let wish = (one as f64 * balance) as i64;
        let middle = (first..end)
            .collect::<Vec<_>>()
            .partition_point(|&at| deviation(at) < wish);
        let near =
            (first + middle).saturating_sub(AROUND).max(first)..(first + middle + AROUND).min(end);
        let stride = (end.saturating_sub(first) / AROUND).max(1);
        for at in near.chain((first..end).step_by(stride)) {
            let b = order[at];
            if a != b {
                pairs.insert((a.min(b), a.max(b)));
            }
        }
    }
    let edges: Vec<Edge> = pairs
        .iter()
        .filter_map(|&(a, b)| edge(lot, dressed, a, b))
        .collect();
    most_sets(dressed.len(), &edges)
}

fn edge(lot: &Lot, dressed: &[Dressed], a: usize, b: usize) -> Option<Edge> {
    let (one, two) = (&dressed[a], &dressed[b]);
    let may = lot.in_limits(one.deviation, two.deviation) && lot.may_pair(one.half, two.half);
    let cost = lot.cost_millionths(one.deviation, two.deviation);
    may.then_some(Edge {
        a: a as u32,
        b: b as u32,
        cost,
    })
}

fn most_sets(count: usize, edges: &[Edge]) -> Couples {
    // One more set is worth more than all cost there can be: at most 2 a set.
    let alone = (count as i64 + 1) * 2 * MILLION;
    pairs_of(&match_sparse(count, edges, alone).mate)
}

/// With equal limits any couples inside them cost the same in all: of those, the ones whose sides
/// differ least, because a difference is felt and the piece's own mass is not.
pub(super) fn even_masses(lot: &Lot, sets: Vec<[Dressed; 2]>) -> Vec<[Dressed; 2]> {
    /// Neighbours by deviation that are looked at on either side.
    const NEIGHBOURS: usize = 16;
    if !lot.equal_limits() {
        return sets;
    }
    let dressed: Vec<Dressed> = sets.iter().flatten().copied().collect();
    let mut order: Vec<usize> = (0..dressed.len()).collect();
    order.sort_by_key(|&at| (dressed[at].deviation, dressed[at].half));
    let mut pairs: BTreeSet<(usize, usize)> =
        (0..sets.len()).map(|set| (2 * set, 2 * set + 1)).collect();
    for (at, &a) in order.iter().enumerate() {
        for &b in order[at + 1..].iter().take(NEIGHBOURS) {
            let (one, two) = (&dressed[a], &dressed[b]);
            if lot.in_limits(one.deviation, two.deviation) && lot.may_pair(one.half, two.half) {
                pairs.insert((a.min(b), a.max(b)));
            }
        }
    }
    let edge = |&(a, b): &(usize, usize)| {
        let share = (dressed[a].deviation - dressed[b].deviation) as f64 / lot.mass_limit as f64;
        let cost = (share * share * MILLION as f64).round() as i64;
        Edge {
            a: a as u32,
            b: b as u32,
            cost,
        }
    };
    let edges: Vec<Edge> = pairs.iter().map(edge).collect();
    let alone = (sets.len() as i64 + 1) * MILLION;
    let couples = pairs_of(&match_sparse(dressed.len(), &edges, alone).mate);
    if couples.len() < sets.len() {
        return sets;
    }
    couples
        .into_iter()
        .map(|(a, b)| [dressed[a], dressed[b]])
        .collect()
}

/// Every couple once, the smaller place first.
pub(super) fn pairs_of(mate: &[Option<u32>]) -> Couples {
    let pair =
        |(a, mate): (usize, &Option<u32>)| mate.map(|b| (a, b as usize)).filter(|(a, b)| a < b);
    mate.iter().enumerate().filter_map(pair).collect()
}

/// Steps before cuts before cost, as one whole number: a step outweighs a thousand times the cost
/// of any set, a cut the cost of any set.
pub(super) fn rank(one: u32, two: u32, cost: i64) -> i64 {
    let cuts = i64::from(one > 0) + i64::from(two > 0);
    i64::from(one + two) * STEP + cuts * CUT + cost
}

/// Weight of one step of cutting; a lot of 10,000 sets with 2 of cost each stays below it.
pub(super) const STEP: i64 = 100_000 * MILLION;
/// Weight of one rim to be clamped; some fifty of them stay below one step.
pub(super) const CUT: i64 = 1_000 * MILLION;
