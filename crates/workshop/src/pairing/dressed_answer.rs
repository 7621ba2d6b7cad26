//! From pairs of numbers back to parts: the answer about dressed halves or any one kind.

use super::baseline::two_parts;
use super::body::{AskedLimit, LeftOver, Leftovers, PairBody, PairSet};
use super::clocking::{Arrow, best_mark, free};
use super::distribution::distribution;
use super::dressed::Pairs;
use super::given::{DressedGiven, Joint};
use super::needs::Needs;
use super::scores::scores;
use super::usable::Usable;
use super::whole::value;
use super::words::{Telling, answer, baselines};
use crate::part::{Answer, Decimal, Kind};

/// Everything the answer is made of.
pub(super) struct Made<'a> {
    pub given: &'a DressedGiven,
    pub parts: Vec<Usable<'a>>,
    pub left_out: Vec<LeftOver>,
    pub needs: Needs,
    pub pairs: Pairs,
}

/// Doubtful parts that are named one by one.
const NAMED: usize = 8;

impl Made<'_> {
    /// The answer in the order of the trays.
    pub(super) fn tell(self) -> Answer<PairBody> {
        let sets = self.sets();
        let left_over = self.left_over();
        let total: i128 = self.pairs.costs.iter().map(|cost| i128::from(*cost)).sum();
        let denominator = self.pairs.denominator as f64;
        let limits = self.given.limits;
        let inside = sets.iter().filter(|set| set.within_limits).count();
        let body = PairBody {
            limits: self.asked(),
            set_count: sets.len(),
            possible_sets_upper_bound: self.pairs.sets_bound,
            sets_optimal: sets.len() >= self.pairs.sets_bound,
            optimal: self.pairs.optimal,
            total_cost: total as f64 / denominator,
            lower_bound: self.pairs.cost_bound as f64 / denominator,
            proof: self.pairs.proof.clone(),
            unpaired: left_over.iter().map(|part| part.id.clone()).collect(),
            left_over,
            recuts: Vec::new(),
            recut_sum: None,
            scores: scores(
                &sets,
                limits.mass_within_g.map(Decimal::to_f64),
                limits.unbalance_within_g_mm.map(Decimal::to_f64),
            ),
            baselines: self.baselines(inside),
            leftovers: Leftovers::default(),
            distribution: distribution(self.given.parts.iter()),
            sets,
        };
        let mut answer = answer(body, &self.telling());
        answer.next.splice(0..0, self.weigh_again());
        answer
    }

    /// Parts that are paired although a reading is in doubt.
    fn weigh_again(&self) -> Option<String> {
        let in_doubt = |usable: &&Usable<'_>| !usable.part.doubts.is_empty();
        let doubtful: Vec<&str> = self
            .parts
            .iter()
            .filter(in_doubt)
            .map(|usable| usable.part.serial.as_str())
            .collect();
        let (named, more) = doubtful.split_at(doubtful.len().min(NAMED));
        let more = match more.len() {
            0 => String::new(),
            count => format!(" and {count} more"),
        };
        (!doubtful.is_empty()).then(|| {
            format!(
                "Weigh these again before they are put together, they lie far from their kin: {}{more}.",
                named.join(", ")
            )
        })
    }

    fn telling(&self) -> Telling {
        let count = self.parts.len();
        let seen = self.parts.iter().filter_map(|usable| usable.part.mass_g);
        let digit = seen
            .map(|mass| mass.places)
            .max()
            .map(|places| Decimal { units: 1, places });
        let none_because = match count {
            0 => Some("there are no parts that can be paired".to_owned()),
            1 => Some("there is only one part".to_owned()),
            _ => None,
        };
        let dressed = self
            .parts
            .iter()
            .all(|usable| usable.part.kind == Kind::Dressed);
        Telling {
            possible: count / 2,
            none_because,
            of: if dressed { "dressed halves" } else { "parts" },
            mass_limit: self.given.limits.mass_within_g,
            scale_step: self.given.scale_step_g.or(digit),
            step_told: self.given.scale_step_g.is_some(),
            stopped: false,
            from_faces: false,
        }
    }

    fn asked(&self) -> Vec<AskedLimit> {
        let line = |need: &super::needs::Need| AskedLimit {
            what: format!("{} within", need.name),
            limit: format!("{} {}", need.limit_text, need.unit),
        };
        self.needs.needs.iter().map(line).collect()
    }

    fn sets(&self) -> Vec<PairSet> {
        let pairs = self.pairs.couples.iter().zip(&self.pairs.costs);
        let mut sets: Vec<(u32, PairSet)> = pairs
            .map(|(&(a, b), &cost)| {
                let (a, b) = if self.parts[a].row < self.parts[b].row {
                    (a, b)
                } else {
                    (b, a)
                };
                (self.parts[a].row, self.set(a, b, cost))
            })
            .collect();
        sets.sort_by_key(|(row, _)| *row);
        let number = |((_, mut set), number): ((u32, PairSet), u32)| {
            set.number = number;
            set
        };
        sets.into_iter().zip(1..).map(number).collect()
    }

    fn set(&self, a: usize, b: usize, cost: i64) -> PairSet {
        let (left, right) = (self.parts[a], self.parts[b]);
        let difference = |name: &str| {
            let need = self.needs.needs.iter().find(|need| need.name == name)?;
            Some(value(
                (need.readings[a] - need.readings[b]).abs(),
                need.places,
            ))
        };
        let mass = |usable: Usable<'_>| usable.part.mass_g.map(Decimal::to_f64);
        let mut set = PairSet {
            number: 0,
            left: left.part.serial.clone(),
            right: right.part.serial.clone(),
            left_half: None,
            left_rim: None,
            right_half: None,
            right_rim: None,
            cost: cost as f64 / self.pairs.denominator as f64,
            within_limits: self.needs.within(a, b),
            left_mass_g: mass(left),
            right_mass_g: mass(right),
            mass_difference_g: exact_difference(left.part.mass_g, right.part.mass_g),
            unbalance_difference_g_mm: difference("unbalance"),
            offset_difference_mm: difference("offset"),
            piece_mass_g: None,
            left_interference_mm: None,
            right_interference_mm: None,
            clock_mark: None,
            clocking: Vec::new(),
            places: vec![left.place(), right.place()],
        };
        self.clock(&mut set, left, right, a, b);
        set
    }

    /// What the joint's angle does to this set.
    fn clock(&self, set: &mut PairSet, left: Usable<'_>, right: Usable<'_>, a: usize, b: usize) {
        let size = |usable: Usable<'_>| usable.part.unbalance_g_mm.map(Decimal::to_f64);
        let (Some(left_size), Some(right_size)) = (size(left), size(right)) else {
            return;
        };
        match self.given.joint {
            Joint::Unknown => {}
            Joint::Free => set.clocking = free(left_size, right_size),
            Joint::Keyed { marks } => {
                let angle = |usable: Usable<'_>| {
                    usable.part.unbalance_angle_deg.map_or(0.0, Decimal::to_f64)
                };
                let (mark, option) = best_mark(
                    Arrow::new(left_size, angle(left)),
                    Arrow::new(right_size, angle(right)),
                    marks,
                );
                // The static unbalance that is left counts here, not the difference of the sizes.
                set.within_limits = self.needs.needs.iter().all(|need| {
                    if need.name == "unbalance" {
                        option.static_unbalance_g_mm <= value(need.limit, need.places)
                    } else {
                        (need.readings[a] - need.readings[b]).abs() <= need.limit
                    }
                });
                set.clock_mark = Some(mark);
                set.clocking = vec![option];
            }
        }
    }

    fn left_over(&self) -> Vec<LeftOver> {
        let mut paired = vec![false; self.parts.len()];
        for &(a, b) in &self.pairs.couples {
            paired[a] = true;
            paired[b] = true;
        }
        let mut left: Vec<LeftOver> = self.left_out.clone();
        for (usable, _) in self
            .parts
            .iter()
            .zip(&paired)
            .filter(|(_, paired)| !**paired)
        {
            let why = if self.given.all {
                "alone: an odd number, or nobody it may meet is left"
            } else {
                "no partner inside the limits is left"
            };
            left.push(LeftOver {
                id: usable.part.serial.clone(),
                kind: usable.part.kind,
                why: why.to_owned(),
                left_out: false,
            });
        }
        in_tray_order(
            &mut left,
            self.given.parts.iter().map(|part| part.serial.as_str()),
        );
        left
    }

    fn baselines(&self, inside: usize) -> super::body::Baselines {
        let mut order: Vec<usize> = (0..self.parts.len()).collect();
        order.sort_by_key(|&at| self.parts[at].row);
        let may_meet = |a: usize, b: usize| {
            !self.given.colour_must_agree || self.parts[a].part.colour == self.parts[b].part.colour
        };
        let (as_it_comes, trays, sheet) = two_parts(&self.needs, &order, &may_meet);
        baselines(as_it_comes, trays, None, sheet, inside)
    }
}

/// Difference of two readings without the rounding of two floats.
fn exact_difference(a: Option<Decimal>, b: Option<Decimal>) -> Option<f64> {
    let (a, b) = (a?, b?);
    let places = a.places.max(b.places);
    let difference = a.units_at(places)?.checked_sub(b.units_at(places)?)?;
    Some(value(difference.abs(), places))
}

/// Sorts left-over parts as they lie in the file.
pub(super) fn in_tray_order<'a>(left: &mut [LeftOver], serials: impl Iterator<Item = &'a str>) {
    let rows: std::collections::BTreeMap<&str, usize> = serials.zip(0..).collect();
    left.sort_by_key(|part| rows.get(part.id.as_str()).copied());
}
