//! The pieces an outline is made of: straight, elliptic, quadratic and cubic.

use super::Arc;

/// A place in the half plane: `x` along the axis, `y` the distance from it, in one length unit.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    /// Along the axis.
    pub x: f64,
    /// Away from the axis.
    pub y: f64,
}

impl Point {
    /// A place by its two coordinates.
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The place a fraction `t` of the way to `other`.
    #[must_use]
    pub fn toward(self, other: Self, t: f64) -> Self {
        Self {
            x: self.x + (other.x - self.x) * t,
            y: self.y + (other.y - self.y) * t,
        }
    }

    /// Distance to `other`.
    #[must_use]
    pub fn distance(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }

    /// The place seen in a mirror standing at `x = 0`.
    #[must_use]
    pub fn mirrored(self) -> Self {
        Self {
            x: -self.x,
            y: self.y,
        }
    }

    /// The place with its two coordinates exchanged.
    #[must_use]
    pub fn swapped(self) -> Self {
        Self {
            x: self.y,
            y: self.x,
        }
    }
}

impl std::ops::Add for Point {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            x: self.x + other.x,
            y: self.y + other.y,
        }
    }
}

impl std::ops::Sub for Point {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self {
            x: self.x - other.x,
            y: self.y - other.y,
        }
    }
}

impl std::ops::Mul<f64> for Point {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self {
            x: self.x * by,
            y: self.y * by,
        }
    }
}

/// Cross product of two plane vectors: twice the signed area of their triangle.
#[must_use]
pub(crate) fn cross(a: Point, b: Point) -> f64 {
    a.x * b.y - a.y * b.x
}

/// One piece of an outline, from its start to its end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// A straight line between two places.
    Line(Point, Point),
    /// A quadratic Bézier curve: start, control, end.
    Quad(Point, Point, Point),
    /// A cubic Bézier curve: start, two controls, end.
    Cubic(Point, Point, Point, Point),
    /// An arc of a circle or an ellipse.
    Arc(Arc),
}

/// The smallest upright box around something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Corner with the least coordinates.
    pub low: Point,
    /// Corner with the largest coordinates.
    pub high: Point,
}

impl Bounds {
    /// The box around two places.
    #[must_use]
    pub fn of(a: Point, b: Point) -> Self {
        Self {
            low: Point::new(a.x.min(b.x), a.y.min(b.y)),
            high: Point::new(a.x.max(b.x), a.y.max(b.y)),
        }
    }

    /// The box around both boxes.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            low: Point::new(self.low.x.min(other.low.x), self.low.y.min(other.low.y)),
            high: Point::new(self.high.x.max(other.high.x), self.high.y.max(other.high.y)),
        }
    }

    /// The middle of the box.
    #[must_use]
    pub fn middle(self) -> Point {
        self.low.toward(self.high, 0.5)
    }

    /// Distance between two boxes; 0 where they touch or overlap.
    #[must_use]
    pub fn distance(self, other: Self) -> f64 {
        let dx = (other.low.x - self.high.x)
            .max(self.low.x - other.high.x)
            .max(0.0);
        let dy = (other.low.y - self.high.y)
            .max(self.low.y - other.high.y)
            .max(0.0);
        dx.hypot(dy)
    }
}

impl Segment {
    /// Where it starts.
    #[must_use]
    pub fn start(&self) -> Point {
        match self {
            Self::Line(a, _) | Self::Quad(a, ..) | Self::Cubic(a, ..) => *a,
            Self::Arc(arc) => arc.from,
        }
    }

    /// Where it ends.
    #[must_use]
    pub fn end(&self) -> Point {
        match self {
            Self::Line(_, b) | Self::Quad(.., b) | Self::Cubic(.., b) => *b,
            Self::Arc(arc) => arc.to,
        }
    }

    /// The place at parameter `t` in 0 … 1; the ends are met exactly.
    #[must_use]
    pub fn at(&self, t: f64) -> Point {
        if t <= 0.0 {
            return self.start();
        }
        if t >= 1.0 {
            return self.end();
        }
        match *self {
            Self::Line(a, b) => a.toward(b, t),
            Self::Quad(a, b, c) => a.toward(b, t).toward(b.toward(c, t), t),
            Self::Cubic(a, b, c, d) => {
                let (ab, bc, cd) = (a.toward(b, t), b.toward(c, t), c.toward(d, t));
                ab.toward(bc, t).toward(bc.toward(cd, t), t)
            }
            Self::Arc(arc) => arc.at(t),
        }
    }

    /// The derivative by `t` at `t`.
    #[must_use]
    pub fn slope(&self, t: f64) -> Point {
        match *self {
            Self::Line(a, b) => b - a,
            Self::Quad(a, b, c) => (b - a).toward(c - b, t) * 2.0,
            Self::Cubic(a, b, c, d) => {
                let (ab, bc, cd) = (b - a, c - b, d - c);
                ab.toward(bc, t).toward(bc.toward(cd, t), t) * 3.0
            }
            Self::Arc(arc) => arc.slope(t),
        }
    }

