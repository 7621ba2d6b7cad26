//! A seeded stream of random numbers that gives the same draws on every machine.

/// SplitMix64: one 64-bit state, advanced by a fixed odd step, scrambled twice.
///
/// Method: G. Steele, D. Lea, C. Flood, "Fast splittable pseudorandom number generators", 2014
/// (constants from memory; the first draws of seed 1234567 are pinned in the tests). Period 2^64.
/// Good for drawing lots and shuffling; not for secrets.
#[derive(Debug, Clone)]
pub struct SplitMix64 {
    state: u64,
}

impl SplitMix64 {
    /// A stream that depends on `seed` alone.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self { state: seed }
    }

    /// The next 64 bits.
    pub fn next_u64(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut x = self.state;
        x = (x ^ (x >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        x = (x ^ (x >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        x ^ (x >> 31)
    }

    /// Uniform in the open interval (0, 1): neither end is ever drawn, so its logarithm is finite.
    pub fn uniform(&mut self) -> f64 {
        ((self.next_u64() >> 11) as f64 + 0.5) * (-53f64).exp2()
    }

    /// A whole number below `end`; 0 where `end` is 0. Multiply-shift, uneven by at most `end`/2^64.
    pub fn below(&mut self, end: usize) -> usize {
        ((u128::from(self.next_u64()) * end as u128) >> 64) as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pinned_first_draws_of_a_seed() {
        // The values printed beside the public-domain C version (prng.di.unimi.it), from memory.
        let mut draws = SplitMix64::new(1_234_567);
        let expected = [
            6_457_827_717_110_365_317,
            3_203_168_211_198_807_973,
            9_817_491_932_198_370_423,
            4_593_380_528_125_082_431,
            16_408_922_859_458_223_821,
        ];
        for value in expected {
            assert_eq!(draws.next_u64(), value);
        }
    }

    #[test]
    fn law_uniform_draws_have_the_mean_and_variance_of_the_uniform() {
        let mut draws = SplitMix64::new(7);
        let count = 100_000;
        let values: Vec<f64> = (0..count).map(|_| draws.uniform()).collect();
        let mean = values.iter().sum::<f64>() / f64::from(count);
        let square = values.iter().map(|v| (v - 0.5).powi(2)).sum::<f64>() / f64::from(count);
        // Four standard errors: sqrt(1/12/n) for the mean, sqrt(1/180/n) for the mean square.
        assert!((mean - 0.5).abs() < 4.0 * (1.0 / 12.0 / f64::from(count)).sqrt());
        assert!((square - 1.0 / 12.0).abs() < 4.0 * (1.0 / 180.0 / f64::from(count)).sqrt());
    }

    #[test]
    fn law_whole_draws_stay_below_their_end() {
        let mut draws = SplitMix64::new(3);
        assert!((0..1000).all(|_| draws.below(7) < 7));
        assert_eq!(draws.below(0), 0);
    }
}
