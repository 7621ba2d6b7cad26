//! The first hearing: levels, pulses and lines of every channel.

use whirlwright_kit::signal::decimate::Decimator;
use whirlwright_kit::signal::frames::{Frame, Frames};
use whirlwright_kit::signal::level::Level;
use whirlwright_kit::signal::pulse::{Pulse, PulseFinder};

use super::given::RecordingGiven;
use super::limits;

/// Samples a second that tones are followed at: six multiples of the fastest speed fit below.
const TONE_RATE_HZ: f64 = 4000.0;
/// A frame: short against the slowing of a piece, long against its slowest turn.
const FRAME_S: f64 = 0.5;
/// Pulses are looked for in stretches of a second: three turns of the slowest piece.
const SEGMENT_S: f64 = 1.0;
/// A running mean down to this rate goes before the pulses.
const PULSE_RATE_HZ: f64 = 12_000.0;
/// Two channels whose difference is so small against their sum are one.
const SAME: f64 = 1e-3;

/// Splits interleaved frames into channels, keeping a frame that a block cut in two.
#[derive(Debug, Clone, Default)]
pub(super) struct Splitter {
    held: Vec<f32>,
    /// One block a channel.
    pub channels: Vec<Vec<f32>>,
}

impl Splitter {
    /// For so many channels.
    #[must_use]
    pub fn new(channels: usize) -> Self {
        Self {
            held: Vec::new(),
            channels: vec![Vec::new(); channels],
        }
    }

    /// Takes interleaved samples; the whole frames among them stand in `channels` afterwards.
    pub fn split(&mut self, block: &[f32]) {
        let count = self.channels.len();
        self.channels.iter_mut().for_each(Vec::clear);
        if count == 1 {
            self.channels[0].extend_from_slice(block);
            return;
        }
        self.held.extend_from_slice(block);
        let whole = self.held.len() / count * count;
        for frame in self.held[..whole].chunks_exact(count) {
            for (channel, sample) in self.channels.iter_mut().zip(frame) {
                channel.push(*sample);
            }
        }
        self.held.drain(..whole);
    }

    /// Whole frames of the block split last.
    #[must_use]
    pub fn frames(&self) -> usize {
        self.channels.first().map_or(0, Vec::len)
    }
}

/// What one channel showed.
#[derive(Debug, Clone)]
pub(super) struct Shown {
    /// How loud it is.
    pub level: Level,
    /// Pulses upwards.
    pub up: Vec<Pulse>,
    /// Pulses downwards.
    pub down: Vec<Pulse>,
    /// Lines of the short transforms.
    pub frames: Vec<Frame>,
    /// Hertz that two lines must lie apart.
    pub blur_hz: f64,
    /// Seconds from frame to frame.
    pub hop_s: f64,
}

struct Channel {
    level: Level,
    pulses: PulseFinder,
    decimator: Decimator,
    frames: Frames,
    kept: Vec<f32>,
}

/// The first hearing.
pub(super) struct Survey {
    splitter: Splitter,
    channels: Vec<Channel>,
    difference: f64,
    sum: f64,
    heard: u64,
}

impl Survey {
    /// Nothing heard yet.
    #[must_use]
    pub fn new(given: &RecordingGiven) -> Self {
        let rate = given.rate_hz;
        let factor = (rate / TONE_RATE_HZ) as usize;
        let fastest = given.fastest_rpm.unwrap_or_else(limits::fastest_rpm) / 60.0;
        let most = 3.0 * SEGMENT_S * fastest * given.pulses_per_turn as f64;
        let channel = || {
            let decimator = Decimator::new(factor);
            let kept_rate = rate / decimator.factor() as f64;
            Channel {
                level: Level::new(),
                pulses: PulseFinder::new(
                    (SEGMENT_S * rate) as usize,
                    (rate / PULSE_RATE_HZ) as usize,
                    most as usize,
                ),
                frames: Frames::new(kept_rate, FRAME_S, Decimator::PASS * kept_rate),
                decimator,
                kept: Vec::new(),
            }
        };
        Self {
            splitter: Splitter::new(given.channels),
            channels: (0..given.channels).map(|_| channel()).collect(),
            difference: 0.0,
            sum: 0.0,
            heard: 0,
        }
    }

    /// Frames heard.
    #[must_use]
    pub fn heard(&self) -> u64 {
        self.heard
    }

    /// Takes interleaved samples.
    pub fn push(&mut self, block: &[f32]) {
        self.splitter.split(block);
        self.heard += self.splitter.frames() as u64;
        for (channel, samples) in self.channels.iter_mut().zip(&self.splitter.channels) {
            channel.level.push(samples);
            channel.pulses.push(samples);
            channel.kept.clear();
            channel.decimator.push(samples, &mut channel.kept);
            channel.frames.push(&channel.kept);
        }
        if let [left, right] = &self.splitter.channels[..] {
            for (a, b) in left.iter().zip(right) {
                self.difference += f64::from(a - b).powi(2);
                self.sum += f64::from(*a).powi(2) + f64::from(*b).powi(2);
            }
        }
    }

    /// Whether two channels carry the same (or only one of them carries anything).
    #[must_use]
    pub fn is_one_twice(&self) -> bool {
        self.channels.len() == 2 && self.difference <= SAME * SAME * self.sum
    }

    /// What every channel showed.
    #[must_use]
    pub fn finish(self) -> Vec<Shown> {
        let shown = |channel: Channel| {
            let (blur_hz, hop_s) = (channel.frames.blur(), channel.frames.hop());
            let (up, down) = channel.pulses.finish();
            Shown {
                level: channel.level,
                up,
                down,
                frames: channel.frames.finish(),
                blur_hz,
                hop_s,
            }
        };
        self.channels.into_iter().map(shown).collect()
    }
}
