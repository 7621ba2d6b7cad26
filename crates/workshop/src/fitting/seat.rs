//! Where ring and body meet on the drawing.

use whirlwright_kit::revolve::{Segment, oriented};

use crate::part::job::Piece;

/// A seat lies within this of the nominal radius on the drawing; far above any interference.
const NEAR_MM: f64 = 1.0;
/// Lands of a seat lie at one height to this; any interference worth the name is larger.
const ONE_HEIGHT_MM: f64 = 0.005;
/// A seat rises at most this much over its length: steeper, it is a cone that pushes itself off.
const STEEPEST: f64 = 0.1;

/// The lines of both that bear on each other.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lands {
    /// Of the ring.
    pub bore: Vec<Segment>,
    /// Of the body.
    pub spigot: Vec<Segment>,
}

impl Lands {
    /// The nearly level lines near a radius that stand over each other, the material on the left of both outlines.
    pub(super) fn of(ring: &[Vec<Segment>], body: &[Vec<Segment>], radius_mm: f64) -> Self {
        let (bore, spigot) = (lines(ring, radius_mm, false), lines(body, radius_mm, true));
        Self {
            // What faces nothing of the other is no seat, so near as it may lie: a lip beside it.
            bore: bearing(facing(&bore, &spigot), false),
            spigot: bearing(facing(&spigot, &bore), true),
        }
    }

    /// What bore and spigot share along the axle, stretch by stretch: from where to where, and the two lines there.
    pub(super) fn shared(&self) -> Vec<(f64, f64, Segment, Segment)> {
        let pairs = self.bore.iter();
        let pairs = pairs.flat_map(|b| self.spigot.iter().map(move |s| (*b, *s)));
        pairs
            .map(|(b, s)| {
                let (of_b, of_s) = (b.bounds(), s.bounds());
                let (from, to) = (of_b.low.x.max(of_s.low.x), of_b.high.x.min(of_s.high.x));
                (from, to, b, s)
            })
            .filter(|(from, to, _, _)| to > from)
            .collect()
    }
}

/// The loops of a piece, the material on their left.
pub(super) fn loops(piece: &Piece) -> Vec<Vec<Segment>> {
    let loops = piece.outline.loops.iter().map(|l| l.segments.clone());
    oriented(&loops.collect::<Vec<_>>())
}

/// The nearly level lines near a radius that face outward (or inward). Material lies on the left, so an outward
/// surface is walked toward smaller `x`.
fn lines(loops: &[Vec<Segment>], radius_mm: f64, outward: bool) -> Vec<Segment> {
    let is_seat = |segment: &&Segment| {
        let Segment::Line(a, b) = segment else {
            return false;
        };
        let (along, up) = ((b.x - a.x).abs(), (b.y - a.y).abs());
        let near = [a, b].iter().all(|p| (p.y - radius_mm).abs() <= NEAR_MM);
        near && along > 0.0 && up <= STEEPEST * along && (b.x < a.x) == outward
    };
    loops.iter().flatten().filter(is_seat).copied().collect()
}

/// Those of `lines` that stand over one of `others`.
fn facing(lines: &[Segment], others: &[Segment]) -> Vec<Segment> {
    let over = |a: &Segment, b: &Segment| {
        let (a, b) = (a.bounds(), b.bounds());
        a.low.x.max(b.low.x) < a.high.x.min(b.high.x)
    };
    let faces = |line: &&Segment| others.iter().any(|other| over(line, other));
    lines.iter().filter(faces).copied().collect()
}

/// The lines that bear: the highest of a spigot (the lowest of a bore), and what goes on from them nearly level. A relief or a
/// groove beside them lies back and bears nothing.
fn bearing(lines: Vec<Segment>, outward: bool) -> Vec<Segment> {
    let reach = |line: &Segment| {
        let bounds = line.bounds();
        if outward {
            bounds.high.y
        } else {
            -bounds.low.y
        }
    };
    let top = lines.iter().map(reach).fold(f64::NEG_INFINITY, f64::max);
    let (mut kept, mut rest): (Vec<Segment>, Vec<Segment>) = lines
        .into_iter()
        .partition(|line| reach(line) >= top - ONE_HEIGHT_MM);
    loop {
        let joins = |line: &Segment| {
            let ends = [line.start(), line.end()];
            let touch = |k: &Segment| ends.contains(&k.start()) || ends.contains(&k.end());
            kept.iter().any(touch)
        };
        let (more, apart): (Vec<Segment>, Vec<Segment>) = rest.into_iter().partition(joins);
        if more.is_empty() {
            return kept;
        }
        kept.extend(more);
        rest = apart;
    }
}

/// The height of a straight line at a place along the axle.
pub(super) fn height_mm(line: &Segment, x_mm: f64) -> f64 {
    let (a, b) = (line.start(), line.end());
    let share = (x_mm - a.x) / (b.x - a.x);
    a.y + share * (b.y - a.y)
}
