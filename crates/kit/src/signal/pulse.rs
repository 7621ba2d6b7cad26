//! Finding pulses in a noisy signal, block by block, with times finer than a sample.

use crate::describe;

/// Sub-blocks of a segment: the third highest of their peaks is taken as the pulses' height.
const SUB_BLOCKS: usize = 16;
const HEIGHT_RANK: usize = 2;
/// A pulse is accepted from this share of the height on.
const ENTER: f32 = 0.5;
/// Its middle is the centre of gravity of what stands above this share.
const FOOT: f32 = 0.3;
/// Pulses must be this many robust standard deviations of the signal high.
const LEAST_HEIGHT: f32 = 6.0;
/// Samples that a segment's middle and spread are taken from.
const SAMPLED: usize = 4096;

/// One pulse.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pulse {
    /// Its middle, in samples from the beginning.
    pub at: f64,
    /// Its height over the middle of the signal, in units of the signal.
    pub height: f32,
}

/// Which way pulses point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Upwards.
    Up,
    /// Downwards.
    Down,
}

/// Finds pulses of both sides; samples come in blocks of any size.
///
/// A segment of `segment` samples is held back. Its median and median absolute deviation are taken, its
/// height of pulses (third highest peak of 16 sub-blocks: two clicks a segment do no harm), and pulses
/// are emitted if the height is at least six deviations. The time is the centre of gravity of what stands
/// above three tenths of the height, so a pulse that is the same before and after its middle is timed at
/// its middle; any other by a constant part of its width. A short running mean (`smooth` samples, its
/// delay taken off) goes before where it makes the pulses clearer. A segment should hold at least four pulses; a signal
/// that is high for more than a quarter of the time has no pulses here. Memory: one segment, and the pulses.
#[derive(Debug, Clone)]
pub struct PulseFinder {
    segment: usize,
    smooth: usize,
    most_per_segment: usize,
    raw: Vec<f32>,
    tail: Vec<f32>,
    done: u64,
    up: Scan,
    down: Scan,
}

#[derive(Debug, Clone, Default)]
struct Scan {
    pulses: Vec<Pulse>,
    weight: f64,
    moment: f64,
    peak: f32,
    /// The height of the segment before; the last, short segment goes by it.
    height: Option<f32>,
}

impl PulseFinder {
    /// `segment`: samples looked at together; `smooth`: samples of the running mean; a segment with more
    /// than `most_per_segment` pulses of one side is noise and gives none.
    #[must_use]
    pub fn new(segment: usize, smooth: usize, most_per_segment: usize) -> Self {
        Self {
            segment: segment.max(SUB_BLOCKS * 4),
            smooth: smooth.max(1),
            most_per_segment,
            raw: Vec::new(),
            tail: Vec::new(),
            done: 0,
            up: Scan::default(),
            down: Scan::default(),
        }
    }

    /// Takes a block.
    pub fn push(&mut self, block: &[f32]) {
        let mut rest = block;
        while !rest.is_empty() {
            let take = (self.segment - self.raw.len()).min(rest.len());
            self.raw.extend_from_slice(&rest[..take]);
            rest = &rest[take..];
            if self.raw.len() == self.segment {
                self.look();
            }
        }
    }

    /// Looks at what is left and gives the pulses of both sides, in time.
    #[must_use]
    pub fn finish(mut self) -> (Vec<Pulse>, Vec<Pulse>) {
        if self.raw.len() >= SUB_BLOCKS * 4 {
            self.look();
        }
        (self.up.pulses, self.down.pulses)
    }

