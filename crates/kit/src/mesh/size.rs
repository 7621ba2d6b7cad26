//! The wanted size of an element at every place.

use super::given::{Body, Wanted};
use crate::revolve::{Point, Segment};

/// An edge spans at most this much of a curve's turn, in radians: a quadratic edge then stays within
/// 1/2000 of its length from a circle.
pub const TURN_RAD: f64 = 0.5;
/// Pieces a curve is looked at in.
const LOOKS: usize = 16;

/// A place that is finer than the rest: a straight stretch and the size on it.
#[derive(Debug, Clone, Copy)]
struct Fine {
    from: Point,
    to: Point,
    size: f64,
}

/// The wanted size everywhere: the general size, or less near finer places.
#[derive(Debug)]
pub struct Sizes {
    general: f64,
    growth: f64,
    fine: Vec<Fine>,
}

impl Sizes {
    /// Finer places are sides that ask for it, sides shorter than the size, and tight curves.
    pub fn of(bodies: &[Body], wanted: &Wanted) -> Self {
        let mut fine = Vec::new();
        for side in bodies.iter().flat_map(|b| b.loops.iter().flatten()) {
            let asked = side.size_mm.unwrap_or(wanted.size_mm).min(wanted.size_mm);
            let (pieces, length) = pieces(&side.curve);
            for (from, to, turn) in pieces {
                let along = from.distance(to);
                let bend = if turn > 0.0 {
                    along * TURN_RAD / turn
                } else {
                    f64::INFINITY
                };
                let size = asked.min(length).min(bend);
                if size < wanted.size_mm * 0.999 && along > 0.0 {
                    fine.push(Fine { from, to, size });
                }
            }
        }
        Self {
            general: wanted.size_mm,
            growth: wanted.growth_ratio,
            fine,
        }
    }

    /// The wanted length of an edge at a place.
    pub fn at(&self, place: Point) -> f64 {
        let mut size = self.general;
        for fine in &self.fine {
            // Most are too far to matter: the box tells without a root.
            let reach = (size - fine.size) / self.growth;
            if reach > 0.0 && near(place, fine, reach) {
                size = size.min(fine.size + self.growth * to_stretch(place, fine.from, fine.to));
            }
        }
        size
    }

    /// The size away from finer places.
    pub fn general(&self) -> f64 {
        self.general
    }
}

fn near(place: Point, fine: &Fine, reach: f64) -> bool {
    let (a, b) = (fine.from, fine.to);
    place.x > a.x.min(b.x) - reach
        && place.x < a.x.max(b.x) + reach
        && place.y > a.y.min(b.y) - reach
        && place.y < a.y.max(b.y) + reach
}

/// Distance from a place to a straight stretch.
pub fn to_stretch(place: Point, from: Point, to: Point) -> f64 {
    let (way, off) = (to - from, place - from);
    let along = way.x * way.x + way.y * way.y;
    let t = if along > 0.0 {
        ((off.x * way.x + off.y * way.y) / along).clamp(0.0, 1.0)
    } else {
        0.0
    };
    place.distance(from.toward(to, t))
}

/// The curve in straight stretches with the angle it turns over each, and its whole length.
fn pieces(curve: &Segment) -> (Vec<(Point, Point, f64)>, f64) {
    if let Segment::Line(a, b) = curve {
        return (vec![(*a, *b, 0.0)], a.distance(*b));
    }
    let mut out = Vec::with_capacity(LOOKS);
    let mut length = 0.0;
    for k in 0..LOOKS {
        let (t0, t1) = (k as f64 / LOOKS as f64, (k + 1) as f64 / LOOKS as f64);
        let (a, b) = (curve.at(t0), curve.at(t1));
        let (u, v) = (curve.slope(t0), curve.slope(t1));
        let turn = (u.x * v.y - u.y * v.x).atan2(u.x * v.x + u.y * v.y).abs();
        length += a.distance(b);
        out.push((a, b, turn));
    }
    (out, length)
}
