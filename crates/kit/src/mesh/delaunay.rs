//! The constrained Delaunay triangulation of border and inside, refined until no triangle is bad.

use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation as _};

use super::border::Cut;
use super::given::{MeshError, Wanted};
use super::grid::Grid;
use super::size::Sizes;
use crate::revolve::Point;

/// Passes at most. Each at least halves what is bad; what is left then lies at corners sharper than wanted.
const PASSES: usize = 14;
/// A triangle is too large when the circle through its corners is this many times that of an equilateral one of
/// the local size.
const TOO_LARGE: f64 = 1.45;
/// Border pieces below this share of the local size are not halved further.
const SHORT: f64 = 0.2;
/// No neighbour beyond an edge.
const NONE: u32 = u32::MAX;

/// A triangle: its corners against the clock, the neighbour beyond each edge, which edges are border, its body.
#[derive(Debug, Clone, Copy)]
pub struct Triangle {
    /// The corners; border vertices first, then the inner ones.
    pub corners: [u32; 3],
    /// The triangle beyond the edge from corner `k` to the next.
    pub beyond: [u32; 3],
    /// Whether that edge lies on the border.
    pub fixed: [bool; 3],
    /// The body it lies in, by number.
    pub body: Option<usize>,
}

/// Refines: adds to the border and to the inside, and gives the triangles of the bodies.
pub fn refine(
    border: &mut Cut,
    inner: &mut Vec<Point>,
    sizes: &Sizes,
    wanted: &Wanted,
) -> Result<Vec<Triangle>, MeshError> {
    let mut all = triangulate(border, inner)?;
    for pass in 0..PASSES {
        let places = places(border, inner);
        let mut round = Round::new(border, sizes, &places, &all);
        let bad = round.bad(wanted, pass);
        if bad.is_empty() {
            break;
        }
        for number in bad {
            round.mend(number);
        }
        let (add, halve) = (round.add, round.halve);
        if add.is_empty() && halve.is_empty() {
            break;
        }
        inner.extend(add);
        for piece in halve {
            border.halve(piece);
        }
        let count = 4 * (border.vertices.len() + inner.len());
        if count > 2 * wanted.nodes_at_most {
            return Err(MeshError::TooMany {
                count,
                at_most: wanted.nodes_at_most,
            });
        }
        all = triangulate(border, inner)?;
    }
    all.retain(|t| t.body.is_some());
    if all.is_empty() {
        return Err(MeshError::Empty);
    }
    Ok(all)
}

/// All vertices: those of the border, then those inside.
pub fn places(border: &Cut, inner: &[Point]) -> Vec<Point> {
    [border.vertices.as_slice(), inner].concat()
}

/// The triangulation of everything, each triangle with its body.
pub fn triangulate(border: &Cut, inner: &[Point]) -> Result<Vec<Triangle>, MeshError> {
    let places = places(border, inner);
    let vertices: Vec<Point2<f64>> = places.iter().map(|p| Point2::new(p.x, p.y)).collect();
    let edges: Vec<[usize; 2]> = border
        .pieces
        .iter()
        .map(|p| p.ends.map(|v| v as usize))
        .collect();
    let mut crossing = None;
    let plan = ConstrainedDelaunayTriangulation::<Point2<f64>>::try_bulk_load_cdt(
        vertices,
        edges,
        |conflict| crossing = crossing.or(Some(conflict)),
    )
    .map_err(|error| MeshError::Triangulation(error.to_string()))?;
    if let Some([a, _]) = crossing {
        let at = plan
            .vertices()
            .nth(a)
            .map_or(places[0], |v| Point::new(v.position().x, v.position().y));
        return Err(MeshError::Crossing {
            x_mm: at.x,
            y_mm: at.y,
        });
    }
    if plan.num_vertices() != places.len() {
        return Err(doubled(&places));
    }
    let number = |index: usize| index as u32 - 1;
    let mut out = Vec::with_capacity(plan.num_inner_faces());
    for face in plan.inner_faces() {
        debug_assert_eq!(number(face.fix().index()) as usize, out.len());
        let edges = face.adjacent_edges();
        out.push(Triangle {
            corners: edges.map(|e| e.from().fix().index() as u32),
            beyond: edges.map(|e| {
                let other = e.rev().face();
                other.as_inner().map_or(NONE, |f| number(f.fix().index()))
            }),
            fixed: edges.map(|e| e.is_constraint_edge()),
            body: None,
        });
    }
    name_bodies(border, &places, &mut out);
    Ok(out)
}

