//! What leaves: nodes, branches, and every piece of the section with its place along a branch.

use super::chains::{Graph, Plan};
use super::given::{SkeletonError, Wanted};
use super::line::{Branch, Drawn, area, draw};
use super::nodes::circle;
use crate::revolve::Point;

/// Pieces of junctions and ends are cut until no side is longer than this many steps.
const FINE: f64 = 5.0;
/// The nearest place of a line is looked for at every so many points first, then between.
const STRIDE: usize = 6;
/// And no further than this often.
const CUTS: u32 = 8;

/// Where branches end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SkeletonNode {
    /// Where it is.
    pub place: Point,
    /// How many branches end here: 1 a free end, 3 or more a junction, 2 a seam of a closed line.
    pub branches_count: usize,
    /// Radius of the largest circle about a junction; half the width of a free end.
    pub radius_mm: f64,
}

/// A triangle of the section, counted to the stretch of a branch it lies on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// Its corners.
    pub corners: [Point; 3],
    /// The branch.
    pub branch: usize,
    /// Where the stretch begins.
    pub from_mm: f64,
    /// Where it ends; where it begins for a piece of a junction, of an end, or of what was pruned.
    pub to_mm: f64,
    /// Whether it is a step of a wall from one side to the other.
    pub is_wall: bool,
}

impl Cell {
    /// Its area.
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        area(self.corners)
    }

    /// Its middle.
    #[must_use]
    pub fn middle(&self) -> Point {
        let [a, b, c] = self.corners;
        (a + b + c) * (1.0 / 3.0)
    }
}

/// The middle line of a section.
#[derive(Debug, Clone, PartialEq)]
pub struct Skeleton {
    /// Ends and junctions.
    pub nodes: Vec<SkeletonNode>,
    /// The lines between them.
    pub branches: Vec<Branch>,
    /// The whole section in pieces.
    pub cells: Vec<Cell>,
}

/// Draws every chain and shares the triangles out.
pub fn answer(plan: &Plan, graph: &Graph, wanted: &Wanted) -> Result<Skeleton, SkeletonError> {
    let mut number = vec![usize::MAX; graph.nodes.len()];
    let mut count = 0;
    for (node, of) in graph.nodes.iter().enumerate() {
        if of.as_ref().is_some_and(|n| !n.chains.is_empty()) {
            number[node] = count;
            count += 1;
        }
    }
    let chains: Vec<usize> = (0..graph.chains.len())
        .filter(|c| graph.chains[*c].is_some())
        .collect();
    if chains.is_empty() {
        return Err(SkeletonError::Empty);
    }
    let mut nodes = vec![None; count];
    let mut out = Skeleton {
        nodes: Vec::new(),
        branches: Vec::new(),
        cells: Vec::new(),
    };
    let mut branch_of = vec![usize::MAX; graph.chains.len()];
    let mut drawn: Vec<Drawn> = Vec::new();
    for chain in &chains {
        let Some(of) = &graph.chains[*chain] else {
            continue;
        };
        branch_of[*chain] = drawn.len();
        let mut one = draw(plan, graph, of, wanted.step_mm);
        for (k, node) in of.nodes.iter().enumerate() {
            let ends = [0, one.branch.points.len() - 1];
            let at = one.branch.points[ends[k]];
            let branches_count = graph.degree(*node);
            let radius_mm = if branches_count >= 3 {
                circle(plan, graph, *node).1
            } else {
                0.5 * at.width_mm
            };
            nodes[number[*node]] = Some(SkeletonNode {
                place: at.place,
                branches_count,
                radius_mm,
            });
            one.branch.nodes[k] = number[*node];
        }
        drawn.push(one);
    }
    for chain in &chains {
        let Some(of) = &graph.chains[*chain] else {
            continue;
        };
        let branch = branch_of[*chain];
        for (step, t) in of.steps.iter().enumerate() {
            out.cells.push(Cell {
                corners: plan.triangle(*t),
                branch,
                from_mm: drawn[branch].gates_mm[step],
                to_mm: drawn[branch].gates_mm[step + 1],
                is_wall: true,
            });
        }
        let lines = [(branch, &drawn[branch].branch)];
        for t in &of.extra {
            share(&mut out.cells, plan.triangle(*t), &lines, wanted);
        }
    }
    for of in graph.nodes.iter().flatten() {
        let mut near: Vec<usize> = of.chains.iter().map(|c| branch_of[*c]).collect();
        near.dedup();
        let lines: Vec<(usize, &Branch)> = near.iter().map(|b| (*b, &drawn[*b].branch)).collect();
        for t in &of.triangles {
            share(&mut out.cells, plan.triangle(*t), &lines, wanted);
        }
    }
    out.nodes = nodes.into_iter().flatten().collect();
    out.branches = drawn.into_iter().map(|d| d.branch).collect();
    Ok(out)
}

/// A triangle in pieces, each counted to the nearest place of some branches.
fn share(cells: &mut Vec<Cell>, triangle: [Point; 3], lines: &[(usize, &Branch)], wanted: &Wanted) {
    let mut open = vec![(triangle, CUTS)];
    while let Some((corners, cuts)) = open.pop() {
        let [a, b, c] = corners;
        let longest = a.distance(b).max(b.distance(c)).max(c.distance(a));
        if longest > FINE * wanted.step_mm && cuts > 0 {
            let (ab, bc, ca) = (a.toward(b, 0.5), b.toward(c, 0.5), c.toward(a, 0.5));
            for part in [[a, ab, ca], [ab, b, bc], [ca, bc, c], [ab, bc, ca]] {
                open.push((part, cuts - 1));
            }
            continue;
        }
        let middle = (a + b + c) * (1.0 / 3.0);
        let near = lines
            .iter()
            .map(|(branch, line)| (nearest(line, middle), *branch))
            .min_by(|(a, _), (b, _)| a.0.total_cmp(&b.0));
        let Some(((_, along_mm), branch)) = near else {
            continue;
        };
        cells.push(Cell {
            corners,
            branch,
            from_mm: along_mm,
            to_mm: along_mm,
            is_wall: false,
        });
    }
}

/// Distance to a line's nearest point, and its way along the line.
fn nearest(line: &Branch, place: Point) -> (f64, f64) {
    let points = &line.points;
    // Squares compare as distances do, and take no root.
    let far = |k: usize| {
        let off = points[k].place - place;
        off.x * off.x + off.y * off.y
    };
    let rough = (0..points.len()).step_by(STRIDE);
    let rough = rough
        .min_by(|a, b| far(*a).total_cmp(&far(*b)))
        .unwrap_or(0);
    let (from, to) = (
        rough.saturating_sub(STRIDE),
        (rough + STRIDE).min(points.len() - 1),
    );
    let best = (from..=to)
        .min_by(|a, b| far(*a).total_cmp(&far(*b)))
        .unwrap_or(rough);
    (far(best).sqrt(), points[best].along_mm)
}
