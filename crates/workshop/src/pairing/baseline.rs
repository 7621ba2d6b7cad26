//! What simpler ways bring on the same lot: as it comes, in trays, and by a spreadsheet.

use std::collections::{BTreeMap, VecDeque};

use super::lot::{Lot, Piece};
use super::needs::Needs;

/// What the simple ways bring with halves and rims.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct FourParts {
    pub as_it_comes: usize,
    pub trays: usize,
    pub half_and_rim_trays: usize,
    pub sheet: usize,
}

/// Deviations of halves and rims married in the order given.
fn married(lot: &Lot, halves: &[usize], rims: &[usize]) -> Vec<(usize, i64)> {
    halves
        .iter()
        .zip(rims)
        .filter(|&(&half, &rim)| lot.may_marry(half, rim))
        .map(|(&half, &rim)| (half, lot.deviation(&lot.halves[half], &lot.rims[rim], 0)))
        .collect()
}

/// Sets when every two neighbours are put together.
fn neighbours(lot: &Lot, dressed: &[(usize, i64)]) -> usize {
    dressed
        .chunks_exact(2)
        .filter(|two| lot.in_limits(two[0].1, two[1].1) && lot.may_pair(two[0].0, two[1].0))
        .count()
}

/// Reckons all simple ways; the orders are the parts in tray order.
pub(super) fn four_parts(lot: &Lot, halves: &[usize], rims: &[usize]) -> FourParts {
    let dressed = married(lot, halves, rims);
    FourParts {
        as_it_comes: neighbours(lot, &dressed),
        trays: in_trays(lot, &dressed),
        half_and_rim_trays: by_table(lot, halves, rims),
        sheet: by_sheet(lot, halves, rims),
    }
}

/// Dressed halves, married as they come, sorted into trays one mass limit wide (counted from the
/// wanted mass) and taken from each tray two and two as they lie.
fn in_trays(lot: &Lot, dressed: &[(usize, i64)]) -> usize {
    let mut trays: BTreeMap<i64, Vec<(usize, i64)>> = Default::default();
    for &one in dressed {
        trays
            .entry(one.1.div_euclid(lot.mass_limit))
            .or_default()
            .push(one);
    }
    trays.values().map(|tray| neighbours(lot, tray)).sum()
}

/// Half trays and rim trays one mass limit wide; a table says which rim tray goes with which half
/// tray so that the middles add up to the wanted mass. Parts of trays whose partner tray is empty
/// are left; the dressed halves are put together as they come.
fn by_table(lot: &Lot, halves: &[usize], rims: &[usize]) -> usize {
    let width = lot.mass_limit / 2;
    let mean = |pieces: &[Piece], order: &[usize]| {
        let sum: i64 = order.iter().map(|&at| pieces[at].mass).sum();
        let middle = sum / order.len().max(1) as i64;
        middle / lot.digit * lot.digit
    };
    // The middle half tray is centred on the mean half; its rim tray makes it a wanted dressed half.
    let half_middle = mean(&lot.halves, halves);
    let rim_middle = lot.piece_mass / 2 - half_middle;
    let tray = |mass: i64, middle: i64| (mass - middle + width / 2).div_euclid(width.max(1));
    let mut rim_trays: BTreeMap<i64, VecDeque<usize>> = Default::default();
    for &rim in rims {
        rim_trays
            .entry(tray(lot.rims[rim].mass, rim_middle))
            .or_default()
            .push_back(rim);
    }
    let (mut taken_halves, mut taken_rims) = (Vec::new(), Vec::new());
    for &half in halves {
        let wanted = -tray(lot.halves[half].mass, half_middle);
        if let Some(rim) = rim_trays.get_mut(&wanted).and_then(|tray| tray.pop_front()) {
            taken_halves.push(half);
            taken_rims.push(rim);
        }
    }
    neighbours(lot, &married(lot, &taken_halves, &taken_rims))
}

/// The spreadsheet trick: halves sorted up, rims sorted down, row by row, neighbouring rows together.
fn by_sheet(lot: &Lot, halves: &[usize], rims: &[usize]) -> usize {
    let (mut up, mut down) = (halves.to_vec(), rims.to_vec());
    up.sort_by_key(|&at| lot.halves[at].mass);
    down.sort_by_key(|&at| std::cmp::Reverse(lot.rims[at].mass));
    // Rims too many: the extremes go, as many at either end.
    let spare = down.len().saturating_sub(up.len());
    down.drain(..spare / 2);
    neighbours(lot, &married(lot, &up, &down))
}

/// Sets by simple ways from parts that are measured as they are.
pub(super) fn two_parts(
    needs: &Needs,
    order: &[usize],
    may_meet: &dyn Fn(usize, usize) -> bool,
) -> (usize, usize, usize) {
    let good = |two: &[usize]| needs.within(two[0], two[1]) && may_meet(two[0], two[1]);
    let count = |order: &[usize]| order.chunks_exact(2).filter(|two| good(two)).count();
    let Some(first) = needs.needs.first() else {
        return (0, 0, 0);
    };
    let mut trays: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
    for &part in order {
        trays
            .entry(first.readings[part].div_euclid(first.limit))
            .or_default()
            .push(part);
    }
    let mut sorted = order.to_vec();
    sorted.sort_by_key(|&part| first.readings[part]);
    (
        count(order),
        trays.values().map(|tray| count(tray)).sum(),
        count(&sorted),
    )
}
