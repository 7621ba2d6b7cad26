//! Short transforms: the lines that stand out of the noise, frame by frame.

use std::f64::consts::PI;
use std::sync::Arc;

use realfft::num_complex::Complex;
use realfft::{RealFftPlanner, RealToComplex};

/// A frame is padded with zeros to this many times its length, so that a parabola finds a line's place.
const PADDING: usize = 2;
/// Padded bins in which the noise is taken as even.
const NOISE_BINS: usize = 64;
/// A line must stand this far above the median of the noise about it, in natural logarithms of power;
/// noise alone passes once in 250 bins.
const LEAST_LEVEL: f64 = 2.1;
/// The most lines of a frame.
const MOST_LINES: usize = 20;

/// A line of one frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Its frequency, in cycles per unit of time of the rate given.
    pub frequency: f32,
    /// Natural logarithm of its power over the median of the noise about it.
    pub level: f32,
}

/// The lines of one frame, the highest first.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Frame {
    /// Middle of the frame.
    pub time: f64,
    /// At most twenty lines.
    pub lines: Vec<Line>,
}

/// Cuts a signal into overlapping frames and finds the lines of each; samples come in blocks of any size.
///
/// Hann window, transform of real numbers padded to twice the length, noise from the median of every 64
/// bins, place of a line from a parabola through three logarithms (off by less than 0.02 bins of the
/// unpadded transform for a steady line alone). A frame of T seconds parts lines 2/T apart and blurs a
/// frequency that moves by more than 2/T within it. Keeps one frame of samples.
pub struct Frames {
    rate: f64,
    length: usize,
    hop: usize,
    highest: f64,
    waiting: Vec<f32>,
    done: u64,
    window: Vec<f32>,
    transform: Arc<dyn RealToComplex<f32>>,
    input: Vec<f32>,
    output: Vec<Complex<f32>>,
    scratch: Vec<Complex<f32>>,
    frames: Vec<Frame>,
}

impl Frames {
    /// At `rate` samples a second, frames of about `seconds` (the nearest power of two of samples), each beginning a
    /// quarter of a frame after the one before; lines up to `highest`.
    #[must_use]
    pub fn new(rate: f64, seconds: f64, highest: f64) -> Self {
        let length = ((rate * seconds).log2().round().exp2() as usize).max(64);
        let transform = RealFftPlanner::<f32>::new().plan_fft_forward(length * PADDING);
        let turn = 2.0 * PI / length as f64;
        Self {
            rate,
            length,
            hop: length / 4,
            highest,
            waiting: Vec::new(),
            done: 0,
            window: (0..length)
                .map(|n| (0.5 - 0.5 * (turn * n as f64).cos()) as f32)
                .collect(),
            input: transform.make_input_vec(),
            output: transform.make_output_vec(),
            scratch: transform.make_scratch_vec(),
            transform,
            frames: Vec::new(),
        }
    }

    /// Time from frame to frame.
    #[must_use]
    pub fn hop(&self) -> f64 {
        self.hop as f64 / self.rate
    }

    /// What two lines must lie apart to be two, at the least: one bin of the unpadded transform.
    #[must_use]
    pub fn blur(&self) -> f64 {
        self.rate / self.length as f64
    }

    /// Takes a block.
    pub fn push(&mut self, block: &[f32]) {
        self.waiting.extend_from_slice(block);
        let mut at = 0;
        while at + self.length <= self.waiting.len() {
            self.frame(at);
            at += self.hop;
        }
        self.waiting.drain(..at.min(self.waiting.len()));
        self.done += at as u64;
    }

    /// The frames, in time.
    #[must_use]
    pub fn finish(self) -> Vec<Frame> {
        self.frames
    }

