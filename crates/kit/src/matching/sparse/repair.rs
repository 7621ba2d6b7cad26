//! Makes dual values allowed again after edges were added.

use super::elements::{ALONE, Elements, NONE};
use super::graph::Graph;
use super::start;
use crate::matching::answer::Edge;

/// Lowers one end of each new edge that is dearer in dual values than in cost; what was tight
/// there before is free afterwards.
pub(super) fn repair(graph: &Graph, elements: &mut Elements, edges: &[Edge]) {
    let mut lowered = Vec::new();
    for edge in edges {
        let Some(cost_times_2) = graph.cost_times_2(edge.a, edge.b) else { continue };
        let excess = elements.reach(edge.a) + elements.reach(edge.b)
            - 2 * elements.common(edge.a, edge.b)
            - cost_times_2;
        if excess > 0 {
            while elements.home(edge.a) != edge.a {
                elements.dissolve(elements.home(edge.a));
            }
            elements.part(edge.a);
            elements.nodes[edge.a as usize].reach -= excess;
            lowered.push(edge.a);
        }
    }
    for node in lowered {
        if elements.home(node) == node && elements.all[node as usize].mate == NONE {
            start::raise(graph, elements, node);
        }
    }
    for element in elements.free() {
        elements.make_even(element);
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

    /// The free outermost elements.
    pub fn free(&self) -> Vec<u32> {
        let mut free: Vec<u32> = (0..self.nodes.len() as u32)
            .map(|node| self.home(node))
            .filter(|&home| self.all[home as usize].mate == NONE)
            .collect();
        free.sort_unstable();
        free.dedup();
        free
    }

    /// Lowers the dual value of a free element by a half if that makes it a whole number: all
    /// trees must start alike.
    fn make_even(&mut self, element: u32) {
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

    /// Twice the dual values of the blossoms around both nodes, between runs.
    pub fn common(&self, a: u32, b: u32) -> i64 {
        if self.home(a) != self.home(b) {
            return 0;
        }
        let depth = |node: u32| {
            let (mut depth, mut element) = (0_u32, node);
            while self.all[element as usize].parent != NONE {
                element = self.all[element as usize].parent;
                depth += 1;
            }
            depth
        };
        let (mut one, mut two) = (a, b);
        let (mut deep, mut high) = (depth(a), depth(b));
        while one != two {
            if deep >= high {
                one = self.all[one as usize].parent;
                deep -= 1;
            } else {
                two = self.all[two as usize].parent;
                high -= 1;
            }
        }
        let mut sum = 0;
        while one != NONE {
            if self.is_blossom(one) {
                sum += self.all[one as usize].value;
            }
            one = self.all[one as usize].parent;
        }
        sum
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
        let keep = ring.iter().position(|child| child.element == home).unwrap_or(0);
        self.match_ring(&ring, keep, old.base, old.mate);
    }
}
