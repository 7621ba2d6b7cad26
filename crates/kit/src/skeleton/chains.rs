//! The triangles as a graph: chains of steps along walls between ends and junctions.

use crate::mesh::Triangle;
use crate::revolve::{Point, cross};

/// A triangle flatter than this (its height over its longest side) is a rounding of a straight side.
const FLAT: f64 = 1e-7;

/// The triangulated section.
#[derive(Debug)]
pub struct Plan {
    /// The cuts of the outline.
    pub places: Vec<Point>,
    /// Corners of each triangle.
    pub corners: Vec<[u32; 3]>,
    /// The triangle beyond the side from corner `k` to the next; none where that side is outline.
    pub beyond: Vec<[Option<usize>; 3]>,
}

impl Plan {
    /// The triangles inside; what is flat at the outline counts as outline.
    pub fn of(places: Vec<Point>, triangles: Vec<Triangle>) -> Option<Self> {
        let is_in = |t: usize| triangles[t].body.is_some();
        let mut corners: Vec<[u32; 3]> = triangles.iter().map(|t| t.corners).collect();
        let mut beyond: Vec<[Option<usize>; 3]> = triangles
            .iter()
            .map(|t| {
                [0, 1, 2].map(|k| {
                    let other = t.beyond[k] as usize;
                    (!t.fixed[k] && other < triangles.len() && is_in(other)).then_some(other)
                })
            })
            .collect();
        let mut kept: Vec<bool> = (0..corners.len()).map(is_in).collect();
        let mut plan = Self {
            places,
            corners: Vec::new(),
            beyond: Vec::new(),
        };
        std::mem::swap(&mut plan.corners, &mut corners);
        std::mem::swap(&mut plan.beyond, &mut beyond);
        plan.drop_flat(&mut kept);
        plan.renumber(&kept);
        (!plan.corners.is_empty()).then_some(plan)
    }

    /// Flat triangles with but one neighbour are taken away, and again, until none is left.
    fn drop_flat(&mut self, kept: &mut [bool]) {
        let mut open: Vec<usize> = (0..kept.len()).filter(|t| kept[*t]).collect();
        while let Some(t) = open.pop() {
            let near: Vec<usize> = self.beyond[t].iter().flatten().copied().collect();
            if !kept[t] || near.len() > 1 || !self.is_flat(t) {
                continue;
            }
            kept[t] = false;
            for other in near {
                for side in &mut self.beyond[other] {
                    *side = side.filter(|at| *at != t);
                }
                open.push(other);
            }
        }
    }

    fn is_flat(&self, t: usize) -> bool {
        let [a, b, c] = self.triangle(t);
        let longest = a.distance(b).max(b.distance(c)).max(c.distance(a));
        cross(b - a, c - a).abs() <= FLAT * longest * longest
    }

    fn renumber(&mut self, kept: &[bool]) {
        let mut number = vec![None; kept.len()];
        let mut count = 0;
        for (t, number) in number.iter_mut().enumerate() {
            if kept[t] {
                *number = Some(count);
                count += 1;
            }
        }
        let keep = |t: &usize| kept[*t];
        let all = 0..kept.len();
        self.corners = all.clone().filter(keep).map(|t| self.corners[t]).collect();
        self.beyond = all
            .filter(keep)
            .map(|t| self.beyond[t].map(|at| at.and_then(|at| number[at])))
            .collect();
    }

    /// The places of a triangle's corners.
    pub fn triangle(&self, t: usize) -> [Point; 3] {
        self.corners[t].map(|v| self.places[v as usize])
    }

    /// How many triangles lie beside it.
    pub fn degree(&self, t: usize) -> usize {
        self.beyond[t].iter().flatten().count()
    }

    /// The circle through a triangle's corners; of a flat one, around its longest side.
    pub fn circle(&self, t: usize) -> (Point, f64) {
        let [a, b, c] = self.triangle(t);
        let (u, v) = (b - a, c - a);
        let twice = 2.0 * cross(u, v);
        let (uu, vv) = (u.x * u.x + u.y * u.y, v.x * v.x + v.y * v.y);
        let off = Point::new((v.y * uu - u.y * vv) / twice, (u.x * vv - v.x * uu) / twice);
        if off.x.is_finite() && off.y.is_finite() && !self.is_flat(t) {
            return (a + off, off.x.hypot(off.y));
        }
        let middle = (a + b + c) * (1.0 / 3.0);
        (
            middle,
            0.5 * a.distance(b).max(b.distance(c)).max(c.distance(a)),
        )
    }
}

/// An end, a junction, or a seam where a line closes in itself.
#[derive(Debug, Clone, Default)]
pub struct Node {
    /// Its triangles, those of what was pruned into it included; the first is the one it grew from.
    pub triangles: Vec<usize>,
    /// How many of them, from the first, are its own.
    pub own: usize,
    /// The chains that end here; a chain that comes back stands twice.
    pub chains: Vec<usize>,
}

