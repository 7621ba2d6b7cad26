//! The whole search: prices steer, couples are made exactly, re-marrying polishes, bounds prove.

use super::anneal::{Weights, anneal};
use super::couple::{Couples, couple, couple_quickly, even_masses};
use super::given::Progress;
use super::lot::{Lot, MILLION};
use super::marry::{Dressed, Prices, Ways, Wedding, Worth};
use super::prices::{Aim, Steering};
use super::remarry::{Duo, cost_of, improve};
use super::smaller::{Eased, Table, fewer_steps, less_cost, up_to_grain};

/// What was found, and what is proved about it.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub sets: Vec<Duo>,
    /// No choice brings more sets.
    pub sets_bound: usize,
    /// No choice of as many sets takes off fewer steps.
    pub steps_bound: i64,
    /// No choice of as many sets costs less (in limits used up, squared).
    pub cost_bound: f64,
    /// What more rims would be worth.
    pub worth: Worth,
    /// The caller asked to stop before the search was through.
    pub stopped: bool,
}

/// How long to search.
#[derive(Debug, Clone, Copy)]
pub(super) struct Effort {
    /// Most marriages while counting sets.
    pub count_rounds: usize,
    /// Most marriages while making cuts or costs small.
    pub polish_rounds: usize,
    /// Exchanges tried for every half while making cuts and costs small.
    pub moves_a_part: usize,
    /// Exchanges tried for every half in one repair.
    pub repair_moves_a_part: usize,
    /// How often a repair is tried anew.
    pub repairs: usize,
    /// Most rounds of re-marrying with the couples fixed.
    pub remarriages: usize,
}

impl Effort {
    /// For the answer itself.
    pub(super) const FULL: Self = Self {
        count_rounds: 120,
        polish_rounds: 60,
        moves_a_part: 2000,
        repair_moves_a_part: 4000,
        repairs: 3,
        remarriages: 5,
    };
    /// Where only the number of sets matters.
    pub(super) const COUNT: Self = Self {
        count_rounds: 60,
        polish_rounds: 0,
        moves_a_part: 1000,
        repair_moves_a_part: 2000,
        repairs: 2,
        remarriages: 0,
    };
}

/// A table of half with rim kinds above this size makes each marriage dear: the demo lot with a fit
/// window, where every part is a kind of its own, has 240,000.
const EASY: usize = 60_000;

impl Effort {
    /// The same count of sets, taken as it comes.
    fn without_polish(self) -> Self {
        Self {
            polish_rounds: 0,
            remarriages: 0,
            ..self
        }
    }

    /// Fewer marriages where each is dear.
    pub(super) fn for_table(self, cells: usize) -> Self {
        let share = (cells / EASY).max(1);
        Self {
            count_rounds: (self.count_rounds / share).max(20),
            polish_rounds: (self.polish_rounds / share).max(self.polish_rounds.min(10)),
            ..self
        }
    }
}

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
    stop: &'a dyn Fn(Progress) -> bool,
    stopped: bool,
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
    fn repair(&mut self, sets_bound: usize, effort: Effort) {
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
    fn exchange_for_quality(&mut self, effort: Effort) {
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
    fn polish(&mut self, most_rounds: usize) {
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

/// Finds the sets of a lot.
pub(super) fn search(lot: &Lot, effort: Effort, stop: &dyn Fn(Progress) -> bool) -> Found {
    search_from(lot, Vec::new(), effort, stop)
}

/// How many sets [`Effort::FULL`] finds, without the work that cannot change their number.
pub(super) fn count(lot: &Lot, stop: &dyn Fn(Progress) -> bool) -> usize {
    let counted = search(lot, Effort::FULL.without_polish(), stop);
    if counted.sets.len() >= counted.sets_bound || counted.stopped {
        return counted.sets.len();
    }
    // Polishing looks at more marriages and may yet bring a set.
    search(lot, Effort::FULL, stop).sets.len()
}

/// Finds the sets, starting from sets that are known already.
pub(super) fn search_from(
    lot: &Lot,
    start: Vec<Duo>,
    effort: Effort,
    stop: &dyn Fn(Progress) -> bool,
) -> Found {
    let ways = Ways::of(lot);
    let (asked, effort) = (effort, effort.for_table(ways.cells()));
    let meetings = ways.classes.meetings(lot);
    let mut search = Search {
        lot,
        best: start,
        stop,
        stopped: false,
    };
    let mut weddings = Vec::new();
    let aim = Aim {
        set_worth: 1.0,
        cost_weight: 0.0,
        step_weight: 0.0,
        sets: None,
        steps: None,
    };
    let mut counting = Steering::new(&ways, &meetings, aim);
    let mut sets_bound = lot.halves.len().min(lot.rims.len()) / 2;
    for round in 0..effort.count_rounds {
        let (wedding, settled) = counting.step();
        sets_bound = sets_bound.min(counting.best_bound().floor() as usize);
        search.try_wedding(&wedding);
        weddings.push(wedding);
        let share = 0.4 * round as f64 / effort.count_rounds as f64;
        // The bound counts whole sets: once mixtures are worth as many, it falls no more.
        let settled = settled || counting.mixed_value() >= sets_bound as f64 + WHOLE;
        if settled || search.best.len() >= sets_bound || search.told_to_stop(share, "counting sets")
        {
            break;
        }
    }
    if search.best.len() < sets_bound && !search.stopped {
        search.repair(sets_bound, effort);
    }
    let (prices, half_worth) = counting.best.take().unwrap_or_else(|| {
        (
            Prices {
                class: vec![0; ways.classes.count()],
                step: 0,
            },
            Vec::new(),
        )
    });
    let worth = ways.worth(prices, half_worth);
    let mut found = Found {
        sets: Vec::new(),
        sets_bound,
        steps_bound: 0,
        cost_bound: 0.0,
        worth,
        stopped: false,
    };
    if effort.polish_rounds > 0 && !search.best.is_empty() && !search.stopped {
        let eased = (lot.step_mass > 0 && ways.cells() > EASY).then(|| Eased::of(lot));
        let table = match &eased {
            Some(eased) => eased.table(asked),
            None => Table {
                ways: &ways,
                meetings: &meetings,
                weddings: &weddings,
                rounds: effort.polish_rounds,
                real: true,
            },
        };
        if lot.step_mass > 0 {
            found.steps_bound = fewer_steps(&mut search, &table);
        }
        search.exchange_for_quality(effort);
        let bound = less_cost(&mut search, &table);
        found.cost_bound = up_to_grain(lot, ways.classes.cost_grain(lot), bound);
    }

    if effort.polish_rounds > 0 {
        search.polish(effort.remarriages);
    }
    found.stopped = search.stopped;
    found.sets = even_masses(lot, search.best);
    found
}

/// Program values are lifted by some 1e-5 of a set: what is above a whole number by this is above it.
const WHOLE: f64 = 1e-3;
