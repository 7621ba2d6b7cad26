//! What moving a stretch of the border does to the moments: exact derivatives, and the moved border.

use std::f64::consts::PI;

use super::{Moments, Point, Segment};

/// Change of the integrals of a solid of revolution for a unit shift of part of its border.
///
/// About the axis and the plane `x = 0`; for density 1. Growth of material counts positive.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Shift {
    /// `∫ dV`.
    pub volume: f64,
    /// `∫ x dV`.
    pub first: f64,
    /// `∫ x² dV`.
    pub second: f64,
    /// `∫ ρ² dV`.
    pub polar: f64,
}

/// What a border that is not round about the axis does: first order in its offset or tilt.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Wobble {
    /// `∫ y dV`: the first moment across.
    pub across: f64,
    /// `∫ x y dV`, about the plane `x = 0`.
    pub product: f64,
}

impl Shift {
    /// Both together.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            volume: self.volume + other.volume,
            first: self.first + other.first,
            second: self.second + other.second,
            polar: self.polar + other.polar,
        }
    }

    /// What the shift does to volume, centre, axial and polar moment of the solid with these moments:
    /// in [`Moments`], each the derivative of the field of that name (the area is left 0).
    #[must_use]
    pub fn of_moments(&self, m: &Moments) -> Moments {
        let centre = (self.first - m.centre * self.volume) / m.volume;
        // The second moment about the centroid: moving the centroid itself changes nothing in
        // first order, since the first moment about it is 0.
        let axial = self.second - 2.0 * m.centre * self.first + m.centre * m.centre * self.volume;
        Moments {
            area: 0.0,
            volume: self.volume,
            centre,
            axial,
            polar: self.polar,
        }
    }
}

/// Nodes and weights on 0 … 1 of the seven-point Gauss-Legendre rule: exact for the polynomials of a
/// straight stretch (degree 3), to rounding for the short curves of an edge.
const NODES: [(f64, f64); 7] = [
    (0.025_446_043_828_620_74, 0.064_742_483_084_434_85),
    (0.129_234_407_200_302_78, 0.139_852_695_744_638_34),
    (0.297_077_424_311_301_4, 0.190_915_025_252_559_47),
    (0.5, 0.208_979_591_836_734_7),
    (0.702_922_575_688_698_6, 0.190_915_025_252_559_47),
    (0.870_765_592_799_697_2, 0.139_852_695_744_638_34),
    (0.974_553_956_171_379_3, 0.064_742_483_084_434_85),
];

/// `f(place, outward normal · ds)` over a stretch that has the material on its left.
fn over(segments: &[Segment], mut f: impl FnMut(Point, Point)) {
    for segment in segments {
        for (t, weight) in NODES {
            let slope = segment.slope(t) * weight;
            f(segment.at(t), Point::new(slope.y, -slope.x));
        }
    }
}

/// Derivatives of the solid's integrals where a stretch of the border moves as a whole by a unit step
/// along `along` (a unit vector), and the border closes by steps in that direction.
///
/// The boundary integral `2π ∮ f y (n · along) ds`: exact where the stretch is straight, however the
/// border goes on; the segments must have the material on their left.
#[must_use]
pub fn shift(segments: &[Segment], along: Point) -> Shift {
    let mut out = Shift::default();
    over(segments, |p, normal| {
        let swept = 2.0 * PI * p.y * (normal.x * along.x + normal.y * along.y);
        out.volume += swept;
        out.first += swept * p.x;
        out.second += swept * p.x * p.x;
        out.polar += swept * p.y * p.y;
    });
    out
}

/// What a stretch that is turned about another axis does, for a unit offset of its axis (parallel to
/// the true one): the first moment across and the product, in the direction of the offset.
///
/// From `n · offset = n_y cos θ`: `π ∮ f y² n_y ds` with `f = 1` and `x`.
#[must_use]
pub fn eccentric(segments: &[Segment]) -> Wobble {
    let mut out = Wobble::default();
    over(segments, |p, normal| {
        let swept = PI * p.y * p.y * normal.y;
        out.across += swept;
        out.product += swept * p.x;
    });
    out
}

/// The same for a unit tilt (one radian, first order) of the stretch about the place `x = about` on
/// the axis: points move across by `x − about` and along by `−y`.
#[must_use]
pub fn tilted(segments: &[Segment], about: f64) -> Wobble {
    let mut out = Wobble::default();
    over(segments, |p, normal| {
        let swept = PI * p.y * p.y * ((p.x - about) * normal.y - p.y * normal.x);
        out.across += swept;
        out.product += swept * p.x;
    });
    out
}

/// The border of what a stretch sweeps when it moves as a whole by `by`, closed by straight steps.
///
/// Put behind the border it belongs to, the moments of both together are those of the moved border:
/// exact for any step, growth counted positive.
#[must_use]
pub fn swept(stretch: &[Segment], by: Point) -> Vec<Segment> {
    let (Some(first), Some(last)) = (stretch.first(), stretch.last()) else {
        return Vec::new();
    };
    let (start, end) = (first.start(), last.end());
    let mut out = Vec::with_capacity(2 * stretch.len() + 2);
    out.push(Segment::Line(start, start + by));
    out.extend(stretch.iter().map(|s| translated(s, by)));
    out.push(Segment::Line(end + by, end));
    out.extend(stretch.iter().rev().map(Segment::reversed));
    out
}

