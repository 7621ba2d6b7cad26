//! Which trees grow together.
//!
//! Nodes whose numbers are near each other are neighbours, by and large. So the free elements are
//! matched plot by plot, a plot being a few nodes with successive numbers: trees stay small, what
//! they touch stays close in memory, and the free elements of other plots wait for them to come by.
//! A plot that takes much work is left as it stands and taken up again as part of a larger one.

use super::elements::{Elements, NONE};
use super::forest::Forest;
use super::graph::Graph;
use super::halves::Halves;

/// Nodes of the smallest plots. This and the next two: chosen by measuring, anything near them is
/// as good, and every choice gives a matching of least cost.
const SMALLEST: usize = 8;
/// How many plots make the next larger one.
const GROWTH: usize = 2;
/// How many nodes' edges may be looked at, for each node of a plot, before it is left.
const PATIENCE: usize = 6;
/// A free blossom with more than this share of a plot's nodes waits for a larger plot.
const LARGE: usize = 4;

impl<'g> Forest<'g> {
    /// Grows trees until no element is free.
    pub fn run(
        graph: &'g Graph,
        elements: Elements,
        halves: Option<Halves>,
    ) -> (Elements, Option<Halves>) {
        let mut forest = Self::new(graph, elements, halves);
        let mut waiting = forest.elements.free();
        let mut size = SMALLEST;
        while size < graph.nodes() && !waiting.is_empty() {
            for plot in waiting.chunk_by(|&a, &b| a as usize / size == b as usize / size) {
                let roots = forest.roots(plot, size / LARGE);
                if !roots.is_empty() {
                    forest.grow_from(&roots, PATIENCE * size);
                }
            }
            waiting.retain(|&node| forest.elements.is_free(node));
            size *= GROWTH;
        }
        let roots = forest.roots(&waiting, usize::MAX);
        forest.grow_from(&roots, usize::MAX);
        (forest.elements, forest.halves)
    }

    /// The elements around those nodes that are still free, without those that are too large.
    fn roots(&self, nodes: &[u32], largest: usize) -> Vec<u32> {
        let elements = &self.elements;
        let free = nodes.iter().filter(|&&node| elements.is_free(node));
        let homes = free.map(|&node| elements.home(node));
        homes
            .filter(|&home| elements.all[home as usize].size as usize <= largest)
            .collect()
    }
}

impl Elements {
    /// Whether a node is the one through which a free element is to be matched.
    fn is_free(&self, node: u32) -> bool {
        let home = &self.all[self.home(node) as usize];
        home.base == node && home.mate == NONE
    }

    /// The nodes through which free elements are to be matched.
    pub fn free(&self) -> Vec<u32> {
        let nodes = 0..self.nodes.len() as u32;
        nodes.filter(|&node| self.is_free(node)).collect()
    }
}
