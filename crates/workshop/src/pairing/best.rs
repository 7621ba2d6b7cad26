//! The best sets so far, and the ways to better them: couples, exchanges, re-marrying.

use super::anneal::{Weights, anneal};
use super::couple::{Couples, couple, couple_quickly};
use super::effort::Effort;
use super::given::Progress;
use super::lot::{Lot, MILLION};
use super::marry::{Dressed, Wedding};
use super::remarry::{Duo, cost_of, improve};

/// Sets, then steps, then cost: smaller is better.
fn order(lot: &Lot, sets: &[Duo]) -> (i64, i128) {
    (
        -(sets.len() as i64),
        sets.iter().map(|set| i128::from(cost_of(lot, set))).sum(),
    )
}

/// Couples a wedding's dressed halves.
fn sets_of(lot: &Lot, dressed: &[Dressed], couples: Couples) -> Vec<Duo> {
    let mut sets: Vec<Duo> = couples
        .into_iter()
        .map(|(a, b)| [dressed[a], dressed[b]])
        .collect();
    for set in &mut sets {
        trim(lot, set);
    }
    sets
}

/// Takes back steps of cutting that a set does not need.
fn trim(lot: &Lot, set: &mut Duo) {
    if set[0].steps + set[1].steps == 0 {
        return;
    }
    let uncut = set.map(|one| one.deviation + 2 * i64::from(one.steps) * lot.step_mass);
    if let Some((k, l)) = lot.least_cut((uncut[0], lot.most_steps), (uncut[1], lot.most_steps)) {
        let (old, new) = (cost_of(lot, set), [(k, 0), (l, 1)]);
        let mut better = *set;
        for (steps, side) in new {
            better[side].steps = steps;
            better[side].deviation = uncut[side] - 2 * i64::from(steps) * lot.step_mass;
        }
        if cost_of(lot, &better) < old {
            *set = better;
        }
    }
}

/// One search with its best sets so far.
pub(super) struct Search<'a> {
    pub lot: &'a Lot,
    pub best: Vec<Duo>,
    pub stop: &'a dyn Fn(Progress) -> bool,
    pub stopped: bool,
}

impl Search<'_> {
    pub(super) fn told_to_stop(&mut self, share: f64, doing: &'static str) -> bool {
        if !self.stopped {
            self.stopped = (self.stop)(Progress {
                share,
                doing,
                sets: self.best.len(),
            });
        }
        self.stopped
    }

    pub(super) fn try_wedding(&mut self, wedding: &Wedding) {
        let couples = couple_quickly(self.lot, &wedding.dressed);
        let sets = sets_of(self.lot, &wedding.dressed, couples);
        if order(self.lot, &sets) < order(self.lot, &self.best) {
            self.best = sets;
        }
    }

    /// The same with every couple looked at.
    pub(super) fn try_exactly(&mut self, wedding: &Wedding) {
        let couples = couple(self.lot, &wedding.dressed);
        let sets = sets_of(self.lot, &wedding.dressed, couples);
        self.keep_better(sets);
    }

    fn keep_better(&mut self, sets: Vec<Duo>) {
        if order(self.lot, &sets) < order(self.lot, &self.best) {
            self.best = sets;
        }
    }

    /// Exchanges parts until as many sets as the bound allows are inside, or patience ends.
    pub(super) fn repair(&mut self, sets_bound: usize, effort: Effort) {
        let weights = Weights {
            outside: 4 * MILLION,
            step: 0,
            cut: 0,
            cost_per_mille: 0,
            // Hotter than this and a repair spends its moves on spoiling the sets it starts from.
            hottest: 3 * MILLION / 10,
            coldest: MILLION / 100,
        };
        for seed in 1..=effort.repairs {
            if self.told_to_stop(0.4, "exchanging parts for the last sets") {
                return;
            }
            let moves = effort.repair_moves_a_part * self.lot.halves.len();
            let sets = anneal(
                self.lot,
                &self.best,
                sets_bound,
                weights,
                moves,
                true,
                seed as u64,
            );
            self.keep_better(sets);
            if self.best.len() >= sets_bound {
                return;
            }
        }
    }

    /// Exchanges parts between the sets found for fewer steps and less cost.
    pub(super) fn exchange_for_quality(&mut self, effort: Effort) {
        let weights = Weights {
            outside: 1000 * MILLION,
            step: MILLION,
            cut: MILLION / 50,
            cost_per_mille: if self.lot.step_mass > 0 { 10 } else { 1000 },
            hottest: MILLION,
            coldest: MILLION / 1000,
        };
        if self.told_to_stop(0.6, "exchanging parts between the sets") {
            return;
        }
        let (moves, count) = (effort.moves_a_part * self.lot.halves.len(), self.best.len());
        let sets = anneal(self.lot, &self.best, count, weights, moves, false, 7);
        self.keep_better(sets);
    }

    /// Re-marries and re-couples the best sets until nothing improves.
    pub(super) fn polish(&mut self, most_rounds: usize) {
        for _ in 0..most_rounds {
            if self.told_to_stop(0.9, "re-marrying with the couples fixed") {
                return;
            }
            let mut sets = self.best.clone();
            let mut changed = improve(self.lot, &mut sets);
            let dressed: Vec<Dressed> = sets.iter().flatten().copied().collect();
            let again = sets_of(self.lot, &dressed, couple(self.lot, &dressed));
            if order(self.lot, &again) < order(self.lot, &sets) {
                sets = again;
                changed = true;
            }
            if order(self.lot, &sets) < order(self.lot, &self.best) {
                self.best = sets;
            }
            if !changed {
                return;
            }
        }
    }
}
