//! Where outlines meet: crossings and contacts.

use super::run::Run;
use super::segment::cross;
use super::{Bounds, Point, Segment};

/// Two runs that share a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meeting {
    /// The first run, by number.
    pub first: usize,
    /// The second run, by number.
    pub second: usize,
    /// The place.
    pub at: Point,
}

/// Every pair of runs of one outline that cross or touch anywhere but where one ends and the next
/// begins; one place a pair.
///
/// - **Method:** runs are swept in `x`; pairs whose boxes overlap are settled in closed form for
///   straight runs, and by halving the boxes of both (exact for runs, which never turn back) for
///   curved ones, until a box is smaller than `same_place`.
/// - **Promised:** every crossing is found; runs nearer than `same_place` count as touching.
/// - **What `same_place` trades:** halving it adds one step to a crossing; a long near miss takes
///   its length over its distance in steps.
#[must_use]
pub fn meetings(runs: &[Run], same_place: f64) -> Vec<Meeting> {
    let mut order: Vec<usize> = (0..runs.len()).collect();
    order.sort_by(|&a, &b| runs[a].bounds.low.x.total_cmp(&runs[b].bounds.low.x));
    let mut found = Vec::new();
    let mut open: Vec<usize> = Vec::new();
    for &n in &order {
        let low = runs[n].bounds.low.x;
        open.retain(|&m| runs[m].bounds.high.x >= low - same_place);
        for &m in &open {
            let (first, second) = (n.min(m), n.max(m));
            if let Some(at) = pair(&runs[first], &runs[second], same_place) {
                found.push(Meeting { first, second, at });
            }
        }
        open.push(n);
    }
    found.sort_by_key(|m| (m.first, m.second));
    found
}

/// The place where two runs of one outline meet, joints apart.
fn pair(a: &Run, b: &Run, same_place: f64) -> Option<Point> {
    if a.bounds.distance(b.bounds) > same_place {
        return None;
    }
    let joints = joints(&a.segment, &b.segment);
    if joints.iter().flatten().count() == 1 && goes_on(a, b) {
        return None;
    }
    if let (Segment::Line(a0, a1), Segment::Line(b0, b1)) = (a.segment, b.segment) {
        return lines(a0, a1, b0, b1, &joints, same_place);
    }
    halve(&a.segment, &b.segment, &joints, same_place)
}

/// Ends that the two share.
fn joints(a: &Segment, b: &Segment) -> [Option<Point>; 2] {
    let shared = |p: Point| (p == b.start() || p == b.end()).then_some(p);
    [shared(a.start()), shared(a.end())]
}

/// Of two runs with a joint: whether they leave it to different sides in `x` or in `y`, so that
/// they cannot meet again.
fn goes_on(a: &Run, b: &Run) -> bool {
    let way = |low: f64, high: f64, joint: f64| {
        if low == high {
            0
        } else if joint == low {
            1
        } else {
            -1
        }
    };
    let joint = joints(&a.segment, &b.segment)
        .into_iter()
        .flatten()
        .next()
        .unwrap_or_default();
    let x = |r: &Run| way(r.bounds.low.x, r.bounds.high.x, joint.x);
    let y = |r: &Run| way(r.bounds.low.y, r.bounds.high.y, joint.y);
    // An upright run and one that leaves its line meet at the joint alone, so 0 counts as a side.
    x(a) != x(b) || y(a) != y(b)
}

fn near_joint(p: Point, joints: &[Option<Point>; 2], reach: f64) -> bool {
    joints.iter().flatten().any(|j| j.distance(p) <= reach)
}

