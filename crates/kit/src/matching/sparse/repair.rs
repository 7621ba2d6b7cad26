//! Makes dual values allowed again after edges were added.

use super::elements::{ALONE, Elements, NONE};
use super::graph::Graph;
use super::start;
use crate::matching::answer::Edge;
use crate::matching::nest::Nest;

/// An edge to be added, and twice the amount by which its dual values exceed its cost.
pub(in crate::matching) type Missing = (Edge, i64);

/// Lowers one end of each new edge whose dual values exceed its cost: the end `a`. What was tight
/// there before is free afterwards.
pub(super) fn repair(graph: &Graph, elements: &mut Elements, missing: &[Missing]) {
    let mut lowered = Vec::new();
    for &(edge, excess) in missing {
        let (a, b) = (edge.a, edge.b);
        let Some(cost_times_2) = graph.cost_times_2(a, b) else {
            continue;
        };
        // Opening blossoms around both ends does not change what an edge between them exceeds.
        let together = elements.home(a) == elements.home(b);
        let apart = elements.reach(a) + elements.reach(b) - cost_times_2;
        if (together && excess > 0) || (!together && apart > 0) {
            while elements.home(a) != a {
                elements.dissolve(elements.home(a));
            }
            elements.part(a);
            let apart = elements.reach(a) + elements.reach(b) - cost_times_2;
            elements.nodes[a as usize].reach -= apart.max(0);
            lowered.push(a);
        }
    }
    for node in lowered {
        if elements.home(node) == node && elements.all[node as usize].mate == NONE {
            start::raise(graph, elements, node);
        }
    }
    for node in elements.free() {
        elements.make_even(elements.home(node));
    }
}

impl Elements {
    /// Twice the dual values around a node, between runs.
    pub fn reach(&self, node: u32) -> i64 {
        self.nodes[node as usize].reach + self.shift(node)
    }

    /// What a node's slot adds to its reach, between runs.
    pub fn shift(&self, node: u32) -> i64 {
        self.slots[self.nodes[node as usize].slot as usize].shift
    }

    /// Lowers the dual value of a free element by a half if that makes it a whole number: all
    /// trees must start alike.
    pub fn make_even(&mut self, element: u32) {
        let mut element = element;
        while self.reach(self.all[element as usize].base) % 2 != 0 {
            if self.is_blossom(element) && self.all[element as usize].value == 0 {
                let base = self.all[element as usize].base;
                self.dissolve(element);
                element = self.home(base);
                continue;
            }
            let slot = self.all[element as usize].slot;
            self.slots[slot as usize].shift -= 1;
            if self.is_blossom(element) {
                self.all[element as usize].value -= 1;
            }
        }
    }

    /// The blossoms as a nest, between runs.
    pub fn nest(&self) -> Option<Nest> {
        let parent = self.all.iter().map(|element| element.parent).collect();
        Nest::new(self.nodes.len(), parent, |element| self.all[element].value)
    }

    /// Sets an element free, and its mate.
    fn part(&mut self, element: u32) {
        let mate = std::mem::replace(&mut self.all[element as usize].mate, NONE);
        if mate != NONE && mate != ALONE {
            let other = self.home(mate);
            self.all[other as usize].mate = NONE;
        }
    }

    /// Opens an outermost blossom between runs. If it had a dual value, the edge that matched
    /// it to the outside is no longer tight.
    fn dissolve(&mut self, blossom: u32) {
        let value = self.all[blossom as usize].value;
        if value > 0 {
            self.part(blossom);
        }
        let old = self.all[blossom as usize].clone();
        let ring = self.take_apart(blossom, self.slots[old.slot as usize].shift - value);
        let home = self.home(old.base);
        let keep = ring
            .iter()
            .position(|child| child.element == home)
            .unwrap_or(0);
        self.match_ring(&ring, keep, old.base, old.mate);
    }
}
