//! How long it sleeps: the decay from one speed to another.

use whirlwright_kit::quadrature::integrate;

use super::losses::{Losses, Polynomial};
use super::speed::Speed;

/// Error asked of a decay, as a share of it: far below what any factor is known to.
const RELATIVE: f64 = 1e-9;
/// Below this share of the root of the end speed, the closed form of `T0 + c ω^1.5` loses digits to
/// cancellation, and the quadrature takes over.
const LEAST_CONSTANT: f64 = 0.05;

/// The time in s in which a piece slows from one speed to a lower one; 0 where it is not lower.
///
/// - **Law:** `I dω/dt = −T(ω)`, so `t = ∫ I dω / T`.
/// - **Method:** in closed form where the torque is constant, or constant with one of `ω`, `ω^1.5`, `ω²`;
///   elsewhere by Gauss and Kronrod's rule in `ln ω`, begun anew where a law bends. In that variable a
///   sum of powers is so smooth that one stretch of 15 places is mostly enough.
/// - **Promised:** within 1e-9 of itself. Without any loss it is infinite.
#[must_use]
pub fn sleep_s(losses: &Losses, inertia_kg_m2: f64, from_rad_per_s: f64, to_rad_per_s: f64) -> f64 {
    if from_rad_per_s <= to_rad_per_s {
        return 0.0;
    }
    let polynomial = losses.polynomial(from_rad_per_s);
    let closed = polynomial.and_then(|p| closed_s(&p, inertia_kg_m2, from_rad_per_s, to_rad_per_s));
    closed.unwrap_or_else(|| {
        over_logs(losses, from_rad_per_s, to_rad_per_s, |speed, torque| {
            [inertia_kg_m2 * speed.rad_per_s / torque]
        })[0]
    })
}

/// The integral over time in s of 1 over the angular momentum, `∫ dt / (I ω) = ∫ dω / (ω T)`: what turns
/// a piece under a given torque about its string. No inertia is in it.
#[must_use]
pub fn turning_distance(losses: &Losses, from_rad_per_s: f64, to_rad_per_s: f64) -> f64 {
    if from_rad_per_s <= to_rad_per_s {
        return 0.0;
    }
    over_logs(losses, from_rad_per_s, to_rad_per_s, |_, torque| {
        [1.0 / torque]
    })[0]
}

/// The energy in J that each loss takes on the way, in the order of the losses.
///
/// Their sum is what the piece loses, `½ I (ω₀² − ω₁²)`.
#[must_use]
pub fn energies_j(
    losses: &Losses,
    inertia_kg_m2: f64,
    from_rad_per_s: f64,
    to_rad_per_s: f64,
) -> Vec<f64> {
    if from_rad_per_s <= to_rad_per_s {
        return vec![0.0; losses.all.len()];
    }
    let of_loss = |loss: &super::losses::Loss| {
        over_logs(losses, from_rad_per_s, to_rad_per_s, |speed, torque| {
            [inertia_kg_m2 * speed.rad_per_s * speed.rad_per_s * loss.torque_n_m(speed) / torque]
        })[0]
    };
    losses.all.iter().map(of_loss).collect()
}

/// Speeds and times of a decay at evenly spaced logarithms of the speed, ends included.
#[must_use]
pub fn decay_s_and_rad_per_s(
    losses: &Losses,
    inertia_kg_m2: f64,
    from_rad_per_s: f64,
    to_rad_per_s: f64,
    steps: usize,
) -> Vec<(f64, f64)> {
    let ratio = to_rad_per_s / from_rad_per_s;
    let speed = |n: usize| from_rad_per_s * ratio.powf(n as f64 / steps as f64);
    let mut time = 0.0;
    let mut found = vec![(0.0, from_rad_per_s)];
    for n in 1..=steps {
        time += sleep_s(losses, inertia_kg_m2, speed(n - 1), speed(n));
        found.push((time, speed(n)));
    }
    found
}

/// Integrals over the logarithm of the speed, begun anew at every bend of the torque.
fn over_logs<const N: usize>(
    losses: &Losses,
    from: f64,
    to: f64,
    of: impl Fn(Speed, f64) -> [f64; N],
) -> [f64; N] {
    let value = |log: f64| {
        let speed = Speed::of_log(log);
        of(speed, losses.torque_n_m(speed))
    };
    let mut sum = [0.0; N];
    let mut begin = to;
    loop {
        let end = losses.first_kink_rad_per_s(begin).min(from);
        let part = integrate(value, begin.ln(), end.ln(), RELATIVE).value;
        for (all, part) in sum.iter_mut().zip(part) {
            *all += part;
        }
        if end >= from {
            return sum;
        }
        begin = end;
    }
}

/// The time in s in closed form, where there is one.
fn closed_s(p: &Polynomial, inertia: f64, from: f64, to: f64) -> Option<f64> {
    let has = |x: f64| x != 0.0;
    let (a, b, c, d) = (p.constant, p.linear, p.three_halves, p.square);
    match (has(a), has(b), has(c), has(d)) {
        (false, false, false, false) => Some(f64::INFINITY),
        (true, false, false, false) => Some(inertia * (from - to) / a),
        (false, true, false, false) => Some(inertia / b * (from / to).ln()),
        (false, false, true, false) => {
            Some(2.0 * inertia / c * (1.0 / to.sqrt() - 1.0 / from.sqrt()))
        }
        (false, false, false, true) => Some(inertia / d * (1.0 / to - 1.0 / from)),
        (true, true, false, false) => Some(inertia / b * ((a + b * from) / (a + b * to)).ln()),
        (true, false, true, false) => constant_and_three_halves_s(a, c, inertia, from, to),
        (true, false, false, true) => {
            let (root, slope) = ((a * d).sqrt(), (d / a).sqrt());
            // One arctangent of the difference: two of them would cancel.
            let between = slope * (from - to) / (1.0 + slope * slope * from * to);
            Some(inertia / root * between.atan())
        }
        _ => None,
    }
}

/// `T0 + c ω^1.5`: with `k³ = T0/c` and `x = √ω`, `t = (2I/c) [Φ(x₀) − Φ(x₁)]`,
/// `Φ = (1/3k) (−ln(x+k) + ½ ln(x²−kx+k²) + √3 atan((2x−k)/(k√3)))`.
fn constant_and_three_halves_s(a: f64, c: f64, inertia: f64, from: f64, to: f64) -> Option<f64> {
    let k = (a / c).cbrt();
    let (x0, x1) = (from.sqrt(), to.sqrt());
    if k < LEAST_CONSTANT * x1 {
        return None;
    }
    let root3 = 3f64.sqrt();
    let phi = |x: f64| {
        -(x + k).ln()
            + 0.5 * (x * x - k * x + k * k).ln()
            + root3 * ((2.0 * x - k) / (k * root3)).atan()
    };
    Some(2.0 * inertia / c * (phi(x0) - phi(x1)) / (3.0 * k))
}
