//! Least-cost matching on the edges given.

mod change;
mod elements;
mod finish;
mod forest;
mod graph;
mod queue;
mod repair;
mod start;

use super::answer::{Edge, Matching};
use super::nest::Nest;
use super::proof::{Proof, Unproved};
use elements::Elements;
use forest::Forest;
use graph::Graph;
pub(super) use repair::Missing;

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
    pub fn add(&mut self, missing: &[Missing]) {
        let edges: Vec<Edge> = missing.iter().map(|&(edge, _)| edge).collect();
        self.graph.add(&edges);
        repair::repair(&self.graph, &mut self.elements, missing);
        self.solve();
    }

    /// Twice the dual values around a node.
    pub fn reach_times_2(&self, node: u32) -> i64 {
        self.elements.reach(node)
    }

    /// The blossoms, with twice their dual values.
    pub fn nest(&self) -> Option<Nest> {
        self.elements.nest()
    }

    /// Number of edges that can matter.
    pub fn edges(&self) -> usize {
        self.graph.arcs.len() / 2
    }

    /// The matching with its dual values.
    pub fn answer(self) -> Matching {
        finish::finish(&self.graph, self.elements)
    }

    /// The matching with its dual values, and whether they prove it on all edges listed.
    pub fn proved_answer(self) -> (Matching, bool) {
        let matching = finish::finish(&self.graph, self.elements);
        let proved = prove(&self.graph, &matching).is_ok();
        (matching, proved)
    }
}

/// Checks the proof on all edges of a graph.
fn prove(graph: &Graph, matching: &Matching) -> Result<(), Unproved> {
    let n = matching.mate.len();
    let proof = Proof::new(n, graph.alone_times_2 / 2, matching)?;
    for a in 0..n as u32 {
        for arc in graph.arcs_of(a).iter().filter(|arc| arc.to > a) {
            proof.pair(a, arc.to, arc.cost_times_2 / 2)?;
        }
    }
    proof.close(|a, b| {
        graph
            .cost_times_2(a, b)
            .map(|cost_times_2| cost_times_2 / 2)
    })
}
