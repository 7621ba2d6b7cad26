//! From sets of numbers back to halves and rims: the answer with its recut plan.

use super::baseline::four_parts;
use super::body::{AskedLimit, LeftOver, Leftovers, PairBody, PairSet, RecutLine, RecutSum};
use super::distribution::distribution;
use super::dressed_answer::in_tray_order;
use super::given::PartsGiven;
use super::lot::Sorted;
use super::marry::Dressed;
use super::remarry::Duo;
use super::scores::scores;
use super::search::Found;
use super::usable::Usable;
use super::whole::value;
use super::words::{Telling, answer, baselines};
use crate::part::{Answer, Decimal};

/// Everything the answer is made of.
pub(super) struct Made<'a> {
    pub given: &'a PartsGiven,
    pub sorted: Sorted<'a>,
    pub found: Found,
    /// Sets without any cut, where cuts were allowed.
    pub sets_without: usize,
    pub leftovers: Leftovers,
}

impl Made<'_> {
    /// The answer in the order of the trays.
    pub(super) fn tell(mut self) -> Answer<PairBody> {
        self.put_in_order();
        let lot = &self.sorted.lot;
        let sets: Vec<PairSet> = self
            .found
            .sets
            .iter()
            .zip(1..)
            .map(|(set, n)| self.set(set, n))
            .collect();
        let left_over = self.left_over();
        let numerator: i128 = self
            .found
            .sets
            .iter()
            .map(|set| lot.cost_numerator(set[0].deviation, set[1].deviation))
            .sum();
        let total_cost = numerator as f64 / lot.cost_denominator() as f64;
        let sets_optimal = sets.len() >= self.found.sets_bound;
        let recut_sum = self.recut_sum();
        let cuts_optimal = recut_sum.is_none_or(|sum| sum.optimal);
        // The bound is below the cost by its rounding alone when the two agree to a millionth.
        let cost_proved = total_cost - self.found.cost_bound <= COST_ROUNDING;
        let body = PairBody {
            limits: self.asked(),
            set_count: sets.len(),
            possible_sets_upper_bound: self.found.sets_bound,
            sets_optimal,
            optimal: sets_optimal && cuts_optimal && cost_proved,
            total_cost,
            lower_bound: self.found.cost_bound.min(total_cost),
            proof: self.proof(sets_optimal, cuts_optimal, cost_proved),
            unpaired: left_over.iter().map(|part| part.id.clone()).collect(),
            left_over,
            recuts: self.recuts(),
            recut_sum,
            scores: scores(&sets, Some(self.given.mass_within_g.to_f64()), None),
            baselines: self.baselines(),
            leftovers: self.leftovers.clone(),
            distribution: distribution(self.given.halves.iter().chain(&self.given.rims)),
            sets,
        };
        answer(body, &self.telling())
    }

    /// The half that lies first is the left one; the sets follow their left halves.
    fn put_in_order(&mut self) {
        let row = |one: &Dressed| self.sorted.halves[one.half].row;
        for set in &mut self.found.sets {
            if row(&set[0]) > row(&set[1]) {
                set.swap(0, 1);
            }
        }
        self.found.sets.sort_by_key(|set| row(&set[0]));
    }

    fn half(&self, one: &Dressed) -> &Usable<'_> {
        &self.sorted.halves[one.half]
    }

    fn rim(&self, one: &Dressed) -> &Usable<'_> {
        &self.sorted.rims[one.rim]
    }

    fn set(&self, set: &Duo, number: u32) -> PairSet {
        let lot = &self.sorted.lot;
        let serial = |usable: &Usable<'_>| usable.part.serial.clone();
        let joined =
            |one: &Dressed| format!("{}+{}", serial(self.half(one)), serial(self.rim(one)));
        let mass = |one: &Dressed| value((one.deviation + lot.piece_mass) / 2, lot.places);
        let interference = |one: &Dressed| {
            lot.fit_window.map(|_| {
                value(
                    lot.halves[one.half].fit - lot.rims[one.rim].fit,
                    lot.fit_places,
                )
            })
        };
        let [left, right] = set;
        let cost = lot.cost_numerator(left.deviation, right.deviation) as f64
            / lot.cost_denominator() as f64;
        PairSet {
            number,
            left: joined(left),
            right: joined(right),
            left_half: Some(serial(self.half(left))),
            left_rim: Some(serial(self.rim(left))),
            right_half: Some(serial(self.half(right))),
            right_rim: Some(serial(self.rim(right))),
            cost,
            within_limits: lot.in_limits(left.deviation, right.deviation),
            left_mass_g: Some(mass(left)),
            right_mass_g: Some(mass(right)),
            mass_difference_g: Some(value(
                (left.deviation - right.deviation).abs() / 2,
                lot.places,
            )),
            unbalance_difference_g_mm: None,
            offset_difference_mm: None,
            piece_mass_g: Some(value(
                (left.deviation + right.deviation) / 2 + lot.piece_mass,
                lot.places,
            )),
            left_interference_mm: interference(left),
            right_interference_mm: interference(right),
            clock_mark: None,
            clocking: Vec::new(),
            places: vec![
                self.half(left).place(),
                self.rim(left).place(),
                self.half(right).place(),
                self.rim(right).place(),
            ],
        }
    }

    fn recuts(&self) -> Vec<RecutLine> {
        let lot = &self.sorted.lot;
        let Some(recut) = self.given.recut else {
            return Vec::new();
        };
        let step = recut.step_mm;
        let mut lines: Vec<RecutLine> = Vec::new();
        for (set, number) in self.found.sets.iter().zip(1..) {
            for one in set.iter().filter(|one| one.steps > 0) {
                let (before, off) = (lot.rims[one.rim].mass, i64::from(one.steps) * lot.step_mass);
                lines.push(RecutLine {
                    id: self.rim(one).part.serial.clone(),
                    half: self.half(one).part.serial.clone(),
                    face_mm: value(step.units * i64::from(one.steps), step.places),
                    mass_g: value(off, lot.places),
                    mass_before_g: value(before, lot.places),
                    mass_after_g: value(before - off, lot.places),
                    set: number,
                    place: self.rim(one).place(),
                });
            }
        }
        lines.sort_by_key(|line| line.place.row);
        lines
    }

    fn recut_sum(&self) -> Option<RecutSum> {
        let recut = self.given.recut?;
        let lot = &self.sorted.lot;
        let steps = || {
            self.found
                .sets
                .iter()
                .flatten()
                .map(|one| i64::from(one.steps))
        };
        let (total, largest) = (steps().sum::<i64>(), steps().max().unwrap_or(0));
        let grams = |steps: i64| value(steps * lot.step_mass, lot.places);
        Some(RecutSum {
            rims: steps().filter(|steps| *steps > 0).count(),
            mass_g: grams(total),
            largest_mass_g: grams(largest),
            largest_face_mm: value(recut.step_mm.units * largest, recut.step_mm.places),
            sets_without: self.sets_without,
            least_possible_mass_g: grams(self.found.steps_bound.min(total)),
            optimal: total <= self.found.steps_bound,
        })
    }

    fn left_over(&self) -> Vec<LeftOver> {
        let (lot, mut left) = (&self.sorted.lot, self.sorted.left_out.clone());
        let mut halves = vec![false; lot.halves.len()];
        let mut rims = vec![false; lot.rims.len()];
        for one in self.found.sets.iter().flatten() {
            halves[one.half] = true;
            rims[one.rim] = true;
        }
        let parts = self
            .sorted
            .halves
            .iter()
            .zip(&halves)
            .chain(self.sorted.rims.iter().zip(&rims));
        for (usable, _) in parts.filter(|(_, used)| !**used) {
            left.push(LeftOver {
                id: usable.part.serial.clone(),
                kind: usable.part.kind,
                why: "no set inside the limits is left for it".to_owned(),
                left_out: false,
            });
        }
        let serials = self.given.halves.iter().chain(&self.given.rims);
        in_tray_order(&mut left, serials.map(|part| part.serial.as_str()));
        left
    }

    fn asked(&self) -> Vec<AskedLimit> {
        let line = |what: &str, limit: String| AskedLimit {
            what: what.to_owned(),
            limit,
        };
        let given = self.given;
        let mut asked = vec![
            line("mass within", format!("{} g", given.mass_within_g)),
            line(
                "piece mass",
                format!("{} ± {} g", given.piece_mass_g, given.piece_within_g),
            ),
        ];
        if let Some(window) = given.fit_window {
            let text = format!("{} to {} mm", window.at_least_mm, window.at_most_mm);
            asked.push(line("interference", text));
        }
        asked
    }

    fn proof(&self, sets: bool, cuts: bool, cost: bool) -> String {
        let count = if sets {
            "the number of sets is proved: prices for dressed halves show that no choice brings more"
                .to_owned()
        } else {
            format!(
                "the number of sets is not proved: at most {} are possible",
                self.found.sets_bound
            )
        };
        let cuts = match (self.recut_sum(), cuts) {
            (None, _) => String::new(),
            (Some(_), true) => "; no lighter recut plan exists".to_owned(),
            (Some(sum), false) => format!(
                "; no plan for as many sets cuts less than {:.2} g, this one cuts {:.2} g",
                sum.least_possible_mass_g, sum.mass_g
            ),
        };
        let cost = if cost {
            "; the total cost is proved the least for these sets"
        } else {
            "; the total cost is not proved the least, its bound is printed"
        };
        format!("{count}{cuts}{cost}")
    }

    fn baselines(&self) -> super::body::Baselines {
        let by_row = |parts: &[Usable<'_>]| {
            let mut order: Vec<usize> = (0..parts.len()).collect();
            order.sort_by_key(|&at| parts[at].row);
            order
        };
        let (halves, rims) = (by_row(&self.sorted.halves), by_row(&self.sorted.rims));
        let simple = four_parts(&self.sorted.lot, &halves, &rims);
        baselines(
            simple.as_it_comes,
            simple.trays,
            Some(simple.half_and_rim_trays),
            simple.sheet,
            self.found.sets.len(),
        )
    }

    fn telling(&self) -> Telling {
        let lot = &self.sorted.lot;
        let (halves, rims) = (lot.halves.len(), lot.rims.len());
        let none_because = match (halves, rims) {
            (0, _) => Some("there are no halves that can be used".to_owned()),
            (1, _) => Some("there is only one half".to_owned()),
            (_, 0) => Some("there are no rims that can be used".to_owned()),
            (_, 1) => Some("there is only one rim".to_owned()),
            _ => None,
        };
        let parts = self.given.halves.iter().chain(&self.given.rims);
        let places = parts
            .filter_map(|part| part.mass_g)
            .map(|mass| mass.places)
            .max();
        Telling {
            possible: halves.min(rims) / 2,
            none_because,
            of: "halves and rims",
            mass_limit: Some(self.given.mass_within_g),
            scale_step: self
                .given
                .scale_step_g
                .or(places.map(|places| Decimal { units: 1, places })),
            step_told: self.given.scale_step_g.is_some(),
            stopped: self.found.stopped,
            from_faces: true,
        }
    }
}

/// Costs steered by are whole millionths, rounded down: a lot of 500,000 sets stays below this.
const COST_ROUNDING: f64 = 1e-9;