/// Two vertices at one place: two sides cut each other just there.
fn doubled(places: &[Point]) -> MeshError {
    let mut sorted = places.to_vec();
    sorted.sort_by(|p, q| p.x.total_cmp(&q.x).then(p.y.total_cmp(&q.y)));
    let pairs = sorted.windows(2);
    let at = pairs.filter(|w| w[0] == w[1]).map(|w| w[0]).next();
    let at = at.unwrap_or_default();
    MeshError::Crossing {
        x_mm: at.x,
        y_mm: at.y,
    }
}

/// Triangles not parted by the border lie in the same body: one place of each patch is looked at.
fn name_bodies(border: &Cut, places: &[Point], triangles: &mut [Triangle]) {
    let mut seen = vec![false; triangles.len()];
    let mut open = Vec::new();
    for first in 0..triangles.len() {
        if seen[first] {
            continue;
        }
        let mut patch = Vec::new();
        let mut is_outside = false;
        seen[first] = true;
        open.push(first);
        while let Some(at) = open.pop() {
            patch.push(at);
            let t = triangles[at];
            for k in 0..3 {
                let next = t.beyond[k];
                // A straight side's vertices are straight but for rounding: between them and the hull lie slivers no
                // place of which can be told inside from outside. They reach the hull across no border.
                is_outside |= !t.fixed[k] && next == NONE;
                if !t.fixed[k] && next != NONE && !seen[next as usize] {
                    seen[next as usize] = true;
                    open.push(next as usize);
                }
            }
        }
        if is_outside {
            continue;
        }
        // The largest triangle of the patch: its middle is farthest from the border.
        let area = |at: &usize| {
            let [a, b, c] = triangles[*at].corners.map(|v| places[v as usize]);
            crate::revolve::cross(b - a, c - a)
        };
        let largest = patch
            .iter()
            .copied()
            .max_by(|p, q| area(p).total_cmp(&area(q)).then(q.cmp(p)));
        let body = largest.and_then(|at| {
            let [a, b, c] = triangles[at].corners.map(|v| places[v as usize]);
            border.body_at((a + b + c) * (1.0 / 3.0))
        });
        for at in patch {
            triangles[at].body = body;
        }
    }
}

/// One pass over the bad triangles.
struct Round<'a> {
    sizes: &'a Sizes,
    places: &'a [Point],
    triangles: &'a [Triangle],
    stretches: Vec<(Point, Point)>,
    grid: Grid,
    /// Triangles some mending of this pass has taken.
    taken: Vec<bool>,
    /// Border pieces taken.
    halved: Vec<bool>,
    add: Vec<Point>,
    halve: Vec<usize>,
}

/// A circle through three places: its centre and radius.
fn circle(a: Point, b: Point, c: Point) -> (Point, f64) {
    let (u, v) = (b - a, c - a);
    let twice = 2.0 * crate::revolve::cross(u, v);
    let (uu, vv) = (u.x * u.x + u.y * u.y, v.x * v.x + v.y * v.y);
    let off = Point::new((v.y * uu - u.y * vv) / twice, (u.x * vv - v.x * uu) / twice);
    (a + off, off.x.hypot(off.y))
}

impl<'a> Round<'a> {
    fn new(border: &Cut, sizes: &'a Sizes, places: &'a [Point], triangles: &'a [Triangle]) -> Self {
        let stretches = border.stretches();
        Self {
            sizes,
            places,
            triangles,
            grid: Grid::new(&stretches, sizes.general()),
            taken: vec![false; triangles.len()],
            halved: vec![false; stretches.len()],
            stretches,
            add: Vec::new(),
            halve: Vec::new(),
        }
    }

    fn corners(&self, number: usize) -> [Point; 3] {
        self.triangles[number]
            .corners
            .map(|v| self.places[v as usize])
    }

