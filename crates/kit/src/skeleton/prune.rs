//! Side lines that are no walls are taken into the walls they stand on.

use super::chains::{Chain, Graph, Node, Plan};
use super::given::Wanted;
use crate::revolve::Point;

/// Prunes until every free end stands for a wall.
///
/// Junctions from which but one line leads on come first: a chamfered end is a nest of them, and a round one, too. All
/// corners must be seen there before the wall that leads to them is drawn on.
pub fn prune(plan: &Plan, graph: &mut Graph, wanted: &Wanted) {
    loop {
        let mut any = false;
        for node in 0..graph.nodes.len() {
            any |= prune_at(plan, graph, node, wanted, 1);
        }
        if !any && !(0..graph.nodes.len()).any(|node| prune_at(plan, graph, node, wanted, 2)) {
            return;
        }
    }
}

/// Prunes at a junction from which no more than `leads_at_most` lines lead on; whether anything was pruned.
fn prune_at(
    plan: &Plan,
    graph: &mut Graph,
    node: usize,
    wanted: &Wanted,
    leads_at_most: usize,
) -> bool {
    let Some(of) = graph.nodes[node].as_ref().filter(|n| n.chains.len() >= 3) else {
        return false;
    };
    let circle = plan.circle(of.triangles[0]);
    let mut stout: Vec<(f64, usize)> = Vec::new();
    let mut leads = 0;
    for chain in &of.chains {
        let far = graph.other_end(*chain, node);
        let is_free = far != node && graph.degree(far) == 1;
        let looks = is_free.then(|| Looks::of(plan, graph, *chain, (node, far), circle));
        match looks.filter(|l| !l.is_wall(circle.1, wanted)) {
            Some(looks) => stout.push((looks.reach, *chain)),
            None => leads += 1,
        }
    }
    if leads > leads_at_most || stout.is_empty() {
        return false;
    }
    // A blob without walls keeps its longest line, which is drawn on to the other side.
    stout.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let spare = usize::from(leads == 0);
    let lines: Vec<usize> = stout.into_iter().skip(spare).map(|(_, c)| c).collect();
    take_in(graph, node, &lines);
    !lines.is_empty()
}

/// How a side line looks from the junction it stands on.
struct Looks {
    /// How far it reaches out of the junction's circle.
    reach: f64,
    /// Its mean width out there.
    width: f64,
}

impl Looks {
    /// Slender, or long against the junction.
    fn is_wall(&self, radius: f64, wanted: &Wanted) -> bool {
        let is_slender = self.reach > wanted.slender_ratio * self.width
            && self.reach > wanted.reach_ratio * radius;
        is_slender || self.reach > wanted.long_ratio * radius
    }

    fn of(
        plan: &Plan,
        graph: &Graph,
        chain: usize,
        (node, far): (usize, usize),
        (centre, radius): (Point, f64),
    ) -> Self {
        let triangles = graph.triangles_from(chain, far);
        let corners = triangles.iter().flat_map(|t| plan.triangle(*t));
        let farthest = corners.map(|p| p.distance(centre)).fold(0.0, f64::max);
        let mut gates: Vec<[u32; 2]> = Vec::new();
        if let Some(of) = &graph.chains[chain] {
            gates.extend(&of.gates);
            if of.nodes[0] != node {
                gates.reverse();
            }
        }
        let last = gates.last().map_or(0.0, |gate| {
            let [a, b] = gate.map(|v| plan.places[v as usize]);
            a.distance(b)
        });
        let outside = gates.iter().filter_map(|gate| {
            let [a, b] = gate.map(|v| plan.places[v as usize]);
            let at = a.toward(b, 0.5).distance(centre);
            (at > radius).then(|| (at, a.distance(b)))
        });
        // Each width counts with the way to the next, for gates stand closer where sides are cut finer.
        let outside: Vec<(f64, f64)> = outside.collect();
        let (mut area, mut before) = (0.0, None::<(f64, f64)>);
        for (at, width) in outside {
            let (from, other) = before.unwrap_or((radius, width));
            area += 0.5 * (width + other) * (at - from).max(0.0);
            before = Some((at, width));
        }
        let reach = farthest - radius;
        // A line whose gates all lie in the circle is as wide as its last one.
        let width = match before {
            Some((at, width)) if reach > 0.0 => {
                (area + 0.5 * width * (farthest - at).max(0.0)) / reach
            }
            _ => last,
        };
        Self { reach, width }
    }
}

/// Takes side lines into what is left at their junction.
fn take_in(graph: &mut Graph, node: usize, lines: &[usize]) {
    let mut taken = Vec::new();
    for line in lines {
        let far = graph.other_end(*line, node);
        taken.extend(graph.triangles_from(*line, far));
        graph.chains[*line] = None;
        graph.nodes[far] = None;
        if let Some(n) = &mut graph.nodes[node] {
            n.chains.retain(|c| c != line);
        }
    }
    let Some(mut of) = graph.nodes[node].take() else {
        return;
    };
    match *of.chains.as_slice() {
        [one, other] if one != other => merge(graph, node, &of, (one, other), taken),
        _ => {
            of.triangles.extend(taken);
            graph.nodes[node] = Some(of);
        }
    }
}

/// Two chains through what was a junction become one; the junction's own triangle is a step of it.
fn merge(
    graph: &mut Graph,
    node: usize,
    of: &Node,
    (one, other): (usize, usize),
    taken: Vec<usize>,
) {
    let (Some(a), Some(b)) = (graph.chains[one].take(), graph.chains[other].take()) else {
        return;
    };
    let a = if a.nodes[1] == node { a } else { a.turned() };
    let b = if b.nodes[0] == node { b } else { b.turned() };
    let mut joined = Chain {
        nodes: [a.nodes[0], b.nodes[1]],
        gates: [a.gates, b.gates].concat(),
        steps: a.steps,
        extra: [a.extra, b.extra, taken].concat(),
    };
    joined.steps.push(of.triangles[0]);
    joined.steps.extend(b.steps);
    joined.extra.extend(&of.triangles[1..]);
    for end in joined.nodes {
        if let Some(n) = &mut graph.nodes[end] {
            for chain in &mut n.chains {
                if *chain == other {
                    *chain = one;
                }
            }
        }
    }
    graph.chains[one] = Some(joined);
}
