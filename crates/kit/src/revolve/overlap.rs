//! How deep two sections overlap.

use super::run::Run;
use super::{Bounds, Point};

/// A place that two sections share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Overlap {
    /// The smaller of its largest extents along `x` and along `y`.
    pub depth: f64,
    /// A place inside it.
    pub at: Point,
}

/// How deep two sections overlap; none where they only touch (by at most `touch`).
///
/// - **Method:** both are cut into strips at every end of a run inside the common box; the shared
///   stretches are measured at five places of each strip, along `y` and then along `x`.
/// - **Promised:** exact where the deepest place lies at the end of a run or the borders in the
///   strip run straight and do not cross there; otherwise within the bulge of a quarter strip.
#[must_use]
pub fn overlap(a: &[Run], b: &[Run], touch: f64) -> Option<Overlap> {
    let common = common_box(a, b)?;
    if common.high.x - common.low.x <= touch || common.high.y - common.low.y <= touch {
        return None;
    }
    let (radial, at) = deepest(a, b, common.low.x, common.high.x);
    if radial <= touch {
        return None;
    }
    let (a, b) = (swapped(a), swapped(b));
    let (axial, _) = deepest(&a, &b, common.low.y, common.high.y);
    (axial > touch).then_some(Overlap {
        depth: radial.min(axial),
        at,
    })
}

fn bounds(runs: &[Run]) -> Option<Bounds> {
    runs.iter().map(|r| r.bounds).reduce(Bounds::with)
}

fn common_box(a: &[Run], b: &[Run]) -> Option<Bounds> {
    let (a, b) = (bounds(a)?, bounds(b)?);
    Some(Bounds {
        low: Point::new(a.low.x.max(b.low.x), a.low.y.max(b.low.y)),
        high: Point::new(a.high.x.min(b.high.x), a.high.y.min(b.high.y)),
    })
}

fn swapped(runs: &[Run]) -> Vec<Run> {
    let turn = |r: &Run| {
        let segment = r.segment.swapped();
        Run {
            segment,
            bounds: Bounds::of(segment.start(), segment.end()),
            ..*r
        }
    };
    runs.iter().map(turn).collect()
}

/// The longest shared stretch across `x`, and its middle.
fn deepest(a: &[Run], b: &[Run], low: f64, high: f64) -> (f64, Point) {
    let ends = a
        .iter()
        .chain(b)
        .flat_map(|r| [r.bounds.low.x, r.bounds.high.x]);
    let mut cuts: Vec<f64> = ends.filter(|x| (low..=high).contains(x)).collect();
    cuts.sort_by(f64::total_cmp);
    cuts.dedup();
    let mut best = (0.0, Point::default());
    for strip in cuts.windows(2) {
        // Just inside the strip's ends: at an end itself, runs of the next strip would be counted.
        for share in [1e-9, 0.25, 0.5, 0.75, 1.0 - 1e-9] {
            let x = strip[0] + (strip[1] - strip[0]) * share;
            let (length, middle) = longest_shared(&heights(a, x), &heights(b, x));
            if length > best.0 {
                best = (length, Point::new(x, middle));
            }
        }
    }
    best
}

/// Heights at which the borders cross the upright at `x`, rising.
fn heights(runs: &[Run], x: f64) -> Vec<f64> {
    let over = runs
        .iter()
        .filter(|r| r.bounds.low.x <= x && x < r.bounds.high.x);
    let mut found: Vec<f64> = over.map(|r| r.height_at(x)).collect();
    found.sort_by(f64::total_cmp);
    found
}

/// The longest stretch inside both, from heights that enter and leave by turns.
fn longest_shared(a: &[f64], b: &[f64]) -> (f64, f64) {
    let mut best = (0.0, 0.0);
    for p in a.chunks_exact(2) {
        for q in b.chunks_exact(2) {
            let (low, high) = (p[0].max(q[0]), p[1].min(q[1]));
            if high - low > best.0 {
                best = (high - low, 0.5 * (low + high));
            }
        }
    }
    best
}
