//! The whole search: prices steer, couples are made exactly, re-marrying polishes, bounds prove.

use super::anneal::{Weights, anneal};
use super::couple::{Couples, couple, couple_quickly, even_masses};
use super::given::Progress;
use super::lot::{Lot, MILLION};
use super::marry::{Dressed, Prices, Ways, Wedding, Worth};
use super::prices::{Aim, Steering};
use super::remarry::{Duo, cost_of, improve};

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
    /// Exchanges tried for every half.
    pub moves_a_part: usize,
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
        repairs: 3,
        remarriages: 5,
    };
    /// Where only the number of sets matters.
    pub(super) const COUNT: Self = Self {
        count_rounds: 60,
        polish_rounds: 0,
        moves_a_part: 1000,
        repairs: 2,
        remarriages: 0,
    };
}

impl Effort {
    /// Fewer marriages where each is dear: a table of half with rim kinds above this size.
    fn for_table(self, cells: usize) -> Self {
        /// The demo lot with a fit window, where every part is a kind of its own, has 240,000.
        const EASY: usize = 60_000;
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
struct Search<'a> {
    lot: &'a Lot,
    best: Vec<Duo>,
    stop: &'a dyn Fn(Progress) -> bool,
    stopped: bool,
}

impl Search<'_> {
    fn told_to_stop(&mut self, share: f64, doing: &'static str) -> bool {
        if !self.stopped {
            self.stopped = (self.stop)(Progress {
                share,
                doing,
                sets: self.best.len(),
            });
        }
        self.stopped
    }

    fn try_wedding(&mut self, wedding: &Wedding) {
        let couples = couple_quickly(self.lot, &wedding.dressed);
        let sets = sets_of(self.lot, &wedding.dressed, couples);
        if order(self.lot, &sets) < order(self.lot, &self.best) {
            self.best = sets;
        }
    }

    /// The same with every couple looked at.
    fn try_exactly(&mut self, wedding: &Wedding) {
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
            hottest: MILLION,
            coldest: MILLION / 100,
        };
        for seed in 1..=effort.repairs {
            if self.told_to_stop(0.4, "exchanging parts for the last sets") {
                return;
            }
            let moves = effort.moves_a_part * self.lot.halves.len();
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

/// The same, starting from sets that are known already.
pub(super) fn search_from(
    lot: &Lot,
    start: Vec<Duo>,
    effort: Effort,
    stop: &dyn Fn(Progress) -> bool,
) -> Found {
    let ways = Ways::of(lot);
    let effort = effort.for_table(ways.cells());
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
        if lot.step_mass > 0 {
            found.steps_bound = fewer_steps(&mut search, &ways, &meetings, &weddings, effort);
        }
        search.exchange_for_quality(effort);
        let bound = less_cost(&mut search, &ways, &meetings, &weddings, effort);
        found.cost_bound = up_to_grain(lot, ways.classes.cost_grain(lot), bound);
    }

    if effort.polish_rounds > 0 {
        search.polish(effort.remarriages);
    }
    found.stopped = search.stopped;
    found.sets = even_masses(lot, search.best);
    found
}

/// A cost is a whole number of grains: a bound between two of them may be raised to the upper.
fn up_to_grain(lot: &Lot, grain: i128, bound: f64) -> f64 {
    if grain == 0 {
        return bound;
    }
    let each = grain as f64 / lot.cost_denominator() as f64;
    // A billionth of a grain keeps a bound that is whole already from being raised by its rounding.
    (bound / each - 1e-9).ceil().max(0.0) * each
}

type Meetings = [super::classes::Meeting];

/// Steers towards fewer steps for the number of sets found; returns the bound on the steps.
fn fewer_steps(
    search: &mut Search<'_>,
    ways: &Ways,
    meetings: &Meetings,
    weddings: &[Wedding],
    effort: Effort,
) -> i64 {
    let sets = search.best.len();
    // A set is worth more steps than two rims can lose: the last sets are the dear ones.
    let set_worth = 20.0 * f64::from(search.lot.most_steps);
    let aim = Aim {
        set_worth,
        cost_weight: 0.0,
        step_weight: 1.0,
        sets: Some(sets),
        steps: None,
    };
    let mut steering = Steering::new(ways, meetings, aim);
    weddings.iter().for_each(|wedding| steering.add(wedding));
    for round in 0..effort.polish_rounds {
        let (wedding, settled) = steering.step();
        search.try_wedding(&wedding);
        let share = 0.4 + 0.25 * round as f64 / effort.polish_rounds as f64;
        if settled || search.told_to_stop(share, "making the cuts small") {
            break;
        }
    }
    let bound = set_worth * sets as f64 - steering.best_bound();
    (bound - 1e-3).ceil().max(0.0) as i64
}

/// Steers towards least cost for the number of sets found; returns the bound on the cost.
fn less_cost(
    search: &mut Search<'_>,
    ways: &Ways,
    meetings: &Meetings,
    weddings: &[Wedding],
    effort: Effort,
) -> f64 {
    /// Every so many marriages are coupled over every pair, where that is dear.
    const EXACT_EVERY: usize = 10;
    let sets = search.best.len();
    let steps: i64 = search
        .best
        .iter()
        .flatten()
        .map(|one| i64::from(one.steps))
        .sum();
    let set_worth = 100.0;
    let limit = (search.lot.step_mass > 0).then_some(steps);
    let aim = Aim {
        set_worth,
        cost_weight: 1.0,
        step_weight: 0.0,
        sets: Some(sets),
        steps: limit,
    };
    let mut steering = Steering::new(ways, meetings, aim);
    weddings.iter().for_each(|wedding| steering.add(wedding));
    for round in 0..effort.polish_rounds {
        let (wedding, settled) = steering.step();
        if settled || round % EXACT_EVERY == EXACT_EVERY - 1 || round + 1 == effort.polish_rounds {
            search.try_exactly(&wedding);
        } else {
            search.try_wedding(&wedding);
        }
        let share = 0.65 + 0.25 * round as f64 / effort.polish_rounds as f64;
        if settled || search.told_to_stop(share, "making the sets alike") {
            break;
        }
    }
    (set_worth * sets as f64 - steering.best_bound()).max(0.0)
}