    fn frame(&mut self, at: usize) {
        let samples = &self.waiting[at..at + self.length];
        let mean = samples.iter().sum::<f32>() / self.length as f32;
        self.input.fill(0.0);
        for ((to, sample), weight) in self.input.iter_mut().zip(samples).zip(&self.window) {
            *to = (sample - mean) * weight;
        }
        // The lengths are those the plan made, so it cannot fail; a frame without lines would be all.
        let done = self.transform.process_with_scratch(
            &mut self.input,
            &mut self.output,
            &mut self.scratch,
        );
        let lines = if done.is_ok() {
            self.lines()
        } else {
            Vec::new()
        };
        let middle = self.done as f64 + at as f64 + self.length as f64 / 2.0;
        self.frames.push(Frame {
            time: middle / self.rate,
            lines,
        });
    }

    fn lines(&self) -> Vec<Line> {
        let step = self.rate / (self.length * PADDING) as f64;
        let top = ((self.highest / step) as usize + 2).min(self.output.len() - 1);
        let logs: Vec<f64> = self.output[..=top]
            .iter()
            .map(|x| f64::from(x.norm_sqr()).max(1e-30).ln())
            .collect();
        let noise = noise(&logs);
        let mut lines = Vec::new();
        // The lowest bins hold what is left of the mean.
        for bin in PADDING..top {
            let (before, here, after) = (logs[bin - 1], logs[bin], logs[bin + 1]);
            let level = here - noise[bin / NOISE_BINS];
            if here < before || here <= after || level < LEAST_LEVEL {
                continue;
            }
            let bend = before - 2.0 * here + after;
            let shift = if bend < 0.0 {
                0.5 * (before - after) / bend
            } else {
                0.0
            };
            lines.push(Line {
                frequency: ((bin as f64 + shift) * step) as f32,
                level: level as f32,
            });
        }
        lines.sort_by(|a, b| b.level.total_cmp(&a.level));
        lines.truncate(MOST_LINES);
        lines
    }
}

/// The median of every stretch of bins, so that a few lines do not raise it.
fn noise(logs: &[f64]) -> Vec<f64> {
    let medians = logs.chunks(NOISE_BINS).map(|part| {
        let mut part = part.to_vec();
        part.sort_by(f64::total_cmp);
        part[part.len() / 2]
    });
    let medians: Vec<f64> = medians.collect();
    // A stretch full of lines takes the lower of its neighbours' medians.
    let near = |at: usize| {
        let (from, to) = (at.saturating_sub(1), (at + 2).min(medians.len()));
        let mut around = medians[from..to].to_vec();
        around.sort_by(f64::total_cmp);
        medians[at].min(around[around.len() / 2])
    };
    (0..medians.len()).map(near).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::SplitMix64;

    fn frames_of(signal: impl Fn(f64) -> f64, noise: f64) -> Vec<Frame> {
        let mut draws = SplitMix64::new(11);
        let samples: Vec<f32> = (0..16_000)
            .map(|n| {
                let hiss = noise * (draws.uniform() - 0.5) * 12f64.sqrt();
                (signal(f64::from(n) / 4000.0) + hiss) as f32
            })
            .collect();
        let mut frames = Frames::new(4000.0, 0.5, 1000.0);
        samples.chunks(701).for_each(|block| frames.push(block));
        frames.finish()
    }

    #[test]
    fn law_a_steady_tone_is_the_highest_line_of_every_frame() {
        for hertz in [7.3, 66.7, 133.4, 612.9] {
            let frames = frames_of(|t| (2.0 * PI * hertz * t).sin(), 0.3);
            assert!(frames.len() > 25, "{}", frames.len());
            for frame in &frames {
                let line = frame.lines.first().expect("a tone 10 dB over the noise");
                // A fiftieth of a bin of 1.95 Hz, and what noise 45 dB below the line moves it.
                assert!(
                    (f64::from(line.frequency) - hertz).abs() < 0.06,
                    "{line:?} {hertz}"
                );
            }
        }
    }

    #[test]
    fn law_noise_has_few_and_low_lines() {
        let frames = frames_of(|_| 0.0, 0.3);
        let highest = frames
            .iter()
            .filter_map(|f| f.lines.first())
            .map(|l| l.level)
            .fold(0.0, f32::max);
        // The largest of some 30,000 exponential draws is about ln 30,000 over its mean.
        assert!(highest < 3.2, "{highest}");
    }
}
