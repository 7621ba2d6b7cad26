//! Which bodies overlap on the drawing, and by how much.

use whirlwright_kit::revolve::{Bounds, Point, Run, overlap};

use crate::part::job::{Piece, Side};

/// Bodies nearer than this, in mm, only touch: drawn faces are meant to lie on each other.
pub const TOUCH_MM: f64 = 1e-6;

/// Two bodies that share a place.
#[derive(Debug, Clone, PartialEq)]
pub struct Meet {
    /// The two pieces, by number; the same twice where a piece reaches across its own mirror.
    pub pieces: (usize, usize),
    /// How deep.
    pub depth_mm: f64,
    /// A place in it.
    pub at: Point,
}

/// Every pair of bodies that overlap; of mirrored pairs, the right one alone.
#[must_use]
pub fn meets(pieces: &[Piece], shapes: &[&[Run]]) -> Vec<Meet> {
    let mirrors: Vec<Option<Vec<Run>>> = pieces
        .iter()
        .zip(shapes)
        .map(|(p, s)| (p.side == Side::Both).then(|| mirrored(s)))
        .collect();
    let mut found = Vec::new();
    let mut look = |first: usize, second: usize, a: &[Run], b: &[Run]| {
        if let Some(shared) = overlap(a, b, TOUCH_MM) {
            found.push(Meet {
                pieces: (first, second),
                depth_mm: shared.depth,
                at: shared.at,
            });
        }
    };
    for first in 0..shapes.len() {
        if let Some(left) = &mirrors[first] {
            look(first, first, shapes[first], left);
        }
        for second in first + 1..shapes.len() {
            look(first, second, shapes[first], shapes[second]);
            if let Some(left) = &mirrors[second] {
                look(first, second, shapes[first], left);
            } else if let Some(left) = &mirrors[first] {
                look(first, second, left, shapes[second]);
            }
        }
    }
    found
}

fn mirrored(runs: &[Run]) -> Vec<Run> {
    let turn = |r: &Run| {
        let segment = r.segment.mirrored();
        Run {
            segment,
            bounds: Bounds::of(segment.start(), segment.end()),
            ..*r
        }
    };
    runs.iter().map(turn).collect()
}

/// The overlap the job allows between two pieces.
#[must_use]
pub fn allowed_mm(first: &Piece, second: &Piece) -> f64 {
    let said = |a: &Piece, b: &Piece| {
        let fits = a.presses_on.iter().filter(|p| p.piece == b.name);
        fits.map(|p| p.overlap_mm).fold(0.0, f64::max)
    };
    said(first, second).max(said(second, first))
}
