//! Least-cost matching on the edges given.

mod change;
mod elements;
mod forest;
mod finish;
mod graph;
mod repair;
mod start;

use super::answer::{Edge, Matching};
use elements::Elements;
use graph::Graph;
use forest::Forest;

/// Least-cost matching where each of `n` nodes may stay alone at `alone_cost`.
#[must_use]
pub fn match_sparse(n: usize, edges: &[Edge], alone_cost: i64) -> Matching {
    Solver::new(n, edges, alone_cost).answer()
}

/// A solved graph, to which edges can be added.
#[derive(Debug)]
pub(super) struct Solver {
    graph: Graph,
    elements: Elements,
}

impl Solver {
    /// Solves the graph.
    pub fn new(n: usize, edges: &[Edge], alone_cost: i64) -> Self {
        let graph = Graph::new(n, edges, alone_cost);
        let mut elements = Elements::new(n);
        start::start(&graph, &mut elements);
        let mut solver = Self { graph, elements };
        solver.solve();
        solver
    }

    /// Matches whatever is free.
    fn solve(&mut self) {
        let elements = std::mem::replace(&mut self.elements, Elements::new(0));
        self.elements = Forest::run(&self.graph, elements);
    }

    /// Adds edges and solves again, from where the last solution stands.
    pub fn add(&mut self, edges: &[Edge]) {
        self.graph.add(edges);
        repair::repair(&self.graph, &mut self.elements, edges);
        self.solve();
    }

    /// Twice the dual values around a node.
    pub fn reach_times_2(&self, node: u32) -> i64 {
        self.elements.reach(node)
    }

    /// Twice the dual values of the blossoms around both nodes.
    pub fn common_times_2(&self, a: u32, b: u32) -> i64 {
        self.elements.common(a, b)
    }

    /// Number of edges that can matter.
    pub fn edges(&self) -> usize {
        self.graph.arcs.len() / 2
    }

    /// The matching and its proof.
    pub fn answer(self) -> Matching {
        finish::finish(&self.graph, self.elements)
    }
}
