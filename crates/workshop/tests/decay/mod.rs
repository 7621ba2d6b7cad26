//! Spin-downs that tests of logs are made of: constant torque and torque with the speed to the power 1.5.

use std::f64::consts::TAU;

use whirlwright_workshop::spin::time_constant_and_three_halves_s;

/// The speed at a time for `dω/dt = −(a + c ω^1.5)`, from the closed form by bisection.
pub fn speed_at(a: f64, c: f64, start: f64, time: f64) -> f64 {
    let (mut low, mut high) = (1e-6, start);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if time_constant_and_three_halves_s(1.0, a, c, start, middle) > time {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Normal noise from a seeded stream of our own: Box and Muller.
pub fn noise(seed: u64, count: usize) -> Vec<f64> {
    let mut draws = whirlwright_kit::random::SplitMix64::new(seed);
    (0..count)
        .map(|_| (-2.0 * draws.uniform().ln()).sqrt() * (TAU * draws.uniform()).cos())
        .collect()
}

pub const A: f64 = 5e-6 / 2.8e-5;
pub const C: f64 = 1.111_516_216_8e-8 / 2.8e-5;
