//! How far readings scatter: from repeats, or as it is known beforehand.

use super::given::{Noise, PhasedGiven, ReadingVector};
use super::vectors::{Vector, at_deg};

/// The scatter of readings.
#[derive(Debug, Clone)]
pub(super) struct Scatter {
    known: Option<Noise>,
    /// Standard deviation of one component as a share of the amplitude, pooled over all repeats.
    share: f64,
    /// The same in the unit of the readings, pick-up by pick-up.
    besides: Vec<f64>,
    /// Degrees of freedom behind the pooled ones; 0 where there are no repeats.
    pub freedom: u32,
}

/// The scatter of the readings of a file.
pub(super) fn scatter(phased: &PhasedGiven) -> Scatter {
    let (mut shares, mut freedom) = (0.0, 0u32);
    let mut besides = vec![(0.0, 0u32); phased.sensors.len()];
    for run in &phased.runs {
        for (sensor, repeats) in run.readings.iter().enumerate() {
            let (squares, mean) = squares(repeats);
            let free = 2 * (repeats.len().max(1) - 1) as u32;
            freedom += free;
            if mean > 0.0 {
                shares += squares / (mean * mean);
            }
            if let Some((sum, count)) = besides.get_mut(sensor) {
                *sum += squares;
                *count += free;
            }
        }
    }
    let root = |sum: f64, free: u32| {
        if free == 0 {
            0.0
        } else {
            (sum / f64::from(free)).sqrt()
        }
    };
    Scatter {
        known: phased.noise,
        share: root(shares, freedom),
        besides: besides
            .into_iter()
            .map(|(sum, free)| root(sum, free))
            .collect(),
        freedom,
    }
}

/// Sum of squares of both components about the mean, and the size of the mean.
fn squares(repeats: &[ReadingVector]) -> (f64, f64) {
    let all: Vec<Vector> = repeats
        .iter()
        .map(|r| at_deg(r.amplitude_value, r.phase_deg))
        .collect();
    let mean = all.iter().sum::<Vector>() / all.len().max(1) as f64;
    (all.iter().map(|v| (v - mean).norm_sqr()).sum(), mean.norm())
}

impl Scatter {
    /// Whether anything is known of it.
    pub(super) fn is_known(&self) -> bool {
        self.known.is_some() || self.freedom > 0
    }

    /// Degrees of freedom behind it; none where it was known beforehand.
    pub(super) fn freedom(&self) -> Option<u32> {
        self.known.is_none().then_some(self.freedom)
    }

    /// Standard deviation of one component of the mean of `repeats` readings of this amplitude.
    ///
    /// From repeats the larger of two models is taken: scatter as a share of the amplitude, or the same
    /// at every amplitude.
    pub(super) fn of_mean(&self, sensor: usize, amplitude: f64, repeats: usize) -> f64 {
        let one = match self.known {
            Some(noise) => (noise.of_amplitude_share * amplitude).hypot(noise.besides_value),
            None => (self.share * amplitude).max(self.besides.get(sensor).copied().unwrap_or(0.0)),
        };
        one / (repeats.max(1) as f64).sqrt()
    }

    /// The share as used, for the answer.
    pub(super) fn share(&self) -> f64 {
        self.known.map_or(self.share, |n| n.of_amplitude_share)
    }
}
