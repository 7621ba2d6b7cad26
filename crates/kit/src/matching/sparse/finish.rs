//! From the solver's elements to an answer.

use super::elements::{ALONE, Elements, NONE};
use super::graph::Graph;
use crate::matching::answer::{Duals, Matching};

/// Opens all blossoms and writes down mates, cost and dual values.
pub(super) fn finish(graph: &Graph, mut elements: Elements) -> Matching {
    let n = elements.nodes.len();
    let (tops, values) = tops_and_values(&elements);
    let mut duals = Duals {
        value_times_2: values,
        parent: vec![None; n],
    };
    let mut stack: Vec<(u32, Option<u32>)> = tops.into_iter().map(|top| (top, None)).collect();
    while let Some((blossom, around)) = stack.pop() {
        let value = elements.all[blossom as usize].value;
        let mut name = around;
        if value > 0 {
            name = Some(duals.value_times_2.len() as u32);
            duals.value_times_2.push(value);
            duals.parent.push(around);
        }
        unroll(&mut elements, blossom);
        for child in elements.ring(blossom) {
            if elements.is_blossom(child.element) {
                stack.push((child.element, name));
            } else {
                duals.parent[child.element as usize] = name;
            }
        }
    }
    own_values(&mut duals, n);
    let mate: Vec<Option<u32>> = elements.all[..n]
        .iter()
        .map(|node| (node.mate != ALONE && node.mate != NONE).then_some(node.mate))
        .collect();
    let cost_times_2: i128 = mate
        .iter()
        .enumerate()
        .map(|(v, mate)| match mate {
            Some(mate) if (*mate as usize) < v => 0,
            Some(mate) => graph.cost_times_2(v as u32, *mate).map_or(0, i128::from),
            None => i128::from(graph.alone_times_2),
        })
        .sum();
    let dual_bound_times_2 = duals
        .value_times_2
        .iter()
        .map(|&value| i128::from(value))
        .sum();
    Matching {
        mate,
        cost: cost_times_2 / 2,
        dual_bound_times_2,
        duals,
    }
}

/// The outermost blossoms, and what the dual values around each node add up to.
fn tops_and_values(elements: &Elements) -> (Vec<u32>, Vec<i64>) {
    let mut tops = Vec::new();
    let values = (0..elements.nodes.len() as u32)
        .map(|node| {
            let home = elements.home(node);
            if elements.is_blossom(home) {
                tops.push(home);
            }
            elements.reach(node)
        })
        .collect();
    tops.sort_unstable();
    tops.dedup();
    (tops, values)
}

/// Matches the parts of a blossom as its base demands.
fn unroll(elements: &mut Elements, blossom: u32) {
    let (base, mate) = (
        elements.all[blossom as usize].base,
        elements.all[blossom as usize].mate,
    );
    let mut part = base;
    while elements.all[part as usize].parent != blossom {
        part = elements.all[part as usize].parent;
    }
    let ring = elements.ring(blossom).to_vec();
    let keep = ring
        .iter()
        .position(|child| child.element == part)
        .unwrap_or(0);
    elements.match_ring(&ring, keep, base, mate);
}

/// Takes the blossoms' values off the nodes' sums; sets stand after the sets around them.
fn own_values(duals: &mut Duals, n: usize) {
    let mut around = vec![0_i64; duals.parent.len()];
    for set in n..duals.parent.len() {
        around[set] = duals.value_times_2[set]
            + duals.parent[set].map_or(0, |parent| around[parent as usize]);
    }
    for node in 0..n {
        let sets = duals.parent[node].map_or(0, |parent| around[parent as usize]);
        duals.value_times_2[node] -= sets;
    }
}
