//! The fall of the speed under a sum of terms, with its derivatives by every coefficient.

use super::log_laws::Shape;

/// Nodes of the fall: the time and, for every coefficient, the integral its derivative is made of.
///
/// From `dω/dt = −f(ω)`, `f = Σ θ_j g_j(ω)`: time is `∫ dω/f` and `∂ω/∂θ_j = −f ∫ g_j/f² dω`, both from the
/// speed to the first speed. They are summed down the speed by Gauss's rule of three points, in steps of one
/// part in 96, and between nodes followed by cubics with their exact slopes: some 1 part in 10¹⁰ of the speed.
pub(super) struct Curve {
    /// At each node: time, speed, slowing, then the integrals and their slopes in time.
    times: Vec<f64>,
    speeds: Vec<f64>,
    slowings: Vec<f64>,
    integrals: Vec<f64>,
    slopes: Vec<f64>,
    terms: usize,
}

/// One part in so many is a step of the speed.
const PARTS: f64 = 96.0;
/// Below this share of the first speed the fall is followed by its tangent.
const LEAST_SHARE: f64 = 1e-4;

/// Points and weights of Gauss's rule of three points on 0 to 1: (1 ± √0.6)/2 with 5/18, 1/2 with 8/18.
fn gauss() -> [(f64, f64); 3] {
    let off = 0.5 * 0.6f64.sqrt();
    [
        (0.5 - off, 5.0 / 18.0),
        (0.5, 8.0 / 18.0),
        (0.5 + off, 5.0 / 18.0),
    ]
}

impl Curve {
    /// The fall from `start` rad/s over `span_s`; none where something would speed the piece up.
    pub(super) fn new(shapes: &[Shape], theta: &[f64], start: f64, span_s: f64) -> Option<Self> {
        let terms = shapes.len();
        let mut curve = Self {
            times: Vec::with_capacity(256),
            speeds: Vec::with_capacity(256),
            slowings: Vec::with_capacity(256),
            integrals: Vec::with_capacity(256 * terms),
            slopes: Vec::with_capacity(256 * terms),
            terms,
        };
        if !(start.is_finite() && start > 0.0 && theta.iter().all(|t| t.is_finite())) {
            return None;
        }
        let mut values = vec![0.0; terms];
        let mut sums = vec![0.0; terms];
        let (mut time, mut speed) = (0.0, start);
        curve.node(shapes, theta, time, speed, &sums, &mut values)?;
        let rule = gauss();
        while time < span_s && speed > LEAST_SHARE * start {
            let step = speed / PARTS;
            for (place, weight) in rule {
                let f = slowing(shapes, theta, speed - place * step, &mut values)?;
                time += weight * step / f;
                for (sum, value) in sums.iter_mut().zip(&values) {
                    *sum += weight * step * value / (f * f);
                }
            }
            speed -= step;
            curve.node(shapes, theta, time, speed, &sums, &mut values)?;
        }
        Some(curve)
    }

    fn node(
        &mut self,
        shapes: &[Shape],
        theta: &[f64],
        time: f64,
        speed: f64,
        sums: &[f64],
        values: &mut [f64],
    ) -> Option<()> {
        let f = slowing(shapes, theta, speed, values)?;
        self.times.push(time);
        self.speeds.push(speed);
        self.slowings.push(f);
        self.integrals.extend_from_slice(sums);
        self.slopes.extend(values.iter().map(|value| value / f));
        Some(())
    }

    /// Goes along ascending times and hands on, for each, its place in the list, the speed, and the derivatives of
    /// the speed by the first speed and by every coefficient.
    pub(super) fn follow(&self, times: &[f64], mut take: impl FnMut(usize, f64, &[f64])) {
        let mut derivatives = vec![0.0; self.terms + 1];
        let last = self.times.len() - 1;
        let mut panel = 0;
        for (at, &time) in times.iter().enumerate() {
            while panel + 1 < last && self.times[panel + 1] < time {
                panel += 1;
            }
            let speed = if time > self.times[last] || last == 0 {
                self.beyond(last, time, &mut derivatives)
            } else {
                self.within(panel, time, &mut derivatives)
            };
            take(at, speed, &derivatives);
        }
    }

    /// On a panel: cubics through values and slopes at both ends.
    fn within(&self, panel: usize, time: f64, derivatives: &mut [f64]) -> f64 {
        let (from, to) = (self.times[panel], self.times[panel + 1]);
        let h = to - from;
        let s = (time - from) / h;
        let (a, b) = (1.0 - s, s);
        let value = [a * a * (1.0 + 2.0 * s), b * b * (3.0 - 2.0 * s)];
        let slope = [h * s * a * a, -h * b * b * a];
        let [w0, w1] = [self.speeds[panel], self.speeds[panel + 1]];
        let [f0, f1] = [self.slowings[panel], self.slowings[panel + 1]];
        let speed = w0 * value[0] + w1 * value[1] - f0 * slope[0] - f1 * slope[1];
        // The slope of the same cubic: it only steers the search, where its error of 1e-7 does no harm.
        let bend = 6.0 * s * a / h;
        let fall = bend * (w0 - w1) + f0 * a * (1.0 - 3.0 * s) + f1 * b * (3.0 * s - 2.0);
        derivatives[0] = fall / self.slowings[0];
        for term in 0..self.terms {
            let (i, j) = (panel * self.terms + term, (panel + 1) * self.terms + term);
            let integral = self.integrals[i] * value[0]
                + self.integrals[j] * value[1]
                + self.slopes[i] * slope[0]
                + self.slopes[j] * slope[1];
            derivatives[term + 1] = -fall * integral;
        }
        speed
    }

