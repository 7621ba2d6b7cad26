//! Pairing parts that are measured as they are: exact, with a certificate where one can be had.

use std::collections::BTreeSet;

use whirlwright_kit::matching::{
    Certified, Edge, MOST_COST, Matching, Points, match_points, match_sparse, verify_sparse,
};

use super::clocking::{Arrow, best_mark};
use super::couple::pairs_of;
use super::given::{DressedGiven, Joint};
use super::needs::Needs;
use super::usable::{Usable, colour_numbers};

/// Pairs, and what is proved about them; costs over `denominator`.
#[derive(Debug, Clone)]
pub(super) struct Pairs {
    pub couples: Vec<(usize, usize)>,
    pub costs: Vec<i64>,
    pub denominator: i64,
    /// No choice of as many pairs costs less.
    pub cost_bound: i128,
    pub sets_bound: usize,
    /// Most pairs, and of least cost, proved.
    pub optimal: bool,
    /// How, or why not.
    pub proof: String,
}

/// Largest complete graph that is listed edge by edge.
const MOST_LISTED: usize = 1_500;

/// Neighbours on either side, by mass or size, in lots too large to list.
const NEIGHBOURS: usize = 24;

/// What decides who may meet whom, and at what cost.
struct Question<'a> {
    needs: &'a Needs,
    all: bool,
    groups: Vec<u32>,
    forbidden: BTreeSet<(usize, usize)>,
    marks: Option<(u32, Vec<Arrow>)>,
}

/// Denominator of costs that hold a square root (keyed joint): whole millionths.
const MILLION: i64 = super::lot::MILLION;

/// Pairs the parts.
pub(super) fn pair(given: &DressedGiven, parts: &[Usable<'_>], needs: &Needs) -> Pairs {
    let question = question(given, parts, needs);
    let count = parts.len();
    if let Some((marks, _)) = question.marks {
        return keyed(&question, count, marks);
    }
    let certified = by_points(&question, count, question.all);
    let free = settle(&question, count, &certified.0, certified.1, certified.2);
    if !free
        .couples
        .iter()
        .any(|&(a, b)| question.forbidden.contains(&(a, b)))
    {
        return free;
    }
    listed(&question, count, &free)
}

fn question<'a>(given: &DressedGiven, parts: &[Usable<'_>], needs: &'a Needs) -> Question<'a> {
    let groups = if given.colour_must_agree {
        colour_numbers(parts.iter().map(|usable| usable.part.colour.as_deref()))
    } else {
        vec![0; parts.len()]
    };
    let find = |serial: &str| {
        parts
            .binary_search_by(|usable| usable.part.serial.as_str().cmp(serial))
            .ok()
    };
    let pair = |(a, b): &(String, String)| Some((find(a)?, find(b)?));
    let forbidden = given
        .forbidden
        .iter()
        .filter_map(pair)
        .map(|(a, b)| (a.min(b), a.max(b)))
        .collect();
    let marks = match given.joint {
        Joint::Keyed { marks } => {
            let arrow = |usable: &Usable<'_>| {
                let size = usable.part.unbalance_g_mm.map_or(0.0, |size| size.to_f64());
                let angle = usable
                    .part
                    .unbalance_angle_deg
                    .map_or(0.0, |angle| angle.to_f64());
                Arrow::new(size, angle)
            };
            Some((marks, parts.iter().map(arrow).collect()))
        }
        Joint::Unknown | Joint::Free => None,
    };
    Question {
        needs,
        all: given.all,
        groups,
        forbidden,
        marks,
    }
}

/// Solves without explicit forbids, on the complete graph: matching, alone cost, proved.
fn by_points(question: &Question<'_>, count: usize, all: bool) -> (Matching, i64, bool) {
    let needs = question.needs;
    let mut coords = vec![[0i64; 4]; count];
    let (mut weights, mut limits) = ([0i64; 4], [None; 4]);
    for (axis, (need, weight)) in needs.needs.iter().zip(&needs.weights).enumerate() {
        weights[axis] = *weight;
        limits[axis] = Some(need.limit);
        for (place, reading) in coords.iter_mut().zip(&need.readings) {
            place[axis] = *reading;
        }
    }
    let grouped = question
        .groups
        .iter()
        .any(|group| *group != question.groups[0]);
    let points = Points {
        coords: &coords,
        weights,
        limits: (!all).then_some(limits),
        groups: grouped.then_some(question.groups.as_slice()),
    };
    let alone = alone_cost(question, count, all);
    let Certified {
        matching, optimal, ..
    } = match_points(&points, alone);
    // An alone cost held to the solver's range would no longer put the number of pairs first.
    (matching, alone, optimal && alone <= MOST_COST)
}

