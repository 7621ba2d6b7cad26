//! Edges in, matchings and their dual values out.

/// The largest cost that is told apart, 2^58: everything inside stays below 2^62 and cannot wrap.
pub const MOST_COST: i64 = 1 << 58;

/// A pair that may be made, and what it costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Edge {
    /// One node, counted from 0.
    pub a: u32,
    /// The other node.
    pub b: u32,
    /// Cost of the pair, 0 to [`MOST_COST`].
    pub cost: i64,
}

/// A matching of least cost, with the dual values that prove it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Matching {
    /// Whom each node is paired with; none if it stays alone.
    pub mate: Vec<Option<u32>>,
    /// Sum of the costs of the pairs and of the alone costs of the nodes that stay alone.
    pub cost: i128,
    /// Twice the sum of all dual values: no matching costs less than half of this.
    /// Equal to twice `cost` when the matching is optimal.
    pub dual_bound_times_2: i128,
    /// The dual values themselves.
    pub duals: Duals,
}

/// Dual values of nodes and of odd sets of nodes (blossoms), twice their size so that they are
/// integers. The odd sets are nested or apart, so they are kept as a forest.
///
/// Elements `0..n` are the nodes, the elements after them are the odd sets.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Duals {
    /// Twice the dual value of each element: of either sign for a node, at least 0 for a set.
    pub value_times_2: Vec<i64>,
    /// The smallest set that holds each element.
    pub parent: Vec<Option<u32>>,
}

impl Matching {
    /// The same matching with each node `v` called `name[v]`.
    pub(super) fn renamed(self, name: &[u32]) -> Self {
        let mut mate = vec![None; name.len()];
        let mut duals = self.duals.clone();
        for (v, &new) in name.iter().enumerate() {
            mate[new as usize] = self.mate[v].map(|mate| name[mate as usize]);
            duals.value_times_2[new as usize] = self.duals.value_times_2[v];
            duals.parent[new as usize] = self.duals.parent[v];
        }
        Self {
            mate,
            duals,
            ..self
        }
    }
}