/// Steps along a wall from one node to another.
#[derive(Debug, Clone, Default)]
pub struct Chain {
    /// The nodes it runs between.
    pub nodes: [usize; 2],
    /// The shared sides it crosses, in order.
    pub gates: Vec<[u32; 2]>,
    /// The triangles between them, one fewer.
    pub steps: Vec<usize>,
    /// Triangles of side lines that were pruned into it.
    pub extra: Vec<usize>,
}

/// Nodes and chains; those that are gone are none.
#[derive(Debug)]
pub struct Graph {
    /// The nodes.
    pub nodes: Vec<Option<Node>>,
    /// The chains.
    pub chains: Vec<Option<Chain>>,
}

impl Graph {
    /// Every chain of the triangulation, nothing pruned.
    pub fn of(plan: &Plan) -> Self {
        let count = plan.corners.len();
        let mut node_of = vec![None; count];
        let mut graph = Self {
            nodes: Vec::new(),
            chains: Vec::new(),
        };
        let mut stepped = vec![false; count];
        for (t, of) in node_of.iter_mut().enumerate() {
            if plan.degree(t) != 2 {
                *of = Some(graph.add_node(t));
            }
        }
        for first in 0..count {
            if node_of[first].is_some() {
                graph.walk_from(plan, first, &node_of, &mut stepped);
            }
        }
        // What is left are rings of steps that meet no node: each gets a seam.
        for first in 0..count {
            if node_of[first].is_none() && !stepped[first] {
                node_of[first] = Some(graph.add_node(first));
                graph.walk_from(plan, first, &node_of, &mut stepped);
            }
        }
        graph
    }

    fn add_node(&mut self, triangle: usize) -> usize {
        self.nodes.push(Some(Node {
            triangles: vec![triangle],
            own: 1,
            chains: Vec::new(),
        }));
        self.nodes.len() - 1
    }

    /// The chains that begin at a node's triangle and were not walked yet.
    fn walk_from(
        &mut self,
        plan: &Plan,
        first: usize,
        node_of: &[Option<usize>],
        stepped: &mut [bool],
    ) {
        let Some(from) = node_of[first] else { return };
        for k in 0..3 {
            let Some(mut at) = plan.beyond[first][k] else {
                continue;
            };
            // A chain is walked from its lower end; one that has steps is marked by them.
            let direct = node_of[at];
            if stepped[at] || direct.is_some_and(|to| to < from) {
                continue;
            }
            let mut chain = Chain {
                gates: vec![side(plan, first, k)],
                ..Chain::default()
            };
            let mut before = first;
            while node_of[at].is_none() {
                stepped[at] = true;
                chain.steps.push(at);
                let next = (0..3).find_map(|j| {
                    let other = plan.beyond[at][j].filter(|other| *other != before);
                    other.map(|other| (j, other))
                });
                let Some((j, other)) = next else { break };
                chain.gates.push(side(plan, at, j));
                (before, at) = (at, other);
            }
            let Some(to) = node_of[at] else { continue };
            chain.nodes = [from, to];
            let number = self.chains.len();
            self.chains.push(Some(chain));
            for end in [from, to] {
                if let Some(node) = &mut self.nodes[end] {
                    node.chains.push(number);
                }
            }
        }
    }

    /// How many chains end at a node.
    pub fn degree(&self, node: usize) -> usize {
        self.nodes[node].as_ref().map_or(0, |n| n.chains.len())
    }

    /// Every triangle of a chain and, where they hang on it alone, of its far end.
    pub fn triangles_from(&self, chain: usize, far: usize) -> Vec<usize> {
        let Some(of) = &self.chains[chain] else {
            return Vec::new();
        };
        let mut all = of.steps.clone();
        all.extend(&of.extra);
        if let Some(node) = &self.nodes[far] {
            all.extend(&node.triangles);
        }
        all
    }

    /// The other end of a chain.
    pub fn other_end(&self, chain: usize, node: usize) -> usize {
        self.chains[chain].as_ref().map_or(node, |c| {
            if c.nodes[0] == node {
                c.nodes[1]
            } else {
                c.nodes[0]
            }
        })
    }
}

/// The side from corner `k` of a triangle to the next.
fn side(plan: &Plan, t: usize, k: usize) -> [u32; 2] {
    [plan.corners[t][k], plan.corners[t][(k + 1) % 3]]
}

impl Chain {
    /// Walked the other way.
    pub fn turned(mut self) -> Self {
        self.nodes.reverse();
        self.gates.reverse();
        self.steps.reverse();
        self
    }
}
