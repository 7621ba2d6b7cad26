//! The inside filled with a nested triangular lattice.

use super::border::Cut;
use super::given::{MeshError, Wanted};
use super::grid::Grid;
use super::size::Sizes;
use crate::revolve::{Bounds, Point};

/// Lattice points nearer to the border than this share of the local size are left out: the border's own vertices
/// do there. An equilateral triangle on a border edge is 0.87 high; the refinement evens out what is left.
const CLEAR: f64 = 0.6;
/// A lattice triangle is quartered while its side is above this many local sizes.
const COARSE: f64 = 1.4;
/// Quarterings at most: the finest edge is a 65,536th of the size asked.
const LEVELS: u32 = 16;

/// The places inside, row by row.
pub fn fill(border: &Cut, sizes: &Sizes, wanted: &Wanted) -> Result<Vec<Point>, MeshError> {
    let stretches = border.stretches();
    let all = stretches
        .iter()
        .map(|(a, b)| Bounds::of(*a, *b))
        .reduce(Bounds::with)
        .ok_or(MeshError::Empty)?;
    let lattice = Lattice {
        // Off the corner by an odd share: a row shall not run along a straight border.
        origin: Point::new(
            all.low.x - 0.37 * sizes.general(),
            all.low.y - 0.41 * sizes.general(),
        ),
        size: sizes.general(),
    };
    let height = 0.75_f64.sqrt() * sizes.general();
    let rows = ((all.high.y - all.low.y) / height).ceil() + 2.0;
    let columns = ((all.high.x - all.low.x) / sizes.general()).ceil() + 2.0;
    // Two triangles a vertex, four nodes of a quadratic mesh; the box may be emptier than it looks.
    let about = rows * columns * 4.0;
    if about > 64.0 * wanted.nodes_at_most as f64 {
        return Err(too_many(about, wanted));
    }
    let mut points: Vec<(i64, i64)> = Vec::new();
    let step = 1i64 << LEVELS;
    for row in -1..=rows as i64 {
        for column in -1 - rows as i64 / 2..=columns as i64 + 1 {
            let corner = (column * step, row * step);
            for upward in [true, false] {
                lattice.quarter(
                    Cell {
                        corner,
                        step,
                        upward,
                    },
                    all,
                    sizes,
                    &mut points,
                );
            }
            if points.len() > 8 * wanted.nodes_at_most {
                return Err(too_many(points.len() as f64 * 4.0, wanted));
            }
        }
    }
    points.sort_unstable_by_key(|(i, j)| (*j, *i));
    points.dedup();
    let inside = inside(border, &lattice, &points);
    let grid = Grid::new(&stretches, sizes.general());
    let kept: Vec<Point> = inside
        .into_iter()
        .filter(|p| !grid.is_near(&stretches, *p, CLEAR * sizes.at(*p)))
        .collect();
    let count = (kept.len() + border.vertices.len()) * 4;
    if count > wanted.nodes_at_most {
        return Err(too_many(count as f64, wanted));
    }
    Ok(kept)
}

fn too_many(about: f64, wanted: &Wanted) -> MeshError {
    MeshError::TooMany {
        count: about as usize,
        at_most: wanted.nodes_at_most,
    }
}

/// A lattice of equilateral triangles, its places named by whole numbers of finest steps.
struct Lattice {
    origin: Point,
    size: f64,
}

/// A triangle of the lattice: the corner at its left end, its side, and whether it points up.
#[derive(Clone, Copy)]
struct Cell {
    corner: (i64, i64),
    step: i64,
    upward: bool,
}

impl Lattice {
    fn place(&self, (i, j): (i64, i64)) -> Point {
        let unit = self.size / (1i64 << LEVELS) as f64;
        let (i, j) = (i as f64, j as f64);
        Point::new(
            self.origin.x + unit * (i + 0.5 * j),
            self.origin.y + unit * 0.75_f64.sqrt() * j,
        )
    }

    fn quarter(&self, cell: Cell, all: Bounds, sizes: &Sizes, out: &mut Vec<(i64, i64)>) {
        let ((i, j), step) = (cell.corner, cell.step);
        // Upward: corner, right, apex. Downward: the apex of the corner, its right, and the corner's right.
        let corners = if cell.upward {
            [(i, j), (i + step, j), (i, j + step)]
        } else {
            [(i + step, j), (i + step, j + step), (i, j + step)]
        };
        let places = corners.map(|c| self.place(c));
        let middle = (places[0] + places[1] + places[2]) * (1.0 / 3.0);
        let side = self.size * step as f64 / (1i64 << LEVELS) as f64;
        let out_of = |at: f64, low: f64, high: f64| at < low - side || at > high + side;
        if out_of(middle.x, all.low.x, all.high.x) || out_of(middle.y, all.low.y, all.high.y) {
            return;
        }
        if step == 1 || side <= COARSE * sizes.at(middle) {
            out.extend(corners);
            return;
        }
        let half = step / 2;
        let child = |corner, upward| Cell {
            corner,
            step: half,
            upward,
        };
        let children = if cell.upward {
            [
                child((i, j), true),
                child((i + half, j), true),
                child((i, j + half), true),
                child((i, j), false),
            ]
        } else {
            [
                child((i + half, j), false),
                child((i + half, j + half), false),
                child((i, j + half), false),
                child((i + half, j + half), true),
            ]
        };
        for c in children {
            self.quarter(c, all, sizes, out);
        }
    }
}

/// The lattice points inside some body; a row is crossed with the border once for all its points.
fn inside(border: &Cut, lattice: &Lattice, points: &[(i64, i64)]) -> Vec<Point> {
    let mut out = Vec::new();
    let mut at = 0;
    while at < points.len() {
        let row = points[at].1;
        let end = at + points[at..].partition_point(|p| p.1 == row);
        let y = lattice.place(points[at]).y;
        let mut crossings: Vec<(f64, u32)> = Vec::new();
        for piece in &border.pieces {
            let [a, b] = piece.ends.map(|v| border.vertices[v as usize]);
            if (a.y > y) != (b.y > y) {
                let x = a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
                crossings.push((x, piece.curve));
            }
        }
        crossings.sort_by(|p, q| p.0.total_cmp(&q.0).then(p.1.cmp(&q.1)));
        let mut odd = vec![false; border.bodies];
        let mut next = 0;
        for point in &points[at..end] {
            let place = lattice.place(*point);
            while next < crossings.len() && crossings[next].0 <= place.x {
                for owner in &border.curves[crossings[next].1 as usize].owners {
                    odd[owner.body] = !odd[owner.body];
                }
                next += 1;
            }
            if odd.iter().any(|is| *is) {
                out.push(place);
            }
        }
        at = end;
    }
    out
}