    /// The bad triangles, worst first.
    fn bad(&self, wanted: &Wanted, pass: usize) -> Vec<usize> {
        // Shape is the shortest edge over the circle's diameter: the sine of the least angle.
        let least = wanted.least_angle_deg.to_radians().sin();
        let mut found: Vec<(f64, usize)> = Vec::new();
        for (number, t) in self.triangles.iter().enumerate() {
            if t.body.is_none() {
                continue;
            }
            let [a, b, c] = self.corners(number);
            let (_, radius) = circle(a, b, c);
            let lengths = [a.distance(b), b.distance(c), c.distance(a)];
            let shortest = lengths.iter().fold(f64::INFINITY, |s, l| s.min(*l));
            let shape = shortest / (2.0 * radius);
            let size = self.sizes.at((a + b + c) * (1.0 / 3.0));
            let large = radius * 3.0_f64.sqrt() / (size * TOO_LARGE);
            // Both edges at the sharp corner are border: no vertex can widen it.
            let k = (0..3)
                .min_by(|p, q| lengths[*p].total_cmp(&lengths[*q]))
                .unwrap_or(0);
            let given = t.fixed[(k + 1) % 3] && t.fixed[(k + 2) % 3];
            // Late passes leave size alone, so that they end.
            let late = pass > PASSES / 2;
            let badness = if large > 1.0 && !late {
                large
            } else if shape < least && !given && shortest > SHORT * SHORT * size {
                least / shape
            } else {
                continue;
            };
            found.push((badness, number));
        }
        found.sort_by(|p, q| q.0.total_cmp(&p.0).then(p.1.cmp(&q.1)));
        found.into_iter().map(|(_, number)| number).collect()
    }

    /// Adds the centre of the circle through a bad triangle's corners, or halves the border in its way.
    fn mend(&mut self, number: usize) {
        if self.taken[number] {
            return;
        }
        let [a, b, c] = self.corners(number);
        let (centre, radius) = circle(a, b, c);
        if !centre.x.is_finite() || !radius.is_finite() {
            return;
        }
        // Edges in whose diametral circle the centre would lie, and those between it and the triangle.
        let seen_from = (a + b + c) * (1.0 / 3.0);
        let mut blocking = Vec::new();
        let (stretches, grid) = (&self.stretches, &self.grid);
        let reach = radius + seen_from.distance(centre);
        grid.near(centre, reach, |piece| {
            let (p, q) = stretches[piece];
            let (u, v) = (p - centre, q - centre);
            if u.x * v.x + u.y * v.y < 0.0 || crosses(seen_from, centre, p, q) {
                blocking.push(piece);
            }
        });
        blocking.sort_unstable();
        blocking.dedup();
        if !blocking.is_empty() {
            for piece in blocking {
                self.split(piece);
            }
            self.taken[number] = true;
            return;
        }
        let Some(conflict) = self.conflict(number, centre) else {
            return;
        };
        for at in conflict {
            self.taken[at] = true;
        }
        self.add.push(centre);
    }

    fn split(&mut self, piece: usize) {
        let (p, q) = self.stretches[piece];
        let long = p.distance(q) > SHORT * self.sizes.at(p.toward(q, 0.5));
        if !self.halved[piece] && long {
            self.halved[piece] = true;
            self.halve.push(piece);
        }
    }

    /// The triangles whose circle holds the place, from one of them on; none when one is taken already.
    fn conflict(&self, first: usize, place: Point) -> Option<Vec<usize>> {
        let mut found = vec![first];
        let mut at = 0;
        while at < found.len() {
            let t = self.triangles[found[at]];
            if self.taken[found[at]] {
                return None;
            }
            for k in 0..3 {
                let next = t.beyond[k];
                if t.fixed[k] || next == NONE || found.contains(&(next as usize)) {
                    continue;
                }
                let [a, b, c] = self.corners(next as usize);
                let (centre, radius) = circle(a, b, c);
                if centre.distance(place) < radius {
                    found.push(next as usize);
                }
            }
            at += 1;
        }
        Some(found)
    }
}

/// Whether two straight stretches cross.
fn crosses(a: Point, b: Point, c: Point, d: Point) -> bool {
    let side = |p: Point, q: Point, r: Point| crate::revolve::cross(q - p, r - p) > 0.0;
    side(a, b, c) != side(a, b, d) && side(c, d, a) != side(c, d, b)
}