/// A part alone costs so much that one more pair is always worth it: two of them cost more than
/// all pairs of some choice with the most pairs.
fn alone_cost(question: &Question<'_>, count: usize, all: bool) -> i64 {
    let needs = question.needs;
    if !all {
        // Inside the limits every need costs at most the denominator.
        let dearest = needs.denominator.saturating_mul(needs.needs.len() as i64);
        return dearest.saturating_mul(count as i64 / 4 + 1);
    }
    // Neighbours by the first need, within each group, are a choice with the most pairs.
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by_key(|&at| (question.groups[at], needs.needs[0].readings[at], at));
    let (mut total, mut at) = (0i64, 0);
    while at + 1 < count {
        if question.groups[order[at]] == question.groups[order[at + 1]] {
            total = total.saturating_add(needs.cost(order[at], order[at + 1]));
            at += 1;
        }
        at += 1;
    }
    (total / 2).saturating_add(1)
}

/// Reads pairs and bounds off a matching.
fn settle(
    question: &Question<'_>,
    count: usize,
    matching: &Matching,
    alone: i64,
    proved: bool,
) -> Pairs {
    let needs = question.needs;
    let couples = pairs_of(&matching.mate);
    let lonely = count - 2 * couples.len();
    let dual =
        matching.dual_bound_times_2.div_euclid(2) + matching.dual_bound_times_2.rem_euclid(2);
    let costs: Vec<i64> = couples.iter().map(|&(a, b)| needs.cost(a, b)).collect();
    let (sets_bound, cost_bound) = if proved {
        (
            couples.len(),
            (dual - lonely as i128 * i128::from(alone)).max(0),
        )
    } else {
        (count / 2, 0)
    };
    let exact = needs.rounding == 0.0;
    let proof = match (proved, exact) {
        (true, true) => {
            "proved on every pair there is: whole-number prices show that no other choice is better"
                .to_owned()
        }
        (true, false) => format!(
            "proved for weights rounded by at most {:.1e} of their size; the bound on the cost allows for it",
            needs.rounding
        ),
        (false, _) => "not proved: only near neighbours were looked at".to_owned(),
    };
    Pairs {
        couples,
        costs,
        denominator: needs.denominator,
        cost_bound: (cost_bound as f64 / (1.0 + needs.rounding)).floor() as i128
            * i128::from(!exact)
            + cost_bound * i128::from(exact),
        sets_bound,
        optimal: proved && exact,
        proof,
    }
}

/// A matching of pairs that were listed one by one.
struct Listed {
    matching: Matching,
    alone: i64,
    /// Every pair there is was listed, and the dual values prove the matching.
    proved: bool,
}

/// Lists the pairs that may meet, every one in a small lot and near neighbours in a large one, and
/// matches them; `cost` is none where a pair breaks a limit.
fn match_listed(
    question: &Question<'_>,
    count: usize,
    cost: impl Fn(usize, usize) -> Option<i64>,
) -> Listed {
    let complete = count <= MOST_LISTED;
    let mut edges = Vec::new();
    let mut dearest = 1i64;
    each_pair(question.needs, count, complete, |a, b| {
        let may_meet = question.groups[a] == question.groups[b]
            && !question.forbidden.contains(&(a.min(b), a.max(b)));
        if let Some(cost) = may_meet.then(|| cost(a, b)).flatten() {
            dearest = dearest.max(cost);
            edges.push(Edge {
                a: a as u32,
                b: b as u32,
                cost,
            });
        }
    });
    let alone = dearest.saturating_mul(count as i64 / 4 + 1);
    let matching = match_sparse(count, &edges, alone);
    let proved =
        complete && alone <= MOST_COST && verify_sparse(count, &edges, alone, &matching).is_ok();
    Listed {
        matching,
        alone,
        proved,
    }
}