    fn look(&mut self) {
        let short = self.raw.len() < self.segment;
        let smoothed = self.smoothed();
        let raw = std::mem::take(&mut self.raw);
        let begin = self.done as f64;
        self.done += raw.len() as u64;
        // The running mean ends on its newest sample; its middle lies half its length before.
        let delay = (self.smooth - 1) as f64 / 2.0;
        let Some(plain) = Seen::of(&raw, begin) else {
            return;
        };
        // Noise falls by the running mean, and so does a pulse that is shorter than it: the clearer one is taken.
        let seen = match Seen::of(&smoothed, begin - delay) {
            Some(mean) if self.smooth > 1 && mean.clearness() >= plain.clearness() => mean,
            _ => plain,
        };
        for (side, scan) in [(1.0f32, &mut self.up), (-1.0, &mut self.down)] {
            let own = if side > 0.0 { seen.up } else { seen.down };
            let height = scan.height.filter(|_| short).unwrap_or(own);
            scan.height = Some(height);
            let before = scan.pulses.len();
            if height >= LEAST_HEIGHT * seen.spread {
                scan.segment(&seen, side, height);
            } else {
                scan.drop_begun();
            }
            if scan.pulses.len() - before > self.most_per_segment {
                scan.pulses.truncate(before);
            }
        }
        self.raw = raw;
        self.raw.clear();
    }

    /// The running mean, over the joint to the segment before.
    fn smoothed(&mut self) -> Vec<f32> {
        if self.smooth == 1 {
            return self.raw.clone();
        }
        let held = self.smooth - 1;
        if self.tail.is_empty() {
            self.tail = vec![self.raw[0]; held];
        }
        let mut all = std::mem::take(&mut self.tail);
        all.extend_from_slice(&self.raw);
        self.tail = all[all.len() - held..].to_vec();
        let scale = 1.0 / self.smooth as f32;
        all.windows(self.smooth)
            .map(|w| w.iter().sum::<f32>() * scale)
            .collect()
    }
}

/// A segment with what is known of it.
struct Seen<'a> {
    samples: &'a [f32],
    start: f64,
    middle: f32,
    spread: f32,
    up: f32,
    down: f32,
}

impl<'a> Seen<'a> {
    fn of(samples: &'a [f32], start: f64) -> Option<Self> {
        let every = samples.len().div_ceil(SAMPLED).max(1);
        let sampled: Vec<f64> = samples
            .iter()
            .step_by(every)
            .map(|x| f64::from(*x))
            .collect();
        let (middle, spread) = describe::robust(&sampled)?;
        let (middle, spread) = (middle as f32, (spread as f32).max(f32::EPSILON));
        let [up, down] = [1.0, -1.0].map(|side| pulse_height(samples, middle, side));
        Some(Self {
            samples,
            start,
            middle,
            spread,
            up,
            down,
        })
    }

    fn clearness(&self) -> f32 {
        self.up.max(self.down) / self.spread
    }
}

/// The third highest of the peaks of the sub-blocks, over the middle.
fn pulse_height(samples: &[f32], middle: f32, side: f32) -> f32 {
    let length = samples.len().div_ceil(SUB_BLOCKS);
    let peak = |block: &[f32]| {
        block
            .iter()
            .fold(f32::NEG_INFINITY, |top, x| top.max(side * (x - middle)))
    };
    let mut peaks: Vec<f32> = samples.chunks(length).map(peak).collect();
    peaks.sort_by(|a, b| b.total_cmp(a));
    peaks.get(HEIGHT_RANK).copied().unwrap_or(0.0)
}

impl Scan {
    fn segment(&mut self, seen: &Seen, side: f32, height: f32) {
        let (foot, enter) = (FOOT * height, ENTER * height);
        for (n, sample) in seen.samples.iter().enumerate() {
            let above = side * (sample - seen.middle);
            if above > foot {
                let over = f64::from(above - foot);
                self.weight += over;
                self.moment += over * (seen.start + n as f64);
                self.peak = self.peak.max(above);
            } else if self.weight > 0.0 {
                if self.peak >= enter {
                    self.pulses.push(Pulse {
                        at: self.moment / self.weight,
                        height: self.peak,
                    });
                }
                self.drop_begun();
            }
        }
    }

