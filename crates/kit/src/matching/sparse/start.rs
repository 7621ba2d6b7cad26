//! A first set of dual values, and the pairs that are tight under it.

use super::elements::{ALONE, Elements, NONE};
use super::graph::{Arc, Graph};

/// Half of a doubled cost, rounded down to an even number: all trees must start on even values, or
/// two of them could meet half-way between two integers.
fn even(cost_times_2: i64) -> i64 {
    2 * cost_times_2.div_euclid(4)
}

/// Half of each node's cheapest edge, raised node by node as far as the neighbours allow; tight
/// pairs of free nodes are made at once.
pub(super) fn start(graph: &Graph, elements: &mut Elements) {
    let n = elements.nodes.len() as u32;
    for v in 0..n {
        let half = graph
            .arcs_of(v)
            .iter()
            .map(|arc| even(arc.cost_times_2))
            .min();
        elements.nodes[v as usize].reach =
            half.map_or(graph.alone_times_2, |half| half.min(graph.alone_times_2));
    }
    for v in 0..n {
        if elements.all[v as usize].mate == NONE {
            raise(graph, elements, v);
        }
    }
    for v in 0..n {
        if elements.all[v as usize].mate == NONE {
            swap(graph, elements, v);
        }
    }
}

/// Whether an edge is tight between single nodes.
fn tight(elements: &Elements, v: u32, arc: &Arc) -> bool {
    arc.cost_times_2 == elements.nodes[v as usize].reach + elements.nodes[arc.to as usize].reach
}

/// Matches a free single node along a tight path of three edges, if there is one.
fn swap(graph: &Graph, elements: &mut Elements, v: u32) {
    for arc in graph
        .arcs_of(v)
        .iter()
        .filter(|arc| tight(elements, v, arc))
    {
        let near = arc.to;
        let mate = elements.all[near as usize].mate;
        let end = if mate == NONE {
            None
        } else if mate == ALONE {
            Some(NONE)
        } else {
            let free = |arc: &&Arc| {
                let open = elements.all[arc.to as usize].mate == NONE;
                open && arc.to != v && tight(elements, mate, arc)
            };
            graph.arcs_of(mate).iter().find(free).map(|arc| arc.to)
        };
        if mate != NONE && end.is_none() {
            continue;
        }
        if let Some(end) = end.filter(|&end| end != NONE) {
            elements.all[mate as usize].mate = end;
            elements.all[end as usize].mate = mate;
        }
        elements.all[v as usize].mate = near;
        elements.all[near as usize].mate = v;
        return;
    }
}

/// Raises the dual value of a free single node until an edge is tight, and matches it if that edge's
/// other end is free, or leaves it alone if that is what became tight.
pub(super) fn raise(graph: &Graph, elements: &mut Elements, v: u32) {
    let mut most = graph.alone_times_2;
    let mut partner = ALONE;
    for arc in graph.arcs_of(v) {
        let room = arc.cost_times_2 - elements.reach(arc.to);
        let top = elements.home(arc.to);
        let free = elements.all[top as usize].mate == NONE;
        if room < most || (room == most && free) {
            most = room;
            partner = if free { arc.to } else { NONE };
        }
    }
    elements.nodes[v as usize].reach = most - elements.shift(v);
    if partner != NONE {
        elements.all[v as usize].mate = partner;
    }
    if partner != NONE && partner != ALONE {
        let top = elements.home(partner);
        let top = &mut elements.all[top as usize];
        (top.base, top.mate) = (partner, v);
    }
}
