//! Area and mass moments of the solid that an outline sweeps about the x axis.

use std::f64::consts::PI;

use super::segment::cross;
use super::{Arc, Point, Segment};

/// Moments of a solid of revolution of density 1, about the axis and the plane `x = 0`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Moments {
    /// Area of the section, `∬ dA`; positive for outlines walked from `x` to `y`.
    pub area: f64,
    /// Volume, `2π ∬ y dA`.
    pub volume: f64,
    /// Place of the centroid of the solid along the axis.
    pub centre: f64,
    /// Second axial moment about the centroid, `∫ (x − centre)² dV`.
    pub axial: f64,
    /// Polar moment about the axis, `∫ ρ² dV = 2π ∬ y³ dA`.
    pub polar: f64,
}

impl Moments {
    /// Moment of inertia about any axis across through the centroid: `polar / 2 + axial`.
    #[must_use]
    pub fn transverse(&self) -> f64 {
        0.5 * self.polar + self.axial
    }
}

/// Integrals `∬ uⁱ vʲ dA` of the section about a local origin.
#[derive(Debug, Clone, Copy, Default)]
struct Section {
    m00: f64,
    m10: f64,
    m01: f64,
    m20: f64,
    m11: f64,
    m02: f64,
    m21: f64,
    m03: f64,
}

impl Section {
    /// Adds `weight · uⁱ vʲ` to every integral.
    ///
    /// For a monomial of degree `d`, Green's theorem with Euler's relation reads
    /// `∬ uⁱ vʲ dA = 1/(d + 2) ∮ uⁱ vʲ (u dv − v du)`; the factor waits until [`Self::divided`].
    fn add(&mut self, p: Point, weight: f64) {
        let (u, v) = (p.x, p.y);
        let (wu, wv) = (weight * u, weight * v);
        self.m00 += weight;
        self.m10 += wu;
        self.m01 += wv;
        self.m20 += wu * u;
        self.m11 += wu * v;
        self.m02 += wv * v;
        self.m21 += wu * u * v;
        self.m03 += wv * v * v;
    }

    fn divided(self) -> Self {
        Self {
            m00: self.m00 / 2.0,
            m10: self.m10 / 3.0,
            m01: self.m01 / 3.0,
            m20: self.m20 / 4.0,
            m11: self.m11 / 4.0,
            m02: self.m02 / 4.0,
            m21: self.m21 / 5.0,
            m03: self.m03 / 5.0,
        }
    }
}

/// Moments of the solid swept by one or more closed outlines.
///
/// - **Method:** boundary integrals (Green) about the middle of the outline's box, moved to the
///   axis by the shift rules at the end, so that a thin section far out loses no digits. On lines
///   and Bézier curves the integrand is a polynomial of degree 3, 8 and 13 in the parameter, which
///   Gauss-Legendre rules of 2, 5 and 7 points integrate exactly: they *are* the closed form. On
///   circular and elliptic arcs it is a trigonometric polynomial, integrated in closed form.
/// - **What must hold:** the segments close up (the end of the last meets the start of the first,
///   loop by loop) and no loop crosses itself; a loop walked the other way counts negative, so a
///   hole is a loop of the other direction.
/// - **Promised:** relative error of a few hundred roundings of the largest single contribution
///   about the local origin.
/// - **On failure:** an empty list, or one of no volume, gives zeros (and a centre of 0); numbers
///   that are not finite come through as such.
#[must_use]
pub fn moments(segments: &[Segment]) -> Moments {
    let Some(origin) = local_origin(segments) else {
        return Moments::default();
    };
    let mut sum = Section::default();
    for segment in segments {
        match *segment {
            Segment::Line(a, b) => line(a - origin, b - origin, &mut sum),
            Segment::Quad(a, b, c) => quad([a - origin, b - origin, c - origin], &mut sum),
            Segment::Cubic(a, b, c, d) => {
                cubic([a - origin, b - origin, c - origin, d - origin], &mut sum);
            }
            Segment::Arc(ref arc) => elliptic(arc, origin, &mut sum),
        }
    }
    about_the_axis(&sum.divided(), origin)
}

