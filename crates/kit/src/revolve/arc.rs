//! Arcs of circles and ellipses, kept by their middle.

use super::Point;
use super::segment::cross;

/// An arc of a circle or an ellipse.
///
/// Every place of it is `middle + inward · (1 − cos τ) + along · sin τ`, with `τ` from
/// `−half_sweep` to `half_sweep`: `inward` leads from the middle of the arc to the centre, `along`
/// is the conjugate half diameter in the direction of travel. Kept so, nothing is lost when the
/// arc is nearly straight and its centre far away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Where it starts, exactly as given.
    pub from: Point,
    /// Where it ends, exactly as given.
    pub to: Point,
    /// The middle of the arc.
    pub middle: Point,
    /// From the middle of the arc to the centre.
    pub inward: Point,
    /// The conjugate half diameter in the direction of travel at the middle.
    pub along: Point,
    /// Half the angle the arc spans, in radians (of the circle it is an affine picture of).
    pub half_sweep: f64,
}

impl Arc {
    /// The arc of an SVG path (W3C *SVG 1.1*, appendix F.6): radii too small for the two ends are
    /// scaled up until they just reach. None where the rule makes it a line (a radius of 0) or
    /// nothing (both ends the same).
    ///
    /// `rotation` is in radians; `positive` is the sweep flag: the way from `x` to `y`.
    #[must_use]
    pub fn from_ends(
        from: Point,
        to: Point,
        radii: (f64, f64),
        rotation: f64,
        large: bool,
        positive: bool,
    ) -> Option<Self> {
        let (rx, ry) = (radii.0.abs(), radii.1.abs());
        let (sin, cos) = rotation.sin_cos();
        let half = (to - from) * 0.5;
        if rx == 0.0 || ry == 0.0 || (half.x == 0.0 && half.y == 0.0) {
            return None;
        }
        // In the picture where the ellipse is the unit circle.
        let chord = Point::new(
            (half.x * cos + half.y * sin) / rx,
            (half.y * cos - half.x * sin) / ry,
        );
        let reach = chord.x.hypot(chord.y);
        let scale = reach.max(1.0);
        // Ends a few roundings short of a diameter are meant as one: taken literally, one rounding
        // of the ends would move the centre by a hundred million roundings (its square root).
        let a_diameter = reach >= 1.0 - 16.0 * f64::EPSILON;
        let sin_half = if a_diameter { 1.0 } else { reach };
        let cos_half = ((1.0 - sin_half) * (1.0 + sin_half)).sqrt();
        let (half_sweep, height) = if large {
            (std::f64::consts::PI - sin_half.asin(), 1.0 + cos_half)
        } else {
            (sin_half.asin(), sin_half * sin_half / (1.0 + cos_half))
        };
        let way = chord * (1.0 / reach);
        let turn = if positive { 1.0 } else { -1.0 };
        let left = Point::new(-way.y * turn, way.x * turn);
        let back = |v: Point| {
            let (u, w) = (v.x * rx * scale, v.y * ry * scale);
            Point::new(u * cos - w * sin, u * sin + w * cos)
        };
        let inward = back(left);
        let middle = from.toward(to, 0.5) - inward * height;
        Some(Self {
            from,
            to,
            middle,
            inward,
            along: back(way),
            half_sweep,
        })
    }

    /// The place at parameter `t` in 0 … 1.
    #[must_use]
    pub fn at(&self, t: f64) -> Point {
        let tau = self.half_sweep * (2.0 * t - 1.0);
        let half = (tau * 0.5).sin();
        self.middle + self.inward * (2.0 * half * half) + self.along * tau.sin()
    }

    /// The derivative by `t` at `t`.
    #[must_use]
    pub fn slope(&self, t: f64) -> Point {
        let (sin, cos) = (self.half_sweep * (2.0 * t - 1.0)).sin_cos();
        (self.inward * sin + self.along * cos) * (2.0 * self.half_sweep)
    }

    /// The arc walked the other way.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Self {
            from: self.to,
            to: self.from,
            along: self.along * -1.0,
            ..*self
        }
    }

    /// The arc seen in a mirror standing at `x = 0`.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self {
            from: self.from.mirrored(),
            to: self.to.mirrored(),
            middle: self.middle.mirrored(),
            inward: self.inward.mirrored(),
            along: self.along.mirrored(),
            half_sweep: self.half_sweep,
        }
    }

    /// The arc with every length from the origin larger by a factor.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        Self {
            from: self.from * by,
            to: self.to * by,
            middle: self.middle * by,
            inward: self.inward * by,
            along: self.along * by,
            half_sweep: self.half_sweep,
        }
    }

    /// The arc with its two coordinates exchanged.
    #[must_use]
    pub fn swapped(&self) -> Self {
        Self {
            from: self.from.swapped(),
            to: self.to.swapped(),
            middle: self.middle.swapped(),
            inward: self.inward.swapped(),
            along: self.along.swapped(),
            half_sweep: self.half_sweep,
        }
    }

    /// The part between the parameters `t0 < t1`.
    #[must_use]
    pub fn part(&self, t0: f64, t1: f64) -> Self {
        let mid = 0.5 * (t0 + t1);
        let (sin, cos) = (self.half_sweep * (2.0 * mid - 1.0)).sin_cos();
        Self {
            from: if t0 <= 0.0 { self.from } else { self.at(t0) },
            to: if t1 >= 1.0 { self.to } else { self.at(t1) },
            middle: self.at(mid),
            inward: self.inward * cos - self.along * sin,
            along: self.along * cos + self.inward * sin,
            half_sweep: self.half_sweep * (t1 - t0),
        }
    }

    /// The centre of the circle or ellipse.
    #[must_use]
    pub fn centre(&self) -> Point {
        self.middle + self.inward
    }

    /// The radius where the arc is an arc of a circle; none for an ellipse.
    #[must_use]
    pub fn circle_radius(&self) -> Option<f64> {
        let (a, b) = (
            self.inward.x.hypot(self.inward.y),
            self.along.x.hypot(self.along.y),
        );
        let upright = (self.inward.x * self.along.x + self.inward.y * self.along.y).abs();
        // Eight roundings of the construction above, each at most one part in 2^53.
        let slack = 16.0 * f64::EPSILON;
        ((a - b).abs() <= slack * a && upright <= slack * a * b).then_some(a)
    }

    /// `true` where the arc turns from `x` to `y` (its centre is on the left).
    #[must_use]
    pub fn turns_left(&self) -> bool {
        cross(self.along, self.inward) > 0.0
    }

    /// Parameters where the arc turns back in `x` or in `y`.
    pub(super) fn turns(&self) -> Vec<f64> {
        let mut found = Vec::new();
        for (n, t) in [(self.inward.x, self.along.x), (self.inward.y, self.along.y)] {
            // The slope is n sin τ + t cos τ.
            let tau = (-t).atan2(n);
            for tau in [tau - std::f64::consts::PI, tau, tau + std::f64::consts::PI] {
                found.push(0.5 * (tau / self.half_sweep + 1.0));
            }
        }
        found
    }
}
