//! Keeping every n-th sample of a signal without folding what lies above.

use std::f64::consts::PI;

/// Attenuation of what would fold, in decibels; the ripple of what is kept is as small.
const ATTENUATION: f64 = 80.0;
/// Taps per kept sample: Kaiser's formula for the attenuation and a transition of 0.2 of the new rate.
const TAPS_PER_SAMPLE: usize = 26;
/// Middle of the transition as a share of the new rate.
const CUT: f64 = 0.4;
/// Sums that run side by side, so that the processor can add several at once.
const LANES: usize = 16;

/// A low-pass filter that keeps every `factor`-th sample; samples come in blocks of any size.
///
/// Method: Kaiser-windowed sinc of odd length (J. F. Kaiser 1974, from memory). Sample `k` that leaves
/// is centred on sample `k·factor` that came, so times need no correction. Up to [`Self::PASS`] of the new
/// rate the gain is 1 within 2e-4; from half of it the signal is down by 80 dB or so (what lies between
/// 0.4 and 0.6 folds only into the part above `PASS`). Before the first sample the signal is taken as the
/// first sample held. A factor of 1 hands on what comes. Costs 26 products a sample that comes, in `f32`.
#[derive(Debug, Clone)]
pub struct Decimator {
    factor: usize,
    taps: Vec<f32>,
    waiting: Vec<f32>,
    /// How many samples at the head of `waiting` lie before the next window.
    skip: usize,
    started: bool,
}

impl Decimator {
    /// Up to this share of the new rate the gain is 1.
    pub const PASS: f64 = 0.3;

    /// A filter for this factor; 0 is taken as 1.
    #[must_use]
    pub fn new(factor: usize) -> Self {
        let factor = factor.max(1);
        Self {
            factor,
            taps: if factor == 1 { vec![1.0] } else { taps(factor) },
            waiting: Vec::new(),
            skip: 0,
            started: false,
        }
    }

    /// The factor.
    #[must_use]
    pub fn factor(&self) -> usize {
        self.factor
    }

    /// Takes a block and appends what leaves to `kept`.
    pub fn push(&mut self, block: &[f32], kept: &mut Vec<f32>) {
        if self.factor == 1 {
            kept.extend_from_slice(block);
            return;
        }
        let Some(&first) = block.first() else { return };
        if !self.started {
            self.started = true;
            self.waiting = vec![first; self.taps.len() / 2];
        }
        self.waiting.extend_from_slice(block);
        let length = self.taps.len();
        let mut at = self.skip;
        while at + length <= self.waiting.len() {
            kept.push(product(&self.taps, &self.waiting[at..at + length]));
            at += self.factor;
        }
        let gone = at.min(self.waiting.len());
        self.waiting.drain(..gone);
        self.skip = at - gone;
    }
}

/// Sum of products in several running sums.
fn product(taps: &[f32], samples: &[f32]) -> f32 {
    let mut sums = [0.0f32; LANES];
    let (mut a, mut b) = (taps.chunks_exact(LANES), samples.chunks_exact(LANES));
    for (x, y) in (&mut a).zip(&mut b) {
        for lane in 0..LANES {
            sums[lane] += x[lane] * y[lane];
        }
    }
    let rest: f32 = a
        .remainder()
        .iter()
        .zip(b.remainder())
        .map(|(x, y)| x * y)
        .sum();
    sums.iter().sum::<f32>() + rest
}

fn taps(factor: usize) -> Vec<f32> {
    let half = (TAPS_PER_SAMPLE * factor / 2) as i64;
    let beta = 0.1102 * (ATTENUATION - 8.7);
    let cut = CUT / factor as f64;
    let shape = |n: i64| {
        let x = n as f64 / half as f64;
        let window = bessel_i0(beta * (1.0 - x * x).max(0.0).sqrt()) / bessel_i0(beta);
        let turn = 2.0 * PI * cut * n as f64;
        let sinc = if n == 0 { 1.0 } else { turn.sin() / turn };
        2.0 * cut * sinc * window
    };
    let raw: Vec<f64> = (-half..=half).map(shape).collect();
    let sum: f64 = raw.iter().sum();
    raw.iter().map(|tap| (tap / sum) as f32).collect()
}

/// Modified Bessel function of the first kind and order zero, by its power series.
fn bessel_i0(x: f64) -> f64 {
    let (mut term, mut sum, mut n) = (1.0, 1.0, 1.0);
    while term > sum * f64::EPSILON {
        term *= (x / (2.0 * n)).powi(2);
        sum += term;
        n += 1.0;
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    fn through(factor: usize, cycles_per_sample: f64, block: usize) -> Vec<f32> {
        let signal: Vec<f32> = (0..6000)
            .map(|n| (2.0 * PI * cycles_per_sample * f64::from(n)).cos() as f32)
            .collect();
        let (mut decimator, mut kept) = (Decimator::new(factor), Vec::new());
        for part in signal.chunks(block) {
            decimator.push(part, &mut kept);
        }
        kept
    }

    #[test]
    fn law_what_is_kept_passes_unchanged_and_in_time() {
        for factor in [2, 5, 12] {
            for share in [0.0, 0.1, 0.2, 0.3] {
                let cycles = share / factor as f64;
                let kept = through(factor, cycles, 777);
                // The ends feel the signal's beginning: 26 kept samples are left out.
                for (k, value) in kept.iter().enumerate().skip(26) {
                    let exact = (2.0 * PI * cycles * (k * factor) as f64).cos();
                    // 80 dB is 1e-4; as much again for a tap's 24 bits in a sum of some hundred.
                    assert!(
                        (f64::from(*value) - exact).abs() < 2e-4,
                        "{factor} {share} {k}"
                    );
                }
            }
        }
    }

    #[test]
    fn law_what_would_fold_is_gone() {
        for factor in [2, 5, 12] {
            let kept = through(factor, 0.7 / factor as f64, 500);
            assert!(
                kept.iter().skip(26).all(|value| value.abs() < 2e-4),
                "{factor}"
            );
        }
    }

    #[test]
    fn law_blocks_of_any_size_give_the_same() {
        assert_eq!(through(5, 0.03, 1), through(5, 0.03, 6000));
        assert_eq!(through(1, 0.03, 7).len(), 6000);
    }
}
