//! Least-cost matching on the edges given.

mod change;
mod elements;
mod finish;
mod forest;
mod fractional;
mod graph;
mod halves;
mod plots;
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
///
/// **Finds** pairs, each node in at most one, so that the costs of the pairs and of the nodes left
/// alone add up to the least possible; with dual values that prove it ([`super::verify_sparse`]).
///
/// **Method:** Edmonds' weighted blossom algorithm (J. Edmonds, "Maximum matching and a polyhedron
/// with 0,1-vertices", 1965; Z. Galil, "Efficient algorithms for finding maximum matching in
/// graphs", ACM Computing Surveys 18, 1986; both from memory). Staying alone is a half-edge of every
/// node, so there is always an answer. A start from half of each node's cheapest edge, greedy
/// pairs and short swaps, then a least-cost matching by halves; then trees from the nodes that are
/// still free, those of a few neighbouring nodes at a time, grown by one clock; events foretold in
/// a radix heap, dual values kept as offsets of what moves together, so that a step of the clock
/// costs nothing.
///
/// **Most pairs first:** with an `alone_cost` above the sum of all costs that can matter, as many
/// pairs as possible are made, and among such matchings the cheapest is found.
///
/// **Ranges:** `n` below 2^31; costs 0 to [`super::MOST_COST`] (negative ones work down to
/// −[`super::MOST_COST`], and are held there); the alone cost is held to ±[`super::MOST_COST`].
/// Passed over: edges from a node to itself, edges that name no node, edges dearer than leaving
/// both ends alone, all but the cheapest of parallel edges. All arithmetic is in integers.
///
/// **Promised:** least cost, exactly; the same answer for the same input. **Cannot fail.** Time
/// grows a little faster than the number of edges on graphs of near neighbours; memory is some
/// 150 bytes a node and 40 an edge.
#[must_use]
pub fn match_sparse(n: usize, edges: &[Edge], alone_cost: i64) -> Matching {
    let graph = Graph::new(n, edges, alone_cost);
    let order = graph.neighbours_first();
    let solver = Solver::of(graph.reordered(&order));
    drop(graph);
    finish::finish(&solver.graph, solver.elements).renamed(&order)
}

/// A solved graph, to which edges can be added.
#[derive(Debug)]
pub(super) struct Solver {
    graph: Graph,
    elements: Elements,
}

impl Solver {
    /// Solves a graph whose neighbours have numbers near each other.
    pub fn new(n: usize, edges: &[Edge], alone_cost: i64) -> Self {
        Self::of(Graph::new(n, edges, alone_cost))
    }

    /// Solves a graph.
    fn of(graph: Graph) -> Self {
        let mut elements = Elements::new(graph.nodes());
        start::start(&graph, &mut elements);
        let elements = fractional::match_by_halves(&graph, elements);
        let mut solver = Self { graph, elements };
        solver.solve();
        solver
    }

    /// Matches whatever is free.
    fn solve(&mut self) {
        let elements = std::mem::replace(&mut self.elements, Elements::new(0));
        self.elements = Forest::run(&self.graph, elements, None).0;
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
