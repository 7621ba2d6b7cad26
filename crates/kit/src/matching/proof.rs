//! The check of a proof: weak duality, in integers.

use super::answer::{Edge, MOST_COST, Matching};
use super::nest::Nest;

/// Why a matching is not proved.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unproved {
    /// Lengths do not fit, a mate is not mutual, or the sets are not nested.
    #[error("the answer does not hang together at element {0}")]
    Broken(usize),
    /// A set has a dual value below 0 or an even number of nodes.
    #[error("set {0} has a dual value below 0 or an even number of nodes")]
    Set(usize),
    /// The dual values around a node exceed the alone cost.
    #[error("the dual values around node {0} exceed what it costs to stay alone")]
    Node(usize),
    /// The dual values of two nodes exceed the cost of pairing them.
    #[error("the dual values of nodes {0} and {1} exceed the cost of pairing them")]
    Pair(u32, u32),
    /// Two nodes are paired that may not be.
    #[error("nodes {0} and {1} are paired, but that pair is not allowed")]
    Forbidden(u32, u32),
    /// Cost and bound differ: the matching is allowed but not proved to be cheapest.
    #[error("twice the cost is {cost_times_2}, the dual values add up to {bound_times_2}")]
    Gap {
        /// Twice the cost of the pairs and of those alone, counted again.
        cost_times_2: i128,
        /// Sum of the doubled dual values, counted again.
        bound_times_2: i128,
    },
}

/// Checks that `matching` is of least cost for these nodes and edges, in about linear time.
///
/// If the dual values of no pair exceed its cost, those around no node exceed the alone cost, and
/// no odd set has a value below 0, then their sum is a lower bound: every matching leaves at least
/// one node of an odd set to be paired across its border or to stay alone. A matching that costs
/// no more than the bound cannot be beaten.
///
/// # Errors
/// What is broken first.
pub fn verify_sparse(
    n: usize,
    edges: &[Edge],
    alone_cost: i64,
    matching: &Matching,
) -> Result<(), Unproved> {
    let proof = Proof::new(n, alone_cost, matching)?;
    let mut cost: Vec<Option<i64>> = vec![None; n];
    for edge in edges.iter().filter(|edge| edge.a != edge.b) {
        let Some(&mate) = matching.mate.get(edge.a as usize) else {
            continue;
        };
        if edge.b as usize >= n {
            continue;
        }
        proof.pair(edge.a, edge.b, edge.cost)?;
        if mate == Some(edge.b) {
            for node in [edge.a, edge.b] {
                let known = &mut cost[node as usize];
                *known = Some(known.map_or(edge.cost, |known| known.min(edge.cost)));
            }
        }
    }
    proof.close(|a, _| cost[a as usize])
}

/// A matching whose dual values hang together.
pub(super) struct Proof<'m> {
    matching: &'m Matching,
    nest: Nest,
    reach: Vec<i64>,
    alone: i64,
}

impl<'m> Proof<'m> {
    /// Checks everything that needs no edges.
    pub fn new(n: usize, alone_cost: i64, matching: &'m Matching) -> Result<Self, Unproved> {
        let alone = alone_cost.clamp(-MOST_COST, MOST_COST);
        let duals = &matching.duals;
        let count = duals.parent.len();
        if matching.mate.len() != n || count < n || duals.value_times_2.len() != count {
            return Err(Unproved::Broken(0));
        }
        let mutual = |(a, mate): (usize, &Option<u32>)| {
            let Some(b) = *mate else { return true };
            b as usize != a && matching.mate.get(b as usize) == Some(&Some(a as u32))
        };
        if let Some(bad) = matching
            .mate
            .iter()
            .enumerate()
            .position(|one| !mutual(one))
        {
            return Err(Unproved::Broken(bad));
        }
        let set = |parent: &Option<u32>| parent.is_none_or(|set| set as usize >= n);
        if let Some(bad) = duals.parent.iter().position(|parent| !set(parent)) {
            return Err(Unproved::Broken(bad));
        }
        let parent = duals
            .parent
            .iter()
            .map(|parent| parent.unwrap_or(u32::MAX))
            .collect();
        let nest = Nest::new(n, parent, |set| duals.value_times_2[set]);
        let nest = nest.ok_or(Unproved::Broken(n))?;
        let sound = |set: usize| duals.value_times_2[set] >= 0 && nest.size(set) % 2 == 1;
        if let Some(bad) = (n..count).find(|&set| !sound(set)) {
            return Err(Unproved::Set(bad));
        }
        let reach: Vec<i64> = (0..n)
            .map(|v| duals.value_times_2[v].saturating_add(nest.value_around(v as u32)))
            .collect();
        if let Some(bad) = reach.iter().position(|&reach| reach > 2 * alone) {
            return Err(Unproved::Node(bad));
        }
        Ok(Self {
            matching,
            nest,
            reach,
            alone,
        })
    }

    /// Checks that the dual values of a pair do not exceed its cost.
    pub fn pair(&self, a: u32, b: u32, cost: i64) -> Result<(), Unproved> {
        let sum = i128::from(self.reach[a as usize]) + i128::from(self.reach[b as usize]);
        let cost_times_2 = 2 * i128::from(cost);
        if sum <= cost_times_2 || sum - 2 * i128::from(self.nest.common(a, b)) <= cost_times_2 {
            return Ok(());
        }
        Err(Unproved::Pair(a, b))
    }

    /// Counts cost and bound again and compares them with each other and with the answer.
    pub fn close(&self, cost: impl Fn(u32, u32) -> Option<i64>) -> Result<(), Unproved> {
        let mut cost_times_2 = 0_i128;
        for (a, mate) in self.matching.mate.iter().enumerate() {
            let a = a as u32;
            cost_times_2 += match *mate {
                None => 2 * i128::from(self.alone),
                Some(b) => i128::from(cost(a, b).ok_or(Unproved::Forbidden(a, b))?),
            };
        }
        let duals = &self.matching.duals.value_times_2;
        let bound_times_2: i128 = duals.iter().map(|&value| i128::from(value)).sum();
        let told = (2 * self.matching.cost, self.matching.dual_bound_times_2);
        if cost_times_2 != bound_times_2 || told != (cost_times_2, bound_times_2) {
            return Err(Unproved::Gap {
                cost_times_2,
                bound_times_2,
            });
        }
        Ok(())
    }
}