fn translated(segment: &Segment, by: Point) -> Segment {
    match *segment {
        Segment::Line(a, b) => Segment::Line(a + by, b + by),
        Segment::Quad(a, b, c) => Segment::Quad(a + by, b + by, c + by),
        Segment::Cubic(a, b, c, d) => Segment::Cubic(a + by, b + by, c + by, d + by),
        Segment::Arc(arc) => Segment::Arc(super::Arc {
            from: arc.from + by,
            to: arc.to + by,
            middle: arc.middle + by,
            ..arc
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::super::moments;
    use super::*;

    fn ring(a: f64, b: f64, r: f64, s: f64) -> Vec<Segment> {
        let p = [
            Point::new(a, r),
            Point::new(b, r),
            Point::new(b, s),
            Point::new(a, s),
        ];
        (0..4)
            .map(|n| Segment::Line(p[n], p[(n + 1) % 4]))
            .collect()
    }

    /// Three roundings of the largest term.
    fn same(a: f64, b: f64) {
        assert!((a - b).abs() <= 1e-14 * a.abs().max(b.abs()), "{a} {b}");
    }

    #[test]
    fn closed_form_the_faces_and_diameters_of_a_ring() {
        let border = ring(2.0, 10.0, 24.0, 29.0);
        let face = shift(&border[1..2], Point::new(1.0, 0.0));
        same(face.volume, PI * (29.0f64 * 29.0 - 24.0 * 24.0));
        same(face.first, 10.0 * face.volume);
        let outside = shift(&border[2..3], Point::new(0.0, 1.0));
        same(outside.volume, 2.0 * PI * 29.0 * 8.0);
        same(outside.polar, 2.0 * PI * 29.0f64.powi(3) * 8.0);
        // A bore that grows inward: material grows when the border moves toward the axis.
        let bore = shift(&border[0..1], Point::new(0.0, 1.0));
        same(bore.volume, -2.0 * PI * 24.0 * 8.0);
    }

    /// Moved borders are exact: the change of a moment is the integral of its derivative, so central
    /// differences meet it but for the third order of the step.
    #[test]
    fn law_the_derivative_is_that_of_the_moved_border() {
        let mut border = ring(2.0, 10.0, 24.0, 29.0);
        // A chamfer at the outer edge, as one more straight stretch.
        border[1] = Segment::Line(Point::new(10.0, 24.0), Point::new(10.0, 28.5));
        border[2] = Segment::Line(Point::new(9.5, 29.0), Point::new(2.0, 29.0));
        border.insert(
            2,
            Segment::Line(Point::new(10.0, 28.5), Point::new(9.5, 29.0)),
        );
        let still = moments(&border);
        for (stretch, along) in [
            (&border[1..3], Point::new(1.0, 0.0)),
            (&border[2..4], Point::new(0.0, 1.0)),
            (&border[2..3], Point::new(0.6, 0.8)),
            (&border[4..5], Point::new(-1.0, 0.0)),
        ] {
            let ours = shift(stretch, along).of_moments(&still);
            let h = 1e-3;
            let at = |step: f64| {
                let mut both = border.clone();
                both.extend(swept(stretch, along * step));
                moments(&both)
            };
            let (up, down) = (at(h), at(-h));
            let pairs = [
                (ours.volume, up.volume - down.volume, still.volume),
                (ours.centre, up.centre - down.centre, 8.0),
                (ours.axial, up.axial - down.axial, still.axial),
                (ours.polar, up.polar - down.polar, still.polar),
            ];
            for (exact, change, scale) in pairs {
                // h² of the moment over a squared millimetre, and roundings over the step.
                let slack = 1e-6 * exact.abs() + 1e-12 * scale.abs() / h;
                assert!(
                    (change / (2.0 * h) - exact).abs() < slack,
                    "{exact} {change}"
                );
            }
        }
    }

    #[test]
    fn closed_form_an_eccentric_cylinder_and_a_tilted_disc() {
        let border = ring(2.0, 10.0, 24.0, 29.0);
        // Offset of the outside by e: the whole cylinder's area times e, over the length.
        same(eccentric(&border[2..3]).across, PI * 29.0 * 29.0 * 8.0);
        same(
            eccentric(&border[2..3]).product,
            PI * 29.0 * 29.0 * 8.0 * 6.0,
        );
        // A face tilted by φ: −∫ r³ of the face, at its place.
        let face = tilted(&border[1..2], 0.0);
        same(face.across, -PI * (29f64.powi(4) - 24f64.powi(4)) / 4.0);
        same(face.product, 10.0 * face.across);
        // The whole ring tilted about its middle keeps its centre; its product is (axial − polar/2).
        let whole = tilted(&border, 6.0);
        let m = moments(&border);
        assert!(whole.across.abs() < 1e-9 * m.volume);
        same(whole.product, m.axial - 0.5 * m.polar);
    }
}
