//! The normal distribution: how much of it lies below a place, and seeded draws from it.

use crate::random::SplitMix64;

/// Share of a normal distribution that lies below `z` standard deviations from its mean.
///
/// By the complementary error function of `statrs`, so that far tails keep their digits.
#[must_use]
pub fn below(z: f64) -> f64 {
    0.5 * statrs::function::erf::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// Two independent draws with mean 0 and standard deviation 1 (Box and Muller's transform, 1958,
/// from memory).
pub fn two_draws(stream: &mut SplitMix64) -> (f64, f64) {
    let away = (-2.0 * stream.uniform().ln()).sqrt();
    let (sin, cos) = (std::f64::consts::TAU * stream.uniform()).sin_cos();
    (away * cos, away * sin)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_the_middle_and_the_mirror() {
        assert_eq!(below(0.0), 0.5);
        for z in [0.3, 1.0, 2.5, 6.0] {
            // The two tails make one whole; a few roundings of the larger.
            assert!(
                (below(z) + below(-z) - 1.0).abs() < 4.0 * f64::EPSILON,
                "{z}"
            );
            assert!(below(-z) > 0.0 && below(-z) < 0.5);
        }
    }

    #[test]
    fn law_draws_have_the_share_that_the_integral_says() {
        let mut stream = SplitMix64::new(11);
        let count = 50_000u32;
        let mut low = 0u32;
        for _ in 0..count {
            let (a, b) = two_draws(&mut stream);
            low += u32::from(a < -1.0) + u32::from(b < -1.0);
        }
        let share = below(-1.0);
        let drawn = f64::from(2 * count);
        let sd = (share * (1.0 - share) / drawn).sqrt();
        // Four standard errors of a counted share.
        assert!((f64::from(low) / drawn - share).abs() < 4.0 * sd);
    }
}
