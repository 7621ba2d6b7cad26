//! Shapes of the quadratic triangle, and where they are looked at.

use crate::revolve::Point;

/// Places in a triangle (barycentric) with weights that sum to 1: seven places, exact to degree 5
/// (J. Radon 1948). Products of two slopes and the distance from the axis are of degree 3.
pub const PLACES: usize = 7;

/// The seven places and weights, in closed form.
pub fn rule() -> [([f64; 3], f64); PLACES] {
    let root = 15.0_f64.sqrt();
    let mut out = [([1.0 / 3.0; 3], 9.0 / 40.0); PLACES];
    for (first, sign) in [(1, 1.0), (4, -1.0)] {
        let near = (6.0 - sign * root) / 21.0;
        let weight = (155.0 - sign * root) / 1200.0;
        for k in 0..3 {
            let mut place = [near; 3];
            place[k] = 1.0 - 2.0 * near;
            out[first + k] = (place, weight);
        }
    }
    out
}

/// Three places on an edge, 0 to 1, with weights: exact to degree 5 (Gauss).
pub fn edge_rule() -> [(f64, f64); 3] {
    let off = 0.15_f64.sqrt();
    [
        (0.5 - off, 5.0 / 18.0),
        (0.5, 4.0 / 9.0),
        (0.5 + off, 5.0 / 18.0),
    ]
}

/// The six shapes at a place.
pub fn shapes(l: [f64; 3]) -> [f64; 6] {
    [
        l[0] * (2.0 * l[0] - 1.0),
        l[1] * (2.0 * l[1] - 1.0),
        l[2] * (2.0 * l[2] - 1.0),
        4.0 * l[0] * l[1],
        4.0 * l[1] * l[2],
        4.0 * l[2] * l[0],
    ]
}

/// Their slopes by the first and by the second barycentric coordinate.
pub fn slopes(l: [f64; 3]) -> ([f64; 6], [f64; 6]) {
    let [a, b, c] = l.map(|x| 4.0 * x);
    (
        [a - 1.0, 0.0, 1.0 - c, b, -b, c - a],
        [0.0, b - 1.0, 1.0 - c, a, c - b, -a],
    )
}

/// The three shapes of a quadratic edge (start, end, middle) at `t` in 0 … 1, and their slopes by `t`.
pub fn edge_shapes(t: f64) -> ([f64; 3], [f64; 3]) {
    (
        [
            (1.0 - t) * (1.0 - 2.0 * t),
            t * (2.0 * t - 1.0),
            4.0 * t * (1.0 - t),
        ],
        [4.0 * t - 3.0, 4.0 * t - 1.0, 4.0 - 8.0 * t],
    )
}

/// One place of an element: shapes, their slopes along the axis and away from it, the distance from the
/// axis, and the volume the place stands for (all round the axis).
#[derive(Debug, Clone, Copy)]
pub struct Look {
    /// The shapes.
    pub shape: [f64; 6],
    /// Slopes along the axis.
    pub dx: [f64; 6],
    /// Slopes away from the axis.
    pub dy: [f64; 6],
    /// Distance from the axis.
    pub radius: f64,
    /// Volume.
    pub volume: f64,
}

/// An element at one place; the weight is its share of the area.
pub fn look(p: &[Point; 6], l: [f64; 3], weight: f64) -> Look {
    let shape = shapes(l);
    let (u, v) = slopes(l);
    let (mut xu, mut yu, mut xv, mut yv, mut radius) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for k in 0..6 {
        xu += p[k].x * u[k];
        yu += p[k].y * u[k];
        xv += p[k].x * v[k];
        yv += p[k].y * v[k];
        radius += p[k].y * shape[k];
    }
    let det = xu * yv - xv * yu;
    let (mut dx, mut dy) = ([0.0; 6], [0.0; 6]);
    for k in 0..6 {
        dx[k] = (yv * u[k] - yu * v[k]) / det;
        dy[k] = (xu * v[k] - xv * u[k]) / det;
    }
    Look {
        shape,
        dx,
        dy,
        radius,
        volume: std::f64::consts::PI * radius * det * weight,
    }
}