/// The middle of the box around all ends; good enough for a place to reckon from.
fn local_origin(segments: &[Segment]) -> Option<Point> {
    let first = segments.first()?.start();
    let (mut low, mut high) = (first, first);
    for segment in segments {
        let p = segment.end();
        low = Point::new(low.x.min(p.x), low.y.min(p.y));
        high = Point::new(high.x.max(p.x), high.y.max(p.y));
    }
    Some(low.toward(high, 0.5))
}

/// From integrals about the local origin `(x₀, y₀)` to the solid's moments.
fn about_the_axis(s: &Section, origin: Point) -> Moments {
    let y0 = origin.y;
    let volume = 2.0 * PI * (y0 * s.m00 + s.m01);
    if volume == 0.0 {
        return Moments {
            area: s.m00,
            ..Moments::default()
        };
    }
    let first = 2.0 * PI * (y0 * s.m10 + s.m11);
    let second = 2.0 * PI * (y0 * s.m20 + s.m21);
    let polar =
        2.0 * PI * (y0 * y0 * y0 * s.m00 + 3.0 * y0 * y0 * s.m01 + 3.0 * y0 * s.m02 + s.m03);
    let shift = first / volume;
    Moments {
        area: s.m00,
        volume,
        centre: origin.x + shift,
        axial: second - shift * first,
        polar,
    }
}

/// Straight line: `u dv − v du` is constant, the rest a cubic, met by two Gauss points.
fn line(a: Point, b: Point, sum: &mut Section) {
    // Gauss-Legendre nodes of two points, ½ ∓ 1/(2√3).
    const NEAR: f64 = 0.211_324_865_405_187_1;
    const FAR: f64 = 0.788_675_134_594_812_9;
    let weight = 0.5 * cross(a, b);
    sum.add(a.toward(b, NEAR), weight);
    sum.add(a.toward(b, FAR), weight);
}

/// Nodes and weights on 0 … 1 of the five-point Gauss-Legendre rule, exact to degree 9.
const GAUSS_5: [(f64, f64); 5] = [
    (0.046_910_077_030_668_004, 0.118_463_442_528_094_54),
    (0.230_765_344_947_158_45, 0.239_314_335_249_683_23),
    (0.5, 0.284_444_444_444_444_44),
    (0.769_234_655_052_841_5, 0.239_314_335_249_683_23),
    (0.953_089_922_969_332, 0.118_463_442_528_094_54),
];

/// Nodes and weights on 0 … 1 of the seven-point Gauss-Legendre rule, exact to degree 13.
const GAUSS_7: [(f64, f64); 7] = [
    (0.025_446_043_828_620_74, 0.064_742_483_084_434_85),
    (0.129_234_407_200_302_78, 0.139_852_695_744_638_34),
    (0.297_077_424_311_301_4, 0.190_915_025_252_559_47),
    (0.5, 0.208_979_591_836_734_7),
    (0.702_922_575_688_698_6, 0.190_915_025_252_559_47),
    (0.870_765_592_799_697_2, 0.139_852_695_744_638_34),
    (0.974_553_956_171_379_3, 0.064_742_483_084_434_85),
];

fn quad([a, b, c]: [Point; 3], sum: &mut Section) {
    for (t, weight) in GAUSS_5 {
        let (ab, bc) = (a.toward(b, t), b.toward(c, t));
        let slope = (bc - ab) * 2.0;
        let p = ab.toward(bc, t);
        sum.add(p, weight * cross(p, slope));
    }
}

fn cubic([a, b, c, d]: [Point; 4], sum: &mut Section) {
    for (t, weight) in GAUSS_7 {
        let (ab, bc, cd) = (a.toward(b, t), b.toward(c, t), c.toward(d, t));
        let (abc, bcd) = (ab.toward(bc, t), bc.toward(cd, t));
        let slope = (bcd - abc) * 3.0;
        let p = abc.toward(bcd, t);
        sum.add(p, weight * cross(p, slope));
    }
}

/// Most power of `1 − cos τ` that the integrals need.
const POWERS: usize = 5;

