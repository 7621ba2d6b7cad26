//! The thinnest wall of a section.

use super::run::{Run, inside};
use super::segment::cross;
use super::{Arc, Bounds, Point, Segment};

/// The shortest straight way through the material.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    /// Its length.
    pub thickness: f64,
    /// Where it enters.
    pub from: Point,
    /// Where it leaves.
    pub to: Point,
}

/// The thinnest wall of a section whose loops have the material on their left
/// ([`super::oriented`]).
///
/// - **What it finds:** the shortest straight way through the material between two places of the
///   border that face each other: square to the border at a smooth place; at a corner that juts
///   into the material, within the angle of its two squares; a corner that juts out only with a
///   smooth place opposite. Two sides that meet in a corner are no wall, however sharp.
/// - **Method:** closed form for lines and circles; other curves are followed by chords that leave
///   them by at most `follow`.
/// - **What must hold:** loops that are closed and do not cross; borders on the axis are no walls.
/// - **None** where nothing faces anything.
#[must_use]
pub fn least_wall(loops: &[Vec<Segment>], runs: &[Run], follow: f64) -> Option<Wall> {
    let mut sides = Vec::with_capacity(runs.len());
    for segments in loops {
        one_loop(segments, follow, &mut sides);
    }
    let mut search = Search { runs, best: None };
    let mut order: Vec<usize> = (0..sides.len()).collect();
    order.sort_by(|&a, &b| sides[a].bounds.low.x.total_cmp(&sides[b].bounds.low.x));
    let mut open: Vec<usize> = Vec::new();
    for &n in &order {
        let low = sides[n].bounds.low.x;
        let reach = search.reach();
        open.retain(|&m| sides[m].bounds.high.x + reach >= low);
        for &m in &open {
            search.pair(&sides[n], &sides[m]);
        }
        open.push(n);
    }
    search.best
}

/// A circular arc with what is asked of it again and again.
#[derive(Debug, Clone, Copy)]
struct Circle {
    arc: Arc,
    centre: Point,
    radius: f64,
    /// Cosine of half its sweep, less some roundings.
    reach: f64,
}

/// One side of the border: a line or a circular arc, with its joint at the start.
#[derive(Debug, Clone, Copy)]
struct Side {
    shape: Shape,
    from: Point,
    to: Point,
    /// Unit normal into the material at the start of this side, and of the side before at its end.
    normals: (Point, Point),
    /// Whether the corner at the start juts into the material.
    reflex: bool,
    bounds: Bounds,
}

#[derive(Debug, Clone, Copy)]
enum Shape {
    Line,
    Circle(Circle),
}

fn unit(v: Point) -> Point {
    let length = v.x.hypot(v.y);
    if length > 0.0 { v * (1.0 / length) } else { v }
}

fn dot(a: Point, b: Point) -> f64 {
    a.x * b.x + a.y * b.y
}

/// Material lies on the left of the way.
fn left_of(way: Point) -> Point {
    unit(Point::new(-way.y, way.x))
}

/// The sides of one loop.
fn one_loop(segments: &[Segment], follow: f64, out: &mut Vec<Side>) {
    let first = out.len();
    for segment in segments {
        match *segment {
            Segment::Line(a, b) => push(Shape::Line, a, b, segment, out),
            Segment::Arc(arc) if arc.circle_radius().is_some() => {
                let circle = Circle {
                    centre: arc.centre(),
                    radius: arc.circle_radius().unwrap_or_default(),
                    reach: arc.half_sweep.cos() - 16.0 * f64::EPSILON,
                    arc,
                };
                push(Shape::Circle(circle), arc.from, arc.to, segment, out);
            }
            _ => {
                let steps = chords(segment, follow);
                let mut a = segment.start();
                for n in 1..=steps {
                    let b = segment.at(n as f64 / steps as f64);
                    push(Shape::Line, a, b, &Segment::Line(a, b), out);
                    a = b;
                }
            }
        }
    }
    let sides = &mut out[first..];
    let Some(last) = sides.last() else { return };
    let mut before = last.normals.1;
    for side in sides {
        let here = side.normals.0;
        let end = side.normals.1;
        side.reflex = cross(before, here) < 0.0;
        side.normals = (here, before);
        before = end;
    }
}

/// Takes a side in; its normals are those of its start and its end until the loop is whole.
fn push(shape: Shape, from: Point, to: Point, segment: &Segment, out: &mut Vec<Side>) {
    if from == to {
        return;
    }
    let normals = (left_of(segment.slope(0.0)), left_of(segment.slope(1.0)));
    out.push(Side {
        shape,
        from,
        to,
        normals,
        reflex: false,
        bounds: segment.bounds(),
    });
}

/// How many chords follow a curve: its second derivative bounds how far a chord leaves it.
fn chords(segment: &Segment, follow: f64) -> usize {
    const MOST: f64 = 2000.0;
    let bend = match *segment {
        Segment::Quad(a, b, c) => 2.0 * (a + c - b * 2.0).distance(Point::default()),
        Segment::Cubic(a, b, c, d) => {
            let (p, q) = (a + c - b * 2.0, b + d - c * 2.0);
            6.0 * p
                .distance(Point::default())
                .max(q.distance(Point::default()))
        }
        Segment::Arc(arc) => {
            let reach = arc
                .inward
                .x
                .hypot(arc.inward.y)
                .max(arc.along.x.hypot(arc.along.y));
            4.0 * arc.half_sweep * arc.half_sweep * reach * std::f64::consts::SQRT_2
        }
        Segment::Line(..) => 0.0,
    };
    // A chord over a step h leaves the curve by at most h²/8 times that bound.
    (bend / (8.0 * follow)).sqrt().ceil().clamp(1.0, MOST) as usize
}

