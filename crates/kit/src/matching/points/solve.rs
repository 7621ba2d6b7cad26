//! Solve on near neighbours, price what is missing, repair, until nothing is missing.

use super::duals::Duals;
use super::given::{Certified, Points};
use super::tree::{Found, Query, Tree};
use crate::matching::answer::{Edge, MOST_COST};
use crate::matching::sparse::{Missing, Solver};

/// Near neighbours of each point that are listed at first.
const NEIGHBOURS: usize = 8;
/// Most missing pairs that a point may add in one round.
const MISSING: usize = 8;

/// Least-cost matching of points, each of which may stay alone at `alone_cost`.
///
/// **Finds** the same as [`crate::matching::match_sparse`] would on the complete graph of all
/// allowed pairs, without ever listing it.
///
/// **Method:** price and repair (D. Applegate and W. Cook, "Solving large-scale matching problems",
/// 1993; V. Kolmogorov, "Blossom V", Math. Prog. Comp. 2009; from memory). Solve on near
/// neighbours; a pair that is not listed matters only if the dual values around its points exceed
/// its cost; look for such pairs in a k-d tree whose boxes know their largest dual value, so that
/// no ball of neighbours is ever listed; add what is found, lower the dual values there, go on from
/// the last solution. When nothing is found the answer is of least cost on the complete graph.
///
/// **Ranges:** any coordinates and weights: a cost too large for 64 bits counts as dearer than
/// staying alone. Weights below 0 count as 0. A limit below 0 forbids all pairs. Points beyond the
/// end of `groups` are of group 0. The alone cost as in [`crate::matching::match_sparse`].
///
/// **Promised:** [`Certified::optimal`] is set only after the pricing found nothing and the dual
/// values were checked again on every listed pair, with sum of dual values = cost. It is exact:
/// a pair with a reduced cost of exactly 0 is a tie and changes nothing. Not being proved would be
/// a fault of this code, not of the input.
#[must_use]
pub fn match_points(points: &Points<'_>, alone_cost: i64) -> Certified {
    match_points_where(points, alone_cost, |_, _| true)
}

/// The same with pairs that must not be made: `allowed` must answer alike for (a, b) and (b, a).
#[must_use]
pub fn match_points_where(
    points: &Points<'_>,
    alone_cost: i64,
    allowed: impl Fn(u32, u32) -> bool,
) -> Certified {
    let tree = Tree::new(points);
    let allowed = |a: u32, b: u32| allowed(tree.original[a as usize], tree.original[b as usize]);
    let alone = alone_cost.clamp(-MOST_COST, MOST_COST);
    let mut solver = Solver::new(tree.len(), &near_edges(&tree, alone, &allowed), alone);
    let mut rounds = 1;
    let mut priced = false;
    let mut before: Option<Duals> = None;
    while let Some(nest) = solver.nest() {
        let reach = (0..tree.len() as u32).map(|place| solver.reach_times_2(place));
        let duals = Duals::new(nest, reach.collect());
        let boxes = tree.gather(
            |places| duals.around(places),
            |one, two| duals.both(one, two),
        );
        let duals = duals.with_boxes(boxes);
        // What is missing is mostly where dual values have changed. Only a look at all places
        // proves that nothing is.
        let changed = before.and_then(|before| duals.changed(&before));
        let mut missing = Vec::new();
        if let Some(changed) = &changed {
            missing = missing_edges(&tree, &duals, alone, &allowed, Some(changed));
        }
        if missing.is_empty() {
            missing = missing_edges(&tree, &duals, alone, &allowed, None);
        }
        if missing.is_empty() {
            priced = true;
            break;
        }
        solver.add(&missing);
        rounds += 1;
        before = Some(duals);
    }
    let edges = solver.edges();
    let (matching, proved) = solver.proved_answer();
    let optimal = priced && proved;
    Certified {
        matching: matching.renamed(&tree.original),
        optimal,
        rounds,
        edges,
    }
}

/// The pairs that are listed at first: each point's near neighbours, and a chain through all boxes.
/// For comparisons with other solvers on the same graph.
#[must_use]
pub fn near_pairs(points: &Points<'_>, alone_cost: i64) -> Vec<Edge> {
    let tree = Tree::new(points);
    let alone = alone_cost.clamp(-MOST_COST, MOST_COST);
    let name = |place: u32| tree.original[place as usize];
    let edges = near_edges(&tree, alone, &|_, _| true);
    edges
        .iter()
        .map(|edge| Edge {
            a: name(edge.a),
            b: name(edge.b),
            cost: edge.cost,
        })
        .collect()
}

/// Each point's near neighbours, and a chain through all boxes: so there is a matching of all points
/// wherever limits do not forbid it, and many equal points hang together with what is around them.
fn near_edges(tree: &Tree, alone: i64, allowed: &impl Fn(u32, u32) -> bool) -> Vec<Edge> {
    let query = Query {
        duals: None,
        dearest: alone.saturating_mul(2),
        keep: NEIGHBOURS,
        only_after: false,
        allowed,
    };
    let mut near: Vec<[u32; NEIGHBOURS]> = Vec::with_capacity(tree.len());
    let mut edges = Vec::with_capacity(tree.len() * 5);
    tree.ask_all(
        &query,
        i64::MAX,
        |_| true,
        |_, found| {
            let mut row = [u32::MAX; NEIGHBOURS];
            for (slot, &(_, place)) in row.iter_mut().zip(found) {
                *slot = place;
            }
            near.push(row);
        },
    );
    let mut add = |a: u32, b: u32| {
        if let Some(cost) = tree.cost(a, b) {
            edges.push(Edge { a, b, cost });
        }
    };
    for (a, row) in near.iter().enumerate() {
        let a = a as u32;
        for &b in row.iter().filter(|&&b| b != u32::MAX) {
            if a < b || !near[b as usize].contains(&a) {
                add(a, b);
            }
        }
    }
    for group in tree.groups() {
        for a in group.clone().filter(|a| a + 1 < group.end) {
            let known = near[a as usize].contains(&(a + 1)) || near[a as usize + 1].contains(&a);
            if !known && allowed(a, a + 1) {
                add(a, a + 1);
            }
        }
    }
    edges
}

/// Pairs that are not listed and whose dual values exceed their cost; with `changed`, only those of
/// such places.
fn missing_edges(
    tree: &Tree,
    duals: &Duals,
    alone: i64,
    allowed: &impl Fn(u32, u32) -> bool,
    changed: Option<&[bool]>,
) -> Vec<Missing> {
    let query = Query {
        duals: Some(duals),
        dearest: alone.saturating_mul(2),
        keep: MISSING,
        only_after: changed.is_none(),
        allowed,
    };
    let of_interest = |place: u32| changed.is_none_or(|changed| changed[place as usize]);
    let mut missing: Vec<Found2> = Vec::new();
    tree.ask_all(&query, 0, of_interest, |a, found: &[Found]| {
        let pair = |&(value, b): &Found| (value, a.min(b), a.max(b));
        missing.extend(found.iter().map(pair));
    });
    missing.sort_unstable();
    missing.dedup();
    let edge = |&(value, a, b): &Found2| {
        let nest = duals.nest();
        let (a, b) = if nest.depth(a) <= nest.depth(b) {
            (a, b)
        } else {
            (b, a)
        };
        tree.cost(a, b).map(|cost| (Edge { a, b, cost }, -value))
    };
    missing.iter().filter_map(edge).collect()
}

/// A reduced cost and the two places.
type Found2 = (i64, u32, u32);
