//! Parts that are alike in every number count as one kind: few kinds make the marriage fast.

use super::lot::{Lot, Piece};

/// Parts of one kind, by their numbers in the lot, ascending.
#[derive(Debug, Clone)]
pub(super) struct Kinds {
    pub halves: Vec<(Piece, Vec<usize>)>,
    pub rims: Vec<(Piece, Vec<usize>)>,
}

fn gather(pieces: &[Piece]) -> Vec<(Piece, Vec<usize>)> {
    let mut order: Vec<usize> = (0..pieces.len()).collect();
    order.sort_by_key(|&at| (pieces[at], at));
    let mut kinds: Vec<(Piece, Vec<usize>)> = Vec::new();
    for at in order {
        match kinds.last_mut() {
            Some((piece, members)) if *piece == pieces[at] => members.push(at),
            _ => kinds.push((pieces[at], vec![at])),
        }
    }
    kinds
}

impl Kinds {
    pub(super) fn of(lot: &Lot) -> Self {
        Self {
            halves: gather(&lot.halves),
            rims: gather(&lot.rims),
        }
    }

    pub(super) fn supply(&self) -> Vec<u32> {
        self.halves
            .iter()
            .map(|(_, members)| members.len() as u32)
            .collect()
    }

    pub(super) fn room(&self) -> Vec<u32> {
        self.rims
            .iter()
            .map(|(_, members)| members.len() as u32)
            .collect()
    }
}