    /// Past the last node: the tangent.
    fn beyond(&self, last: usize, time: f64, derivatives: &mut [f64]) -> f64 {
        let past = time - self.times[last];
        let f = self.slowings[last];
        derivatives[0] = f / self.slowings[0];
        for term in 0..self.terms {
            let at = last * self.terms + term;
            derivatives[term + 1] = -f * (self.integrals[at] + self.slopes[at] * past);
        }
        self.speeds[last] - f * past
    }
}

/// The slowing at a speed, with every term's own shape in `values`; none where it is not above nought.
#[inline]
fn slowing(shapes: &[Shape], theta: &[f64], speed: f64, values: &mut [f64]) -> Option<f64> {
    let mut sum = 0.0;
    for ((shape, theta), value) in shapes.iter().zip(theta).zip(values.iter_mut()) {
        *value = shape.at(speed);
        sum += theta * *value;
    }
    (sum > 0.0 && sum.is_finite()).then_some(sum)
}

/// Time from one speed down to another under a sum of terms; none where it never gets there.
pub(super) fn time_between(shapes: &[Shape], theta: &[f64], from: f64, to: f64) -> Option<f64> {
    if !(from > to && to > 0.0) {
        return (from <= to).then_some(0.0);
    }
    let panels = ((from / to).ln() * PARTS).ceil().max(1.0) as usize;
    let ratio = (to / from).powf(1.0 / panels as f64);
    let mut values = vec![0.0; shapes.len()];
    let (mut time, mut speed) = (0.0, from);
    for _ in 0..panels {
        let step = speed * (1.0 - ratio);
        for (place, weight) in gauss() {
            let f = slowing(shapes, theta, speed - place * step, &mut values)?;
            time += weight * step / f;
        }
        speed -= step;
    }
    Some(time)
}

/// Share of the energy between two speeds that each term takes: `∫ θ g ω/f dω` by the whole; none where the piece
/// never gets there.
pub(super) fn energy_shares(
    shapes: &[Shape],
    theta: &[f64],
    from: f64,
    to: f64,
) -> Option<Vec<f64>> {
    let panels = ((from / to).ln() * PARTS).ceil().max(1.0) as usize;
    let ratio = (to / from).powf(1.0 / panels as f64);
    let mut values = vec![0.0; shapes.len()];
    let mut shares = vec![0.0; shapes.len()];
    let mut speed = from;
    for _ in 0..panels {
        let step = speed * (1.0 - ratio);
        for (place, weight) in gauss() {
            let at = speed - place * step;
            let f = slowing(shapes, theta, at, &mut values)?;
            for ((share, value), theta) in shares.iter_mut().zip(&values).zip(theta) {
                *share += weight * step * at * theta * value / f;
            }
        }
        speed -= step;
    }
    let whole = 0.5 * (from * from - speed * speed);
    shares.iter_mut().for_each(|share| *share /= whole);
    Some(shares)
}

/// Time from `from` down to `to` rad/s for `I dω/dt = −(T0 + c ω^1.5)`, in s, in closed form.
///
/// With `k = (T0/c)^⅓` and `x = √ω`: `t = (2 I/c)(Φ(x₀) − Φ(x₁))`,
/// `Φ = ( −ln(x + k) + ½ ln(x² − kx + k²) + √3 atan((2x − k)/(k√3)) ) / (3 k)`. The units of the three
/// constants are kg·m², N·m and N·m·s^1.5; speeds in rad/s. Where one of the two losses is nought, its limit.
#[must_use]
pub fn time_constant_and_three_halves_s(
    inertia: f64,
    constant: f64,
    three_halves: f64,
    from: f64,
    to: f64,
) -> f64 {
    if three_halves == 0.0 {
        return inertia * (from - to) / constant;
    }
    if constant == 0.0 {
        return 2.0 * inertia / three_halves * (1.0 / to.sqrt() - 1.0 / from.sqrt());
    }
    let k = (constant / three_halves).cbrt();
    let root = 3f64.sqrt();
    // Taken as differences, so that near speeds lose no figures.
    let (x0, x1) = (from.sqrt(), to.sqrt());
    let logarithm = ((x1 + k) / (x0 + k)).ln();
    let square = |x: f64| x * x - k * x + k * k;
    let half = 0.5 * (square(x0) / square(x1)).ln();
    let turn = |x: f64| ((2.0 * x - k) / (k * root)).atan();
    let phi = (logarithm + half + root * (turn(x0) - turn(x1))) / (3.0 * k);
    2.0 * inertia / three_halves * phi
}

/// Time from `from` down to `to` rad/s for `I dω/dt = −(T0 + b ω)`, in s: `(I/b) ln((T0 + b ω₀)/(T0 + b ω₁))`.
/// The units are kg·m², N·m and N·m·s.
#[must_use]
pub fn time_constant_and_linear_s(
    inertia: f64,
    constant: f64,
    linear: f64,
    from: f64,
    to: f64,
) -> f64 {
    if linear == 0.0 {
        return inertia * (from - to) / constant;
    }
    inertia / linear * (linear * (from - to) / (constant + linear * to)).ln_1p()
}

/// Time from `from` down to `to` rad/s for `I dω/dt = −d ω²`, in s; units kg·m² and N·m·s².
#[must_use]
pub fn time_square_s(inertia: f64, square: f64, from: f64, to: f64) -> f64 {
    inertia / square * (1.0 / to - 1.0 / from)
}