/// `∫ (1 − cos τ)ⁿ dτ` over `−h … h` for `n` = 0 … 4.
///
/// From `d/dτ [(1 − cos τ)ⁿ⁻¹ sin τ]`: `n Kₙ = (2n − 1) Kₙ₋₁ − 2 kⁿ⁻¹ sin h` with `k = 1 − cos h`.
/// Upward it loses digits on short arcs; downward every term is positive. So short arcs start from
/// the series of `K₄` in powers of `k/2` (which the same recurrence gives), long ones from `K₀`.
fn versine_integrals(h: f64) -> [f64; POWERS] {
    let half = (0.5 * h).sin();
    let k = 2.0 * half * half;
    let sin = h.sin();
    let mut powers = [1.0; POWERS];
    for n in 1..POWERS {
        powers[n] = powers[n - 1] * k;
    }
    let mut out = [0.0; POWERS];
    // At k = ½ the series gains two binary digits a term and the upward way loses least.
    if k > 0.5 {
        out[0] = 2.0 * h;
        for n in 1..POWERS {
            let m = n as f64;
            out[n] = ((2.0 * m - 1.0) * out[n - 1] - 2.0 * powers[n - 1] * sin) / m;
        }
        return out;
    }
    let top = POWERS - 1;
    let mut term = 2.0 * powers[top] * sin / (2.0 * top as f64 + 1.0);
    let mut n = top as f64 + 1.0;
    while term > f64::EPSILON * 0.25 * out[top] {
        out[top] += term;
        term *= k * n / (2.0 * n + 1.0);
        n += 1.0;
    }
    for n in (1..POWERS).rev() {
        let m = n as f64;
        out[n - 1] = (m * out[n] + 2.0 * powers[n - 1] * sin) / (2.0 * m - 1.0);
    }
    out
}

/// A polynomial in `k = 1 − cos τ`, even part, plus `sin τ` times another.
#[derive(Clone, Copy)]
struct Trig {
    even: [f64; POWERS],
    odd: [f64; POWERS],
}

impl Trig {
    /// `c + e·k + o·sin τ` times this one, where this one has degree `degree`.
    fn times(&self, c: f64, e: f64, o: f64, degree: usize) -> Self {
        let mut out = Self {
            even: [0.0; POWERS],
            odd: [0.0; POWERS],
        };
        for n in 0..=degree {
            out.even[n] += c * self.even[n];
            out.even[n + 1] += e * self.even[n];
            out.odd[n] += c * self.odd[n] + o * self.even[n];
            out.odd[n + 1] += e * self.odd[n];
            // sin² τ = 2k − k²; an odd part of degree n − 1 only, so n + 1 is not exceeded.
            if n < degree {
                out.even[n + 1] += 2.0 * o * self.odd[n];
                out.even[n + 2] -= o * self.odd[n];
            }
        }
        out
    }

    /// The integral over the arc; the odd part cancels.
    fn integral(&self, k: &[f64; POWERS]) -> f64 {
        self.even.iter().zip(k).map(|(a, b)| a * b).sum()
    }
}

/// Circular or elliptic arc, in closed form.
fn elliptic(arc: &Arc, origin: Point, sum: &mut Section) {
    let k = versine_integrals(arc.half_sweep);
    let (m, n, t) = (arc.middle - origin, arc.inward, arc.along);
    // u dv − v du for the arc's own form of a point, with sin² τ replaced.
    let weight = Trig {
        even: [cross(m, t), -cross(m + n, t), 0.0, 0.0, 0.0],
        odd: [cross(m, n), 0.0, 0.0, 0.0, 0.0],
    };
    let u = |of: &Trig, degree| of.times(m.x, n.x, t.x, degree);
    let v = |of: &Trig, degree| of.times(m.y, n.y, t.y, degree);
    let (wu, wv) = (u(&weight, 1), v(&weight, 1));
    let (wuv, wvv) = (u(&wv, 2), v(&wv, 2));
    sum.m00 += weight.integral(&k);
    sum.m10 += wu.integral(&k);
    sum.m01 += wv.integral(&k);
    sum.m20 += u(&wu, 2).integral(&k);
    sum.m11 += wuv.integral(&k);
    sum.m02 += wvv.integral(&k);
    sum.m21 += u(&wuv, 3).integral(&k);
    sum.m03 += v(&wvv, 3).integral(&k);
}