/// Two straight runs.
fn lines(
    a0: Point,
    a1: Point,
    b0: Point,
    b1: Point,
    joints: &[Option<Point>; 2],
    same_place: f64,
) -> Option<Point> {
    let (u, v, w) = (a1 - a0, b1 - b0, b0 - a0);
    let turn = cross(u, v);
    let (length_a, length_b) = (u.x.hypot(u.y), v.x.hypot(v.y));
    if turn.abs() > f64::EPSILON * 16.0 * length_a * length_b {
        let (s, t) = (cross(w, v) / turn, cross(w, u) / turn);
        let (slack_a, slack_b) = (same_place / length_a, same_place / length_b);
        let on = (-slack_a..=1.0 + slack_a).contains(&s) && (-slack_b..=1.0 + slack_b).contains(&t);
        let at = a0.toward(a1, s);
        // Near a sharp joint the rounding of a crossing spreads by the inverse of its sine.
        let reach = same_place + f64::EPSILON * 64.0 * length_a * length_a * length_b / turn.abs();
        return (on && !near_joint(at, joints, reach)).then_some(at);
    }
    if cross(u, w).abs() > same_place * length_a {
        return None;
    }
    // One line: do they share more than the joint?
    let along = |p: Point| ((p.x - a0.x) * u.x + (p.y - a0.y) * u.y) / length_a;
    let (low, high) = (
        along(b0).min(along(b1)).max(0.0),
        along(b0).max(along(b1)).min(length_a),
    );
    let shared = high - low;
    let at = a0.toward(a1, 0.5 * (low + high) / length_a);
    (shared >= -same_place && (shared > same_place || !near_joint(at, joints, same_place * 2.0)))
        .then_some(at)
}

/// Steps after which two runs that will not part are said to touch.
const MOST_STEPS: usize = 200_000;

/// Two runs of which at least one is curved: their boxes are halved until they part or are small.
fn halve(a: &Segment, b: &Segment, joints: &[Option<Point>; 2], same_place: f64) -> Option<Point> {
    let reach = joint_reach(a, b, joints, same_place);
    let mut todo = vec![((0.0, 1.0), (0.0, 1.0))];
    for _ in 0..MOST_STEPS {
        let (s, t) = todo.pop()?;
        let box_a = Bounds::of(a.at(s.0), a.at(s.1));
        let box_b = Bounds::of(b.at(t.0), b.at(t.1));
        if box_a.distance(box_b) > same_place {
            continue;
        }
        let (size_a, size_b) = (size(box_a), size(box_b));
        if size_a.max(size_b) <= same_place {
            let at = box_a.middle();
            if near_joint(at, joints, reach) {
                continue;
            }
            return Some(at);
        }
        if size_a >= size_b {
            let mid = 0.5 * (s.0 + s.1);
            todo.extend([((s.0, mid), t), ((mid, s.1), t)]);
        } else {
            let mid = 0.5 * (t.0 + t.1);
            todo.extend([(s, (t.0, mid)), (s, (mid, t.1))]);
        }
    }
    todo.pop().map(|(s, _)| a.at(s.0))
}

/// How far from a joint the two runs are still nearer to each other than `same_place`: the sharper
/// the corner, the farther.
fn joint_reach(a: &Segment, b: &Segment, joints: &[Option<Point>; 2], same_place: f64) -> f64 {
    // A cusp has no angle; past this many places it has opened on any drawn curve.
    const MOST_PLACES: f64 = 1e5;
    let sines = joints.iter().flatten().map(|&joint| {
        let (u, v) = (leaving(a, joint), leaving(b, joint));
        cross(u, v).abs() / (u.x.hypot(u.y) * v.x.hypot(v.y))
    });
    let sine = sines.fold(1.0, f64::min);
    same_place * (4.0 + 4.0 / sine).min(MOST_PLACES)
}

/// The direction in which a run leaves a joint, over its first ten-thousandth.
fn leaving(run: &Segment, joint: Point) -> Point {
    const STEP: f64 = 1e-4;
    let t = if run.start() == joint {
        STEP
    } else {
        1.0 - STEP
    };
    run.at(t) - joint
}

fn size(b: Bounds) -> f64 {
    (b.high.x - b.low.x).max(b.high.y - b.low.y)
}