struct Search<'a> {
    runs: &'a [Run],
    best: Option<Wall>,
}

impl Search<'_> {
    fn reach(&self) -> f64 {
        self.best.map_or(f64::INFINITY, |w| w.thickness)
    }

    fn pair(&mut self, a: &Side, b: &Side) {
        if a.bounds.distance(b.bounds) >= self.reach() || on_axis(a) || on_axis(b) {
            return;
        }
        let touching = a.from == b.from || a.from == b.to || a.to == b.from || a.to == b.to;
        if !touching {
            self.smooth(a, b);
        }
        self.corner(a, b);
        self.corner(b, a);
        if a.reflex && b.reflex && in_cone(a, b.from) && in_cone(b, a.from) {
            self.offer(a.from, b.from);
        }
    }

    /// Ways that are square to both sides.
    fn smooth(&mut self, a: &Side, b: &Side) {
        match (a.shape, b.shape) {
            (Shape::Line, Shape::Line) => {}
            (Shape::Circle(circle), Shape::Line) => {
                if let Some(foot) = foot_on_line(circle.centre, b) {
                    for from in circle.squares_from(foot) {
                        if circle.holds(from) && faces(a, from, foot) {
                            self.offer(from, foot);
                        }
                    }
                }
            }
            (Shape::Line, Shape::Circle(..)) => self.smooth(b, a),
            (Shape::Circle(p), Shape::Circle(q)) => {
                for from in p
                    .squares_from(q.centre)
                    .into_iter()
                    .filter(|&at| p.holds(at))
                {
                    for to in q
                        .squares_from(p.centre)
                        .into_iter()
                        .filter(|&at| q.holds(at))
                    {
                        if faces(a, from, to) && faces(b, to, from) {
                            self.offer(from, to);
                        }
                    }
                }
            }
        }
    }

    /// Ways from the corner at the start of `a`, square to `b`.
    fn corner(&mut self, a: &Side, b: &Side) {
        if a.from == b.from || a.from == b.to {
            return;
        }
        match b.shape {
            Shape::Line => {
                if let Some(foot) = foot_on_line(a.from, b) {
                    self.square_to_side(a, b, foot);
                }
            }
            Shape::Circle(circle) => {
                for foot in circle.squares_from(a.from) {
                    if circle.holds(foot) {
                        self.square_to_side(a, b, foot);
                    }
                }
            }
        }
    }

    fn square_to_side(&mut self, a: &Side, b: &Side, foot: Point) {
        if faces(b, foot, a.from) && (!a.reflex || in_cone(a, foot)) {
            self.offer(a.from, foot);
        }
    }

    /// Takes a way that is shorter than the best, if it runs through material.
    fn offer(&mut self, from: Point, to: Point) {
        let thickness = from.distance(to);
        if thickness >= self.reach() || thickness == 0.0 {
            return;
        }
        if [0.25, 0.5, 0.75]
            .iter()
            .all(|&t| inside(self.runs, from.toward(to, t)))
        {
            self.best = Some(Wall {
                thickness,
                from,
                to,
            });
        }
    }
}

fn on_axis(side: &Side) -> bool {
    side.from.y == 0.0 && side.to.y == 0.0
}

/// The foot of the square from `p` to a straight side, if it falls on the side.
fn foot_on_line(p: Point, side: &Side) -> Option<Point> {
    let way = side.to - side.from;
    let t = dot(p - side.from, way) / dot(way, way);
    // The ends count: parallel sides often end square to each other, with rounding either way.
    let slack = 16.0 * f64::EPSILON;
    (-slack..=1.0 + slack)
        .contains(&t)
        .then(|| side.from.toward(side.to, t))
}

impl Circle {
    /// Whether a place of the whole circle lies on the arc.
    fn holds(&self, place: Point) -> bool {
        // cos τ is the part of the place along −inward, in units of the radius squared.
        let cos = -dot(place - self.centre, self.arc.inward) / (self.radius * self.radius);
        cos >= self.reach
    }

    /// The two places of the whole circle whose square runs through `to`.
    fn squares_from(&self, to: Point) -> [Point; 2] {
        let along = unit(to - self.centre) * self.radius;
        [self.centre + along, self.centre - along]
    }
}

/// Whether the way from `at`, a place of the side, to `to` goes into the material.
fn faces(side: &Side, at: Point, to: Point) -> bool {
    let normal = match side.shape {
        Shape::Line => Point::new(side.from.y - side.to.y, side.to.x - side.from.x),
        Shape::Circle(circle) => {
            let inward = circle.centre - at;
            if circle.arc.turns_left() {
                inward
            } else {
                inward * -1.0
            }
        }
    };
    dot(normal, to - at) > 0.0
}

/// Whether the way from a corner that juts in lies between the squares of its two sides.
fn in_cone(side: &Side, to: Point) -> bool {
    let way = unit(to - side.from);
    let (here, before) = side.normals;
    let slack = -64.0 * f64::EPSILON;
    cross(here, way) >= slack && cross(way, before) >= slack && dot(way, here + before) > 0.0
}