    fn drop_begun(&mut self) {
        (self.weight, self.moment, self.peak) = (0.0, 0.0, 0.0);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::SplitMix64;

    /// Bell-shaped pulses at `times` with noise drawn from `seed`.
    fn pulses(times: &[f64], width: f64, side: f64, noise: f64, length: usize) -> Vec<f32> {
        let mut draws = SplitMix64::new(5);
        let mut signal: Vec<f64> = (0..length).map(|_| noise * normal(&mut draws)).collect();
        for time in times {
            let near = (time - 8.0 * width).max(0.0) as usize..(time + 8.0 * width) as usize;
            for n in near.filter(|n| *n < length) {
                signal[n] += side * (-0.5 * ((n as f64 - time) / width).powi(2)).exp();
            }
        }
        signal.iter().map(|x| *x as f32).collect()
    }

    fn normal(draws: &mut SplitMix64) -> f64 {
        let (u, v) = (draws.uniform(), draws.uniform());
        (-2.0 * u.ln()).sqrt() * (2.0 * std::f64::consts::PI * v).cos()
    }

    #[test]
    fn closed_form_a_clean_bell_is_timed_at_its_middle_between_samples() {
        let times: Vec<f64> = (0..40).map(|k| 300.3 + 411.37 * f64::from(k)).collect();
        for (side, smooth) in [(1.0, 1), (-1.0, 4)] {
            let signal = pulses(&times, 6.0, side, 0.0, 17_000);
            let mut finder = PulseFinder::new(4000, smooth, 1000);
            signal.chunks(333).for_each(|block| finder.push(block));
            let (up, down) = finder.finish();
            let found = if side > 0.0 { &up } else { &down };
            assert_eq!(found.len(), 40);
            for (pulse, time) in found.iter().zip(&times) {
                // What a sample at the foot adds or leaves out, at most: a hundredth of a sample here.
                assert!((pulse.at - time).abs() < 0.03, "{} {time}", pulse.at);
            }
        }
    }

    #[test]
    fn law_pulses_of_one_sample_and_square_ones_are_timed_at_their_middle() {
        for width in [1usize, 25] {
            let mut signal = pulses(&[], 1.0, 1.0, 0.02, 40_000);
            for k in 0..80 {
                let at = 150 + 487 * k;
                signal[at..at + width].iter_mut().for_each(|x| *x += 1.0);
            }
            let mut finder = PulseFinder::new(8000, 4, 1000);
            finder.push(&signal);
            let (up, _) = finder.finish();
            assert_eq!(up.len(), 80, "{width}");
            for (k, pulse) in up.iter().enumerate() {
                let middle = (150 + 487 * k) as f64 + (width - 1) as f64 / 2.0;
                // Noise of a fiftieth of the height moves the middle of 25 samples by less than a tenth.
                assert!((pulse.at - middle).abs() < 0.3, "{} {middle}", pulse.at);
            }
        }
    }

    #[test]
    fn law_noise_and_sines_have_no_pulses() {
        let sine: Vec<f32> = (0..20_000).map(|n| (0.02 * n as f32).sin()).collect();
        for signal in [pulses(&[], 1.0, 1.0, 0.1, 20_000), sine, vec![0.3; 20_000]] {
            let mut finder = PulseFinder::new(4000, 2, 1000);
            finder.push(&signal);
            let (up, down) = finder.finish();
            assert_eq!((up.len(), down.len()), (0, 0));
        }
    }

    #[test]
    fn law_pulses_ten_deviations_high_are_all_found_and_nothing_else() {
        let times: Vec<f64> = (0..90).map(|k| 211.0 + 500.7 * f64::from(k)).collect();
        let signal = pulses(&times, 8.0, 1.0, 0.1, 46_000);
        let mut finder = PulseFinder::new(8000, 2, 1000);
        finder.push(&signal);
        let (up, _) = finder.finish();
        assert_eq!(up.len(), 90);
        let worst = up
            .iter()
            .zip(&times)
            .map(|(p, t)| (p.at - t).abs())
            .fold(0.0, f64::max);
        // The centre of gravity of some 25 samples of noise 0.1 scatters by about half a sample; 5 of that.
        assert!(worst < 2.5, "{worst}");
    }
}
