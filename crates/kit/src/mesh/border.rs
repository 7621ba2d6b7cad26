//! The outlines cut to pieces of the wanted size, with the curve each piece lies on.

use std::collections::BTreeMap;

use super::given::{Body, MeshError, Wanted};
use super::size::{Sizes, to_stretch};
use crate::revolve::{Point, Segment};

/// Stretches a curve's length is reckoned in before it is cut.
const LOOKS: usize = 64;
/// Places nearer than this share of the whole size are one place: the rounding of any reckoning before.
const SAME: f64 = 1e-9;

/// One side of one body on a curve.
#[derive(Debug, Clone, Copy)]
pub struct Owner {
    /// Number of the body in the caller's list.
    pub body: usize,
    /// Its region.
    pub region: u32,
    /// The caller's label.
    pub label: u32,
}

/// A curve, kept once however many bodies lie on it.
#[derive(Debug)]
pub struct Curve {
    /// The curve.
    pub segment: Segment,
    /// The vertices it starts and ends at.
    pub ends: [u32; 2],
    /// Who lies on it.
    pub owners: Vec<Owner>,
}

/// A straight piece between two vertices, standing for a part of a curve.
#[derive(Debug, Clone, Copy)]
pub struct Piece {
    /// The vertices at its ends.
    pub ends: [u32; 2],
    /// The curve it lies on.
    pub curve: u32,
    /// The parameters of its ends.
    pub at: [f64; 2],
}

/// The cut border.
#[derive(Debug)]
pub struct Cut {
    /// The vertices on the border, first in every list of vertices.
    pub vertices: Vec<Point>,
    /// The curves.
    pub curves: Vec<Curve>,
    /// The pieces.
    pub pieces: Vec<Piece>,
    /// How many bodies there are.
    pub bodies: usize,
}

impl Cut {
    /// Cuts all sides; sides that two bodies share end to end are cut once.
    pub fn of(bodies: &[Body], sizes: &Sizes, wanted: &Wanted) -> Result<Self, MeshError> {
        let reach = reach(bodies).ok_or(MeshError::Empty)?;
        let mut places = Places::new(reach * SAME);
        let mut sides: Vec<(Segment, Owner)> = Vec::new();
        for (body, given) in bodies.iter().enumerate() {
            for side in given.loops.iter().flatten() {
                let owner = Owner {
                    body,
                    region: given.region,
                    label: side.label,
                };
                sides.push((side.curve, owner));
            }
        }
        let corners: Vec<Point> = sides.iter().map(|(s, _)| s.start()).collect();
        let sides = split_at_corners(sides, &corners, reach * SAME);

        let mut known: BTreeMap<(u32, u32, u32), usize> = BTreeMap::new();
        let mut middles = Places::new(reach * SAME * 16.0);
        let mut curves: Vec<Curve> = Vec::new();
        for (segment, owner) in sides {
            let (a, b) = (places.number(segment.start()), places.number(segment.end()));
            if a == b && segment.bounds().low.distance(segment.bounds().high) <= reach * SAME {
                continue;
            }
            let middle = middles.number(segment.at(0.5));
            let curve = *known
                .entry((a.min(b), a.max(b), middle))
                .or_insert_with(|| {
                    curves.push(Curve {
                        segment,
                        ends: [a, b],
                        owners: Vec::new(),
                    });
                    curves.len() - 1
                });
            curves[curve].owners.push(owner);
        }
        let mut out = Self {
            vertices: places.all,
            curves,
            pieces: Vec::new(),
            bodies: bodies.len(),
        };
        for curve in 0..out.curves.len() {
            out.cut_one(curve, sizes, wanted)?;
        }
        Ok(out)
    }

    fn cut_one(&mut self, curve: usize, sizes: &Sizes, wanted: &Wanted) -> Result<(), MeshError> {
        let (segment, [first, last]) = (self.curves[curve].segment, self.curves[curve].ends);
        let at_most = wanted.nodes_at_most;
        let room = at_most.saturating_sub(self.vertices.len());
        let cuts = cuts(&segment, sizes, first == last, room)
            .map_err(|count| MeshError::TooMany { count, at_most })?;
        let mut before = (first, 0.0);
        for t in cuts {
            self.vertices.push(segment.at(t));
            let here = (self.vertices.len() as u32 - 1, t);
            self.push(curve, before, here);
            before = here;
        }
        self.push(curve, before, (last, 1.0));
        Ok(())
    }

    fn push(&mut self, curve: usize, from: (u32, f64), to: (u32, f64)) {
        self.pieces.push(Piece {
            ends: [from.0, to.0],
            curve: curve as u32,
            at: [from.1, to.1],
        });
    }

    /// Halves a piece at the middle of its part of the curve; the new vertex goes to the end.
    pub fn halve(&mut self, piece: usize) {
        let old = self.pieces[piece];
        let t = 0.5 * (old.at[0] + old.at[1]);
        self.vertices
            .push(self.curves[old.curve as usize].segment.at(t));
        let middle = self.vertices.len() as u32 - 1;
        self.pieces[piece].ends[1] = middle;
        self.pieces[piece].at[1] = t;
        self.push(old.curve as usize, (middle, t), (old.ends[1], old.at[1]));
    }

