//! Runs: stretches of an outline that never turn back in `x` or in `y`.

use super::{Bounds, Point, Segment};

/// A stretch that rises or falls all along, in `x` and in `y`; its box is that of its two ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    /// The stretch.
    pub segment: Segment,
    /// The loop it belongs to, by number.
    pub in_loop: usize,
    /// The segment of that loop it is part of, by number.
    pub of: usize,
    /// The box around it.
    pub bounds: Bounds,
}

impl Run {
    fn new(segment: Segment, in_loop: usize, of: usize) -> Self {
        Self {
            segment,
            in_loop,
            of,
            bounds: Bounds::of(segment.start(), segment.end()),
        }
    }

    /// The height of the run over `x`; `x` is taken into the run's range first.
    ///
    /// Straight runs in closed form; curved ones by halving, to the last digit but two of `x`.
    #[must_use]
    pub fn height_at(&self, x: f64) -> f64 {
        let (a, b) = (self.segment.start(), self.segment.end());
        if a.x == b.x {
            return a.y;
        }
        if let Segment::Line(..) = self.segment {
            let t = ((x - a.x) / (b.x - a.x)).clamp(0.0, 1.0);
            return a.y + (b.y - a.y) * t;
        }
        let rising = b.x > a.x;
        let (mut low, mut high) = (0.0, 1.0);
        // A double holds 53 binary digits: halving further changes nothing.
        for _ in 0..53 {
            let mid = 0.5 * (low + high);
            if (self.segment.at(mid).x < x) == rising {
                low = mid;
            } else {
                high = mid;
            }
        }
        self.segment.at(0.5 * (low + high)).y
    }

    /// The place along the axis where the run has the height `y`; see [`Self::height_at`].
    #[must_use]
    pub fn place_at(&self, y: f64) -> f64 {
        Self {
            segment: self.segment.swapped(),
            ..*self
        }
        .height_at(y)
    }
}

/// A turn this near an end, in the parameter, is none: the run goes back by less than its square,
/// which is below the last digits.
const HAIR: f64 = 1e-7;

/// All loops cut into runs, in the order of the loops.
#[must_use]
pub fn runs(loops: &[Vec<Segment>]) -> Vec<Run> {
    let mut out = Vec::with_capacity(loops.iter().map(Vec::len).sum());
    for (in_loop, segments) in loops.iter().enumerate() {
        for (of, segment) in segments.iter().enumerate() {
            if let Segment::Line(..) = segment {
                out.push(Run::new(*segment, in_loop, of));
                continue;
            }
            let mut from = 0.0;
            for to in segment.turns() {
                // A curve that starts level turns, by rounding, a hair after its start.
                if to - from > HAIR && to < 1.0 - HAIR {
                    out.push(Run::new(segment.part(from, to), in_loop, of));
                    from = to;
                }
            }
            out.push(Run::new(segment.part(from, 1.0), in_loop, of));
        }
    }
    out
}

/// Whether a place lies inside the loops (even-odd rule); on the border either may be said.
#[must_use]
pub fn inside(runs: &[Run], place: Point) -> bool {
    let below = |run: &&Run| {
        let b = run.bounds;
        // Half open, so that a joint of two runs counts once.
        b.low.x <= place.x
            && place.x < b.high.x
            && b.low.y <= place.y
            && (b.high.y < place.y || run.height_at(place.x) < place.y)
    };
    runs.iter().filter(below).count() % 2 == 1
}

/// Area of the solid's slice across the axis at `x`: the rings between the heights of the border.
#[must_use]
pub fn slice_area(runs: &[Run], x: f64) -> f64 {
    let over = runs
        .iter()
        .filter(|r| r.bounds.low.x <= x && x < r.bounds.high.x);
    let mut heights: Vec<f64> = over.map(|r| r.height_at(x)).collect();
    heights.sort_by(f64::total_cmp);
    let rings = heights
        .chunks_exact(2)
        .map(|h| (h[1] - h[0]) * (h[1] + h[0]));
    std::f64::consts::PI * rings.sum::<f64>()
}

/// The loops turned so that material lies on the left of every one: outer loops from `x` to `y`,
/// loops inside them the other way, and so on inward.
#[must_use]
pub fn oriented(loops: &[Vec<Segment>]) -> Vec<Vec<Segment>> {
    let all: Vec<_> = loops
        .iter()
        .map(|l| runs(std::slice::from_ref(l)))
        .collect();
    let mut out = Vec::with_capacity(loops.len());
    for (n, segments) in loops.iter().enumerate() {
        let probe = segments.first().map_or(Point::default(), |s| s.at(0.5));
        let around = (0..loops.len())
            .filter(|&m| m != n && inside(&all[m], probe))
            .count();
        let turns_left = super::moments(segments).area > 0.0;
        if turns_left == (around % 2 == 0) {
            out.push(segments.clone());
        } else {
            out.push(segments.iter().rev().map(Segment::reversed).collect());
        }
    }
    out
}
