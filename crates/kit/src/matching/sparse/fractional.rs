//! The start that lets nodes be matched by halves.
//!
//! If every edge of an odd ring may be taken by half, an odd ring in a tree ends the tree at once
//! instead of becoming a blossom: the least-cost fractional matching is found without blossoms, in
//! short searches. Its dual values are close to the final ones, and only one node of every odd
//! ring is left free (V. Kolmogorov, "Blossom V", 2009, from memory).

use super::elements::{Child, Elements, HALF, NONE};
use super::forest::Forest;
use super::graph::Graph;
use super::halves::Halves;

/// Matches single nodes by whole edges and odd rings, then leaves one node of each ring free.
pub(super) fn match_by_halves(graph: &Graph, elements: Elements) -> Elements {
    let halves = Halves {
        rings: Vec::new(),
        ring_of: vec![NONE; graph.nodes()],
    };
    let (mut elements, halves) = Forest::run(graph, elements, Some(halves));
    for ring in halves.into_iter().flat_map(|halves| halves.rings) {
        if let Some(first) = ring.first() {
            elements.match_ring(&ring, 0, first.element, NONE);
            elements.make_even(first.element);
        }
    }
    elements
}

impl Forest<'_> {
    /// The tree's odd ring is matched by halves, and the tree ends there.
    pub fn halve(&mut self, ring: Vec<Child>, tree: u32) {
        let Some(halves) = &mut self.halves else {
            return;
        };
        let name = halves.rings.len() as u32;
        for part in &ring {
            halves.ring_of[part.element as usize] = name;
        }
        let meeting = ring[0].element;
        let parts: Vec<u32> = ring.iter().map(|part| part.element).collect();
        halves.rings.push(ring);
        self.augment(meeting, HALF);
        for part in parts {
            self.elements.all[part as usize].mate = HALF;
        }
        self.settle(&[tree]);
    }

    /// A tree reaches a node of such a ring: the node is matched to the tree, the others to each
    /// other.
    pub fn unhalve(&mut self, node: u32, mate: u32) {
        let Some(halves) = &mut self.halves else {
            return;
        };
        let ring = std::mem::take(&mut halves.rings[halves.ring_of[node as usize] as usize]);
        let keep = ring
            .iter()
            .position(|part| part.element == node)
            .unwrap_or(0);
        self.elements.match_ring(&ring, keep, node, mate);
    }
}