    /// The same piece walked the other way.
    #[must_use]
    pub fn reversed(&self) -> Self {
        match *self {
            Self::Line(a, b) => Self::Line(b, a),
            Self::Quad(a, b, c) => Self::Quad(c, b, a),
            Self::Cubic(a, b, c, d) => Self::Cubic(d, c, b, a),
            Self::Arc(arc) => Self::Arc(arc.reversed()),
        }
    }

    /// The same piece seen in a mirror standing at `x = 0`.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        match *self {
            Self::Line(a, b) => Self::Line(a.mirrored(), b.mirrored()),
            Self::Quad(a, b, c) => Self::Quad(a.mirrored(), b.mirrored(), c.mirrored()),
            Self::Cubic(a, b, c, d) => {
                Self::Cubic(a.mirrored(), b.mirrored(), c.mirrored(), d.mirrored())
            }
            Self::Arc(arc) => Self::Arc(arc.mirrored()),
        }
    }

    /// The same piece seen from the origin with every length larger by a factor.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        match *self {
            Self::Line(a, b) => Self::Line(a * by, b * by),
            Self::Quad(a, b, c) => Self::Quad(a * by, b * by, c * by),
            Self::Cubic(a, b, c, d) => Self::Cubic(a * by, b * by, c * by, d * by),
            Self::Arc(arc) => Self::Arc(arc.scaled(by)),
        }
    }

    /// The same piece with its two coordinates exchanged.
    #[must_use]
    pub fn swapped(&self) -> Self {
        match *self {
            Self::Line(a, b) => Self::Line(a.swapped(), b.swapped()),
            Self::Quad(a, b, c) => Self::Quad(a.swapped(), b.swapped(), c.swapped()),
            Self::Cubic(a, b, c, d) => {
                Self::Cubic(a.swapped(), b.swapped(), c.swapped(), d.swapped())
            }
            Self::Arc(arc) => Self::Arc(arc.swapped()),
        }
    }

    /// The part of the piece between the parameters `t0 < t1`; exact for every kind.
    #[must_use]
    pub fn part(&self, t0: f64, t1: f64) -> Self {
        let (a, b) = (self.at(t0), self.at(t1));
        let reach = (t1 - t0) / 3.0;
        match *self {
            Self::Line(..) => Self::Line(a, b),
            Self::Quad(p, q, r) => {
                // The blossom of the curve at (t0, t1) is the control of the part.
                Self::Quad(a, p.toward(q, t0).toward(q.toward(r, t0), t1), b)
            }
            Self::Cubic(..) => {
                Self::Cubic(a, a + self.slope(t0) * reach, b - self.slope(t1) * reach, b)
            }
            Self::Arc(arc) => Self::Arc(arc.part(t0, t1)),
        }
    }

    /// Parameters inside 0 … 1 where the piece turns back in `x` or in `y`, rising.
    #[must_use]
    pub fn turns(&self) -> Vec<f64> {
        let mut found = match *self {
            Self::Line(..) => Vec::new(),
            Self::Quad(a, b, c) => {
                let (p, q) = (b - a, c - b);
                vec![p.x / (p.x - q.x), p.y / (p.y - q.y)]
            }
            Self::Cubic(a, b, c, d) => {
                let (p, q, r) = (b - a, c - b, d - c);
                let mut roots = quadratic_roots(p.x, q.x, r.x);
                roots.extend(quadratic_roots(p.y, q.y, r.y));
                roots
            }
            Self::Arc(arc) => arc.turns(),
        };
        found.retain(|t| t.is_finite() && *t > 0.0 && *t < 1.0);
        found.sort_by(f64::total_cmp);
        found.dedup();
        found
    }

    /// The smallest upright box around the piece.
    #[must_use]
    pub fn bounds(&self) -> Bounds {
        let ends = Bounds::of(self.start(), self.end());
        if matches!(self, Self::Line(..)) {
            return ends;
        }
        self.turns()
            .into_iter()
            .map(|t| self.at(t))
            .fold(ends, |b, p| b.with(Bounds::of(p, p)))
    }
}

/// Roots of the quadratic with Bernstein coefficients `p, q, r` (the slope of a cubic).
fn quadratic_roots(p: f64, q: f64, r: f64) -> Vec<f64> {
    let (a, half_b) = (p - 2.0 * q + r, q - p);
    let root = (half_b * half_b - a * p).sqrt();
    if root.is_nan() {
        return Vec::new();
    }
    // The larger sum first: no digits are lost in a difference of like numbers.
    let sum = -(half_b + root.copysign(half_b));
    vec![sum / a, p / sum]
}