/// Solves edge by edge, where forbidden pairs would be used by the solution without forbids.
fn listed(question: &Question<'_>, count: usize, free: &Pairs) -> Pairs {
    let needs = question.needs;
    let cost = |a, b| (question.all || needs.within(a, b)).then(|| needs.cost(a, b));
    let Listed {
        matching,
        alone,
        proved,
    } = match_listed(question, count, cost);
    let mut pairs = settle(question, count, &matching, alone, proved);
    if !proved {
        // Without the forbids nothing better is possible: that bound still holds with them.
        pairs.sets_bound = free.sets_bound;
        let as_many = pairs.couples.len() == free.couples.len();
        pairs.cost_bound = if as_many { free.cost_bound } else { 0 };
        let cost: i128 = pairs.costs.iter().map(|cost| i128::from(*cost)).sum();
        pairs.optimal = as_many && free.optimal && cost == free.cost_bound;
        pairs.proof =
            "with forbidden pairs in a lot this large only near neighbours were looked at; \
                       the bound is that without the forbids"
                .to_owned();
    }
    pairs
}

/// Calls `met` for every pair, or for near neighbours by each need.
fn each_pair(needs: &Needs, count: usize, complete: bool, mut met: impl FnMut(usize, usize)) {
    if complete {
        for a in 0..count {
            (a + 1..count).for_each(|b| met(a, b));
        }
        return;
    }
    let mut seen = BTreeSet::new();
    for need in &needs.needs {
        let mut order: Vec<usize> = (0..count).collect();
        order.sort_by_key(|&at| (need.readings[at], at));
        for (at, &a) in order.iter().enumerate() {
            for &b in order[at + 1..].iter().take(NEIGHBOURS) {
                if seen.insert((a.min(b), a.max(b))) {
                    met(a.min(b), a.max(b));
                }
            }
        }
    }
}

/// A keyed joint: the unbalance's share of the cost is what the best mark leaves.
fn keyed(question: &Question<'_>, count: usize, marks: u32) -> Pairs {
    let cost = |a, b| keyed_cost(question, a, b, marks);
    let Listed {
        matching, proved, ..
    } = match_listed(question, count, cost);
    let couples = pairs_of(&matching.mate);
    let costs: Vec<i64> = couples
        .iter()
        .map(|&(a, b)| keyed_cost(question, a, b, marks).unwrap_or(i64::MAX / 4))
        .collect();
    let total: i128 = costs.iter().map(|cost| i128::from(*cost)).sum();
    if proved {
        let (sets_bound, proof) = (
            couples.len(),
            "proved on every pair there is, each at its best mark, costs in whole millionths"
                .to_owned(),
        );
        return Pairs {
            couples,
            costs,
            denominator: MILLION,
            cost_bound: total,
            sets_bound,
            optimal: true,
            proof,
        };
    }
    // Whatever the mark, what is left is at least the difference of the sizes.
    let (sizes, alone, proved) = by_points(question, count, question.all);
    let bound = settle(question, count, &sizes, alone, proved);
    let as_many = bound.couples.len() == couples.len();
    let scaled = bound.cost_bound * i128::from(MILLION) / i128::from(bound.denominator.max(1));
    Pairs {
        cost_bound: if as_many { scaled } else { 0 },
        sets_bound: bound.sets_bound,
        couples,
        costs,
        denominator: MILLION,
        optimal: false,
        proof: "in a keyed lot this large only near neighbours were looked at; the bound compares \
                sizes alone"
            .to_owned(),
    }
}

/// Cost of a keyed pair in millionths; none outside the limits.
fn keyed_cost(question: &Question<'_>, a: usize, b: usize, marks: u32) -> Option<i64> {
    let (_, arrows) = question.marks.as_ref()?;
    let (_, option) = best_mark(arrows[a], arrows[b], marks);
    let mut cost = 0f64;
    for need in &question.needs.needs {
        let share = if need.name == "unbalance" {
            option.static_unbalance_g_mm / super::whole::value(need.limit, need.places)
        } else {
            (need.readings[a] - need.readings[b]) as f64 / need.limit as f64
        };
        if share.abs() > 1.0 && !question.all {
            return None;
        }
        cost += share * share;
    }
    Some((cost * MILLION as f64).round().min(1e12) as i64)
}
