//! Marrying rims to halves at given prices: an exact transport problem over kinds.

use std::collections::BTreeSet;

use whirlwright_kit::transport::{FORBIDDEN, Plan, ship};

use super::classes::Classes;
use super::kinds::Kinds;
use super::lot::{Lot, Piece};

/// One way to dress a half: how many steps come off the rim, and where the deviation then lies.
#[derive(Debug, Clone, Copy)]
struct Way {
    class: u32,
    steps: u32,
    deviation: i64,
}

/// Every way to dress every kind of half with every kind of rim.
#[derive(Debug)]
pub(super) struct Ways {
    kinds: Kinds,
    pub classes: Classes,
    ways: Vec<Way>,
    /// Where the ways of a cell begin in `ways`; one entry more than there are cells.
    begins: Vec<usize>,
    reach: i64,
}

/// A half with its rim.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Dressed {
    pub half: usize,
    pub rim: usize,
    pub steps: u32,
    pub deviation: i64,
}

/// Whole numbers a unit of price is made of.
pub(super) const FINE: i64 = 1 << 32;

/// Prices by which a marriage is steered, in `1/FINE`.
#[derive(Debug, Clone)]
pub(super) struct Prices {
    /// What a dressed half of each class is worth.
    pub class: Vec<i64>,
    /// What one step of cutting costs.
    pub step: i64,
}

/// Best marriage at given prices.
#[derive(Debug, Clone)]
pub(super) struct Wedding {
    pub dressed: Vec<Dressed>,
    /// Dressed halves in each class.
    pub counts: Vec<u32>,
    pub steps: i64,
    /// No marriage earns more than this at the prices, in `1/FINE`.
    pub bound: i128,
    /// What one more half of each kind would earn.
    pub half_worth: Vec<i64>,
}

/// A nudge in `1/FINE` towards small deviations among equals; 480 of them stay below 1e-4.
const NUDGE: i64 = 256;

impl Ways {
    pub(super) fn of(lot: &Lot) -> Self {
        let kinds = Kinds::of(lot);
        let reach = lot.reach();
        let (mut cells, mut deviations) = (Vec::new(), BTreeSet::new());
        for (half, half_members) in &kinds.halves {
            for (rim, rim_members) in &kinds.rims {
                let mut cell = Vec::new();
                if lot.may_marry(half_members[0], rim_members[0]) {
                    for steps in 0..=lot.most_steps {
                        let deviation = lot.deviation(half, rim, steps);
                        if deviation < -reach {
                            break;
                        }
                        if deviation <= reach {
                            deviations.insert(deviation);
                            cell.push((steps, deviation, half.colour));
                        }
                    }
                }
                cells.push(cell);
            }
        }
        let classes = Classes::of(lot, &deviations);
        let (mut ways, mut begins) = (Vec::new(), vec![0]);
        for cell in cells {
            for (steps, deviation, colour) in cell {
                let class = classes.class(deviation, colour) as u32;
                ways.push(Way {
                    class,
                    steps,
                    deviation,
                });
            }
            begins.push(ways.len());
        }
        Self {
            kinds,
            classes,
            ways,
            begins,
            reach,
        }
    }

    /// Size of the table of half kinds by rim kinds.
    pub(super) fn cells(&self) -> usize {
        self.begins.len() - 1
    }

    fn best_way(&self, cell: usize, prices: &Prices) -> Option<(i64, Way)> {
        let mut best: Option<(i64, Way)> = None;
        for way in &self.ways[self.begins[cell]..self.begins[cell + 1]] {
            let nudge = NUDGE - way.deviation.abs() * (NUDGE - 1) / self.reach.max(1);
            let gain =
                prices.class[way.class as usize] - prices.step * i64::from(way.steps) + nudge;
            if best.is_none_or(|(most, _)| gain > most) {
                best = Some((gain, *way));
            }
        }
        best
    }

    /// The marriage that earns most at these prices.
    pub(super) fn wed(&self, prices: &Prices) -> Wedding {
        let cells = self.cells();
        let best: Vec<Option<(i64, Way)>> =
            (0..cells).map(|cell| self.best_way(cell, prices)).collect();
        let gains: Vec<i64> = best
            .iter()
            .map(|best| best.map_or(FORBIDDEN, |(gain, _)| gain))
            .collect();
        let plan = ship(&self.kinds.supply(), &self.kinds.room(), &gains);
        self.hand_out(&plan, &best)
    }

    /// Names the halves and rims that the plan speaks of by kind.
    fn hand_out(&self, plan: &Plan, best: &[Option<(i64, Way)>]) -> Wedding {
        let columns = self.kinds.rims.len();
        let mut given = vec![0usize; columns];
        let mut wedding = Wedding {
            dressed: Vec::new(),
            counts: vec![0; self.classes.count()],
            steps: 0,
            bound: plan.bound,
            half_worth: plan.row_worth.clone(),
        };
        for (row, (_, halves)) in self.kinds.halves.iter().enumerate() {
            let mut next = 0;
            for (column, (_, rims)) in self.kinds.rims.iter().enumerate() {
                let cell = row * columns + column;
                let Some((_, way)) = best[cell] else { continue };
                for _ in 0..plan.sent[cell] {
                    wedding.dressed.push(Dressed {
                        half: halves[next],
                        rim: rims[given[column]],
                        steps: way.steps,
                        deviation: way.deviation,
                    });
                    wedding.counts[way.class as usize] += 1;
                    wedding.steps += i64::from(way.steps);
                    next += 1;
                    given[column] += 1;
                }
            }
        }
        wedding
    }

    /// What one more rim would be worth at these prices.
    pub(super) fn worth(&self, prices: Prices, half_worth: Vec<i64>) -> Worth {
        let halves = self
            .kinds
            .halves
            .iter()
            .map(|(piece, _)| *piece)
            .zip(half_worth)
            .collect();
        Worth {
            classes: self.classes.clone(),
            prices,
            halves,
        }
    }
}

/// Prices that proved the bound, ready to be asked what a rim would be worth.
#[derive(Debug, Clone)]
pub(super) struct Worth {
    classes: Classes,
    prices: Prices,
    halves: Vec<(Piece, i64)>,
}

impl Worth {
    /// Worth of one more rim of this mass in `1/FINE` sets, fit and colour taken to agree.
    pub(super) fn rim(&self, lot: &Lot, mass: i64) -> i64 {
        let reach = lot.reach();
        let mut best = 0;
        for (half, worth) in &self.halves {
            let deviation = 2 * (half.mass + mass) - lot.piece_mass;
            if deviation.abs() <= reach && self.classes.count() > 0 {
                let price = self.prices.class[self.classes.class(deviation, half.colour)];
                best = best.max(price - worth);
            }
        }
        best
    }
}
