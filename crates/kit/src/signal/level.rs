//! How loud a signal is, whether it hits the ends of its scale, and whether two signals are one.

/// From this share of full scale on, two samples in a row on the same side count as clipped.
const FULL: f32 = 0.99;

/// Sums over one channel, sample by sample.
#[derive(Debug, Clone, Default)]
pub struct Level {
    count: u64,
    sum: f64,
    squares: f64,
    clipped: u64,
    full_in_a_row: u64,
    side: f32,
    low: f32,
    high: f32,
    not_finite: u64,
}

impl Level {
    /// Nothing heard yet.
    #[must_use]
    pub fn new() -> Self {
        Self {
            low: f32::INFINITY,
            high: f32::NEG_INFINITY,
            ..Self::default()
        }
    }

    /// Takes a block of samples, full scale being 1.
    pub fn push(&mut self, block: &[f32]) {
        let (mut sum, mut squares) = (0.0f64, 0.0f64);
        for &sample in block {
            if !sample.is_finite() {
                self.not_finite += 1;
                continue;
            }
            sum += f64::from(sample);
            squares += f64::from(sample) * f64::from(sample);
            self.low = self.low.min(sample);
            self.high = self.high.max(sample);
            self.clip(sample);
        }
        self.sum += sum;
        self.squares += squares;
        self.count += block.len() as u64;
    }

    /// A single full sample is a peak; from the second in a row on, all of the row are clipped.
    fn clip(&mut self, sample: f32) {
        if sample.abs() < FULL || (self.full_in_a_row > 0 && sample * self.side < 0.0) {
            self.full_in_a_row = 0;
        }
        if sample.abs() >= FULL {
            self.full_in_a_row += 1;
            self.side = sample;
            self.clipped += match self.full_in_a_row {
                1 => 0,
                2 => 2,
                _ => 1,
            };
        }
    }

    /// Samples heard.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.count
    }

    /// Samples that were no numbers.
    #[must_use]
    pub fn not_finite(&self) -> u64 {
        self.not_finite
    }

    /// Half the distance from the lowest to the highest sample; 0 for nothing.
    #[must_use]
    pub fn half_span(&self) -> f64 {
        if self.high < self.low {
            0.0
        } else {
            f64::from(self.high - self.low) / 2.0
        }
    }

    /// Standard deviation about the mean; 0 for nothing.
    #[must_use]
    pub fn deviation(&self) -> f64 {
        if self.count == 0 {
            return 0.0;
        }
        let n = self.count as f64;
        (self.squares / n - (self.sum / n).powi(2)).max(0.0).sqrt()
    }

    /// Share of the samples that are clipped, 0 to 1.
    #[must_use]
    pub fn clipped_share(&self) -> f64 {
        if self.count == 0 {
            0.0
        } else {
            self.clipped as f64 / self.count as f64
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_a_lone_full_sample_is_a_peak_and_a_row_is_clipped() {
        let mut level = Level::new();
        level.push(&[0.0, 1.0, 0.0, 1.0, -1.0, 0.0, 1.0]);
        assert_eq!(level.clipped_share(), 0.0);
        level.push(&[1.0, 1.0]);
        assert_eq!(level.clipped_share(), 3.0 / 9.0);
    }

    #[test]
    fn law_a_constant_has_no_level() {
        let mut level = Level::new();
        level.push(&[0.25; 1000]);
        assert_eq!((level.half_span(), level.deviation()), (0.0, 0.0));
        assert_eq!(Level::new().half_span(), 0.0);
    }
}
