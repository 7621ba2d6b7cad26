//! Seeded draws, and what they tell.

use std::f64::consts::TAU;

use whirlwright_kit::complex_fit::Complex;
use whirlwright_kit::random::SplitMix64;

/// Two independent draws of the normal distribution, as one complex number (Box and Muller).
pub(super) fn normal_pair(draws: &mut SplitMix64) -> Complex<f64> {
    let size = (-2.0 * draws.uniform().ln()).sqrt();
    Complex::from_polar(size, TAU * draws.uniform())
}

/// A vector of up to length 1, evenly spread over the disc; or of length 1, in any direction.
pub(super) fn disc(draws: &mut SplitMix64, always_full: bool) -> Complex<f64> {
    let share = draws.uniform();
    let size = if always_full { 1.0 } else { share.sqrt() };
    Complex::from_polar(size, TAU * draws.uniform())
}

/// The 95 % interval of a share of which `hits` of `all` were seen (Wilson's).
pub(super) fn share_interval(hits: u32, all: u32) -> (f64, f64) {
    // Quantile of the normal distribution that leaves 2.5 % on either side.
    const Z: f64 = 1.959_963_984_540_054;
    let (n, share) = (f64::from(all), f64::from(hits) / f64::from(all));
    let middle = (share + Z * Z / (2.0 * n)) / (1.0 + Z * Z / n);
    let half = Z / (1.0 + Z * Z / n) * (share * (1.0 - share) / n + Z * Z / (4.0 * n * n)).sqrt();
    // At the ends the interval ends at 0 or 1 exactly; rounding must not say otherwise.
    (
        if hits == 0 { 0.0 } else { middle - half },
        if hits == all { 1.0 } else { middle + half },
    )
}

/// The value that a share of all (ascending) values does not pass; 0 for none.
pub(super) fn quantile(sorted: &[f64], share: f64) -> f64 {
    let place = (share * sorted.len() as f64).ceil() as usize;
    let at = place.clamp(1, sorted.len().max(1)) - 1;
    sorted.get(at).copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_normal_draws_have_variance_one_in_both_components() {
        let mut draws = SplitMix64::new(3);
        let n = 20_000;
        let all: Vec<_> = (0..n).map(|_| normal_pair(&mut draws)).collect();
        let mean = |f: &dyn Fn(&Complex<f64>) -> f64| all.iter().map(f).sum::<f64>() / f64::from(n);
        // Four standard errors: sqrt(2/n) for a mean square, sqrt(1/n) for a mean and a product.
        let root = f64::from(n).sqrt();
        assert!((mean(&|v| v.re * v.re) - 1.0).abs() < 4.0 * 2f64.sqrt() / root);
        assert!((mean(&|v| v.im * v.im) - 1.0).abs() < 4.0 * 2f64.sqrt() / root);
        assert!(mean(&|v| v.re * v.im).abs() < 4.0 / root);
        assert!(mean(&|v| v.re).abs() < 4.0 / root);
    }

    #[test]
    fn law_the_interval_of_a_share_holds_it_and_stays_a_share() {
        for hits in [0, 1, 50, 99, 100] {
            let (low, high) = share_interval(hits, 100);
            let share = f64::from(hits) / 100.0;
            assert!(0.0 <= low && low <= share && share <= high && high <= 1.0);
        }
        // None of 100: Wilson's upper end is z²/(n + z²).
        assert!((share_interval(0, 100).1 - 3.841_458_8 / 103.841_458_8).abs() < 1e-9);
    }
}