    /// The two places of every piece.
    pub fn stretches(&self) -> Vec<(Point, Point)> {
        let place = |at: u32| self.vertices[at as usize];
        let pieces = self.pieces.iter();
        pieces
            .map(|p| (place(p.ends[0]), place(p.ends[1])))
            .collect()
    }

    /// The body a place lies in (even-odd rule over the cut border), the first when several do.
    pub fn body_at(&self, place: Point) -> Option<usize> {
        let mut odd = vec![false; self.bodies];
        for piece in &self.pieces {
            let (a, b) = (
                self.vertices[piece.ends[0] as usize],
                self.vertices[piece.ends[1] as usize],
            );
            if (a.y > place.y) != (b.y > place.y) {
                let x = a.x + (b.x - a.x) * ((place.y - a.y) / (b.y - a.y));
                if x > place.x {
                    for owner in &self.curves[piece.curve as usize].owners {
                        odd[owner.body] = !odd[owner.body];
                    }
                }
            }
        }
        odd.iter().position(|is| *is)
    }
}

/// The diagonal of the box around everything.
fn reach(bodies: &[Body]) -> Option<f64> {
    let sides = bodies.iter().flat_map(|b| b.loops.iter().flatten());
    let all = sides
        .map(|s| s.curve.bounds())
        .reduce(crate::revolve::Bounds::with)?;
    let reach = all.low.distance(all.high);
    (reach > 0.0).then_some(reach)
}

/// Straight sides are parted where a corner of another side lies on them, so that shared stretches agree.
fn split_at_corners(
    sides: Vec<(Segment, Owner)>,
    corners: &[Point],
    same: f64,
) -> Vec<(Segment, Owner)> {
    let mut out = Vec::with_capacity(sides.len());
    for (segment, owner) in sides {
        let Segment::Line(a, b) = segment else {
            out.push((segment, owner));
            continue;
        };
        let length = a.distance(b);
        let mut on: Vec<(f64, Point)> = corners
            .iter()
            .filter(|p| to_stretch(**p, a, b) <= same)
            .map(|p| (p.distance(a), *p))
            .filter(|(far, _)| *far > 2.0 * same && *far < length - 2.0 * same)
            .collect();
        on.sort_by(|p, q| p.0.total_cmp(&q.0));
        on.dedup_by(|p, q| p.1.distance(q.1) <= 2.0 * same);
        let mut from = a;
        for (_, place) in on {
            out.push((Segment::Line(from, place), owner));
            from = place;
        }
        out.push((Segment::Line(from, b), owner));
    }
    out
}

/// The parameters inside 0 … 1 where a curve is cut: equal shares of the number of elements wanted along it;
/// their number where it is more than there is room for.
fn cuts(segment: &Segment, sizes: &Sizes, closed: bool, room: usize) -> Result<Vec<f64>, usize> {
    let mut count = vec![0.0];
    let mut before = segment.at(0.0);
    for k in 1..=LOOKS {
        let here = segment.at(k as f64 / LOOKS as f64);
        let step = before.distance(here) / sizes.at(before.toward(here, 0.5));
        count.push(count[k - 1] + step);
        before = here;
    }
    let whole = count[LOOKS];
    // A tenth of an element over is not worth one more.
    let least = if closed { 3.0 } else { 1.0 };
    let pieces = (whole - 0.1).ceil().max(least);
    if pieces > room as f64 {
        return Err(pieces as usize);
    }
    let mut at = 0;
    let cuts = (1..pieces as usize)
        .map(|k| {
            let goal = whole * k as f64 / pieces;
            while at + 1 < LOOKS && count[at + 1] < goal {
                at += 1;
            }
            let share = (goal - count[at]) / (count[at + 1] - count[at]);
            (at as f64 + share) / LOOKS as f64
        })
        .collect();
    Ok(cuts)
}

/// Places numbered, near ones taken as one.
struct Places {
    same: f64,
    all: Vec<Point>,
    by_x: BTreeMap<i64, Vec<u32>>,
}

impl Places {
    fn new(same: f64) -> Self {
        Self {
            same,
            all: Vec::new(),
            by_x: BTreeMap::new(),
        }
    }

    fn number(&mut self, place: Point) -> u32 {
        // Cells are far wider than what counts as the same, so three cells hold every near place.
        let cell = (place.x / (self.same * 1024.0)).floor() as i64;
        for near in [cell - 1, cell, cell + 1] {
            for number in self.by_x.get(&near).into_iter().flatten() {
                if self.all[*number as usize].distance(place) <= self.same {
                    return *number;
                }
            }
        }
        self.all.push(place);
        let number = self.all.len() as u32 - 1;
        self.by_x.entry(cell).or_default().push(number);
        number
    }
}
