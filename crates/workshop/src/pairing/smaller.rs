//! Steering towards fewer steps of cutting and less cost, once the number of sets is settled.

use super::best::Search;
use super::classes::Meeting;
use super::effort::Effort;
use super::lot::Lot;
use super::marry::{Ways, Wedding};
use super::prices::{Aim, Steering};

/// A cost is a whole number of grains: a bound between two of them may be raised to the upper.
pub(super) fn up_to_grain(lot: &Lot, grain: i128, bound: f64) -> f64 {
    if grain == 0 {
        return bound;
    }
    let each = grain as f64 / lot.cost_denominator() as f64;
    // A billionth of a grain keeps a bound that is whole already from being raised by its rounding.
    (bound / each - 1e-9).ceil().max(0.0) * each
}

/// What steers towards less cutting and less cost.
pub(super) struct Table<'a> {
    pub ways: &'a Ways,
    pub meetings: &'a [Meeting],
    /// Marriages that are known already.
    pub weddings: &'a [Wedding],
    /// Most marriages.
    pub rounds: usize,
    /// The marriages are marriages of the lot itself, not of an easier one that only proves bounds.
    pub real: bool,
}

impl<'a> Table<'a> {
    fn steering(&self, aim: Aim) -> Steering<'a> {
        let mut steering = Steering::new(self.ways, self.meetings, aim);
        self.weddings
            .iter()
            .for_each(|wedding| steering.add(wedding));
        steering
    }
}

/// The same lot with no fit asked for. Whatever the lot can do this one can too, so its bounds hold
/// for both; and its parts fall into few kinds, which makes its marriages quick.
pub(super) struct Eased {
    ways: Ways,
    meetings: Vec<Meeting>,
}

impl Eased {
    pub(super) fn of(lot: &Lot) -> Self {
        let mut eased = lot.clone();
        eased.fit_window = None;
        for piece in eased.halves.iter_mut().chain(&mut eased.rims) {
            piece.fit = 0;
        }
        let ways = Ways::of(&eased);
        Self {
            meetings: ways.classes.meetings(&eased),
            ways,
        }
    }

    pub(super) fn table(&self, effort: Effort) -> Table<'_> {
        Table {
            ways: &self.ways,
            meetings: &self.meetings,
            weddings: &[],
            rounds: effort.for_table(self.ways.cells()).polish_rounds,
            real: false,
        }
    }
}

/// Steers towards fewer steps for the number of sets found; returns the bound on the steps.
pub(super) fn fewer_steps(search: &mut Search<'_>, table: &Table<'_>) -> i64 {
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
    let mut steering = table.steering(aim);
    for round in 0..table.rounds {
        let (wedding, settled) = steering.step();
        if table.real {
            search.try_wedding(&wedding);
        }
        let share = 0.4 + 0.25 * round as f64 / table.rounds as f64;
        if settled || search.told_to_stop(share, "making the cuts small") {
            break;
        }
    }
    let bound = set_worth * sets as f64 - steering.best_bound();
    (bound - 1e-3).ceil().max(0.0) as i64
}

/// Steers towards least cost for the number of sets found; returns the bound on the cost.
pub(super) fn less_cost(search: &mut Search<'_>, table: &Table<'_>) -> f64 {
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
    let mut steering = table.steering(aim);
    for round in 0..table.rounds {
        let (wedding, settled) = steering.step();
        let exactly =
            settled || round % EXACT_EVERY == EXACT_EVERY - 1 || round + 1 == table.rounds;
        match (table.real, exactly) {
            (true, true) => search.try_exactly(&wedding),
            (true, false) => search.try_wedding(&wedding),
            // The rims of an easier lot's marriage need not fit.
            (false, _) => {}
        }
        let share = 0.65 + 0.25 * round as f64 / table.rounds as f64;
        if settled || search.told_to_stop(share, "making the sets alike") {
            break;
        }
    }
    (set_worth * sets as f64 - steering.best_bound()).max(0.0)
}
