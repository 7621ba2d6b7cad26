//! The whole search: prices steer, couples are made exactly, re-marrying polishes, bounds prove.

use super::best::Search;
use super::couple::even_masses;
use super::effort::{EASY, Effort};
use super::given::Progress;
use super::lot::Lot;
use super::marry::{Prices, Ways, Worth};
use super::prices::{Aim, Steering};
use super::remarry::Duo;
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
