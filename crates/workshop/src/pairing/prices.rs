//! Prices for dressed halves: they steer the marriage, and they prove a bound.
//!
//! Let every class of dressed half have a price such that two classes that can make a set cost
//! together at least what a set is worth. Then no marriage brings sets worth more than its dressed
//! halves cost, and no marriage whatever brings more than the dearest one, which the transport
//! problem finds exactly. The least such bound is a linear program: mixtures of marriages whose
//! dressed halves are paired off class by class. It is solved by making one marriage after the
//! other (column generation); **any** prices prove a bound, so floating point only guides.

use whirlwright_kit::linear_program::Program;

use super::classes::Meeting;
use super::marry::{FINE, Prices, Ways, Wedding};

/// What the steering aims at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Aim {
    /// What a set is worth, in the unit of the costs.
    pub set_worth: f64,
    /// What a set's own cost (1.0 = one limit used up) weighs.
    pub cost_weight: f64,
    /// What one step of cutting weighs.
    pub step_weight: f64,
    /// Exactly so many sets are asked for; none: as many as there can be.
    pub sets: Option<usize>,
    /// At most so many steps in all.
    pub steps: Option<i64>,
}

/// A running column generation.
#[derive(Debug)]
pub(super) struct Steering<'a> {
    ways: &'a Ways,
    meetings: &'a [Meeting],
    aim: Aim,
    program: Program,
    /// Best bound so far on `worth of the sets − costs − cuts`, in `1/FINE`.
    bound: Option<i128>,
    center: Option<Whole>,
    /// The prices of the best bound, and what a half is worth at them.
    pub best: Option<(Prices, Vec<i64>)>,
}

/// Prices in whole `1/FINE`, proved to cover every meeting.
#[derive(Debug, Clone)]
struct Whole {
    class: Vec<f64>,
    set: f64,
    step: f64,
}

impl<'a> Steering<'a> {
    pub(super) fn new(ways: &'a Ways, meetings: &'a [Meeting], aim: Aim) -> Self {
        let classes = ways.classes.count();
        let mut limits = vec![0.0; classes];
        limits.push(1.0);
        // An unasked limit is a wide one: no lot has a million sets (or that many steps).
        limits.push(aim.sets.map_or(1e6, |sets| sets as f64));
        limits.push(aim.steps.map_or(1e6, |steps| steps as f64));
        let mut program = Program::new(&limits);
        for meeting in meetings {
            let cost = aim.cost_weight * meeting.least_cost as f64 / super::lot::MILLION as f64;
            let mut column = vec![(classes + 1, 1.0)];
            if meeting.a == meeting.b {
                column.push((meeting.a, 2.0));
            } else {
                column.extend([(meeting.a, 1.0), (meeting.b, 1.0)]);
            }
            program.add(aim.set_worth - cost, column);
        }
        Self {
            ways,
            meetings,
            aim,
            program,
            bound: None,
            center: None,
            best: None,
        }
    }

    /// Makes a marriage known to the program.
    pub(super) fn add(&mut self, wedding: &Wedding) {
        let classes = self.ways.classes.count();
        let mut column: Vec<(usize, f64)> = wedding
            .counts
            .iter()
            .enumerate()
            .filter(|(_, count)| **count > 0)
            .map(|(class, count)| (class, -f64::from(*count)))
            .collect();
        column.push((classes, 1.0));
        column.push((classes + 2, wedding.steps as f64));
        self.program
            .add(-self.aim.step_weight * wedding.steps as f64, column);
    }

    /// One marriage at the present prices; `true` when prices and marriages agree.
    pub(super) fn step(&mut self) -> (Wedding, bool) {
        let pivots = 400;
        self.program.solve(pivots);
        let prices = self.guide();
        let (whole, set, step) = self.cover(&prices);
        let wedding = self.ways.wed(&whole);
        let bound = wedding.bound
            + i128::from(set) * self.aim.sets.unwrap_or(0) as i128
            + i128::from(step) * i128::from(self.aim.steps.unwrap_or(0));
        if self.bound.is_none_or(|least| bound < least) {
            self.bound = Some(bound);
            self.center = Some(prices);
            self.best = Some((whole, wedding.half_worth.clone()));
        }
        self.add(&wedding);
        let gap = self.best_bound() - self.program.value();
        // Program values are lifted by some 1e-5 of a set; below that, nothing is left to learn.
        (wedding, gap < 1e-4 * self.aim.set_worth.max(1.0))
    }

    /// Prices from the program, held near the best ones so far so that they do not swing.
    fn guide(&self) -> Whole {
        let classes = self.ways.classes.count();
        let raw = self.program.prices();
        let fresh = Whole {
            class: raw[..classes].to_vec(),
            set: raw[classes + 1],
            step: raw[classes + 2],
        };
        let Some(center) = &self.center else {
            return self.even();
        };
        let mix = |old: f64, new: f64| 0.5 * old + 0.5 * new;
        Whole {
            class: center
                .class
                .iter()
                .zip(&fresh.class)
                .map(|(o, n)| mix(*o, *n))
                .collect(),
            set: mix(center.set, fresh.set),
            step: mix(center.step, fresh.step),
        }
    }

    /// Every dressed half is worth half a set: the most dressed halves, and the simple bound.
    fn even(&self) -> Whole {
        Whole {
            class: vec![self.aim.set_worth / 2.0; self.ways.classes.count()],
            set: 0.0,
            step: 0.0,
        }
    }

    /// Whole prices, raised where rounding left a meeting uncovered.
    fn cover(&self, prices: &Whole) -> (Prices, i64, i64) {
        let fine = |value: f64| (value * FINE as f64).ceil() as i64;
        let mut class: Vec<i64> = prices.class.iter().map(|&price| fine(price)).collect();
        let set = if self.aim.sets.is_some() {
            fine(prices.set)
        } else {
            0
        };
        let step = if self.aim.steps.is_some() {
            fine(prices.step)
        } else {
            0
        };
        for meeting in self.meetings {
            let cost =
                self.aim.cost_weight * meeting.least_cost as f64 / super::lot::MILLION as f64;
            let worth = fine(self.aim.set_worth - cost);
            let short = worth - set - class[meeting.a] - class[meeting.b];
            if short > 0 {
                let more = (short + 1) / 2;
                class[meeting.a] += more;
                class[meeting.b] += more;
            }
        }
        (
            Prices {
                class,
                step: step + fine(self.aim.step_weight),
            },
            set,
            step,
        )
    }

    /// The bound cannot fall below this: mixtures of the marriages so far are worth as much.
    pub(super) fn mixed_value(&self) -> f64 {
        self.program.value()
    }

    /// No marriage is worth more than this: sets' worth less costs and cuts.
    pub(super) fn best_bound(&self) -> f64 {
        self.bound
            .map_or(f64::INFINITY, |bound| bound as f64 / FINE as f64)
    }
}
