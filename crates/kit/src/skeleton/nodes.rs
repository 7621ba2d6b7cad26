//! Junctions that stand in each other are one.

use super::chains::{Graph, Plan};
use crate::revolve::Point;

/// Joins junctions whose circles hold each other's centres.
pub fn join_near(plan: &Plan, graph: &mut Graph) {
    loop {
        let short = (0..graph.chains.len()).find(|chain| is_short(plan, graph, *chain));
        let Some(chain) = short else { return };
        join(graph, chain);
    }
}

fn is_short(plan: &Plan, graph: &Graph, chain: usize) -> bool {
    let Some(of) = &graph.chains[chain] else {
        return false;
    };
    let [one, other] = of.nodes;
    if one == other || graph.degree(one) < 3 || graph.degree(other) < 3 {
        return false;
    }
    let (a, b) = (circle(plan, graph, one), circle(plan, graph, other));
    a.0.distance(b.0) < a.1.min(b.1)
}

fn join(graph: &mut Graph, chain: usize) {
    let Some(of) = graph.chains[chain].take() else {
        return;
    };
    let [keep, gone] = of.nodes;
    let (Some(mut a), Some(b)) = (graph.nodes[keep].take(), graph.nodes[gone].take()) else {
        return;
    };
    a.triangles
        .splice(a.own..a.own, b.triangles[..b.own].iter().copied());
    a.triangles.extend(&b.triangles[b.own..]);
    a.own += b.own;
    a.triangles.extend(of.steps);
    a.triangles.extend(of.extra);
    a.chains.extend(b.chains);
    a.chains.retain(|c| *c != chain);
    for number in &a.chains {
        if let Some(c) = &mut graph.chains[*number] {
            for end in &mut c.nodes {
                if *end == gone {
                    *end = keep;
                }
            }
        }
    }
    graph.nodes[keep] = Some(a);
}

/// The circle of a node: the mean of those of its own triangles.
pub fn circle(plan: &Plan, graph: &Graph, node: usize) -> (Point, f64) {
    let Some(of) = &graph.nodes[node] else {
        return (Point::default(), 0.0);
    };
    let own = of.triangles[..of.own].iter().map(|t| plan.circle(*t));
    let (mut centre, mut radius) = (Point::default(), 0.0);
    for (at, r) in own {
        centre = centre + at;
        radius += r;
    }
    let count = of.own as f64;
    (centre * (1.0 / count), radius / count)
}
