//! Recordings of spins that never happened, with known truth, for rehearsal: invented, seeded, streamed.

use std::f64::consts::TAU;

use whirlwright_kit::normal::two_draws;
use whirlwright_kit::random::SplitMix64;

/// An invented recording: everything in it is known beforehand.
///
/// The speed falls by the law of laminar drag, dω/dt ∝ −ω^1.5, whose angle and time are closed forms.
#[derive(Debug, Clone, PartialEq)]
pub struct Rehearsal {
    /// What the chance of noise, missed and doubled pulses starts from.
    pub seed: u64,
    /// Frames a second.
    pub rate_hz: f64,
    /// How long it lasts.
    pub lasts_s: f64,
    /// Speed at its beginning.
    pub begin_rpm: f64,
    /// Speed at its end; the same as at its beginning for a driven stand.
    pub end_rpm: f64,
    /// What is on each channel, one or two of them.
    pub channels: Vec<Channel>,
}

/// What one channel carries.
#[derive(Debug, Clone, PartialEq)]
pub struct Channel {
    /// The mark's pulses.
    pub mark: Option<Mark>,
    /// Orders with amplitude (full scale is 1) and lead over the mark in degrees.
    pub orders: Vec<Order>,
    /// Standard deviation of white noise, full scale being 1.
    pub noise_fraction: f64,
    /// Samples are held to this fraction of full scale, as a gain too high does.
    pub clip_fraction: f64,
}

/// One order of a channel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Order {
    /// How many times per turn.
    pub order: f64,
    /// Amplitude at the first speed, as a fraction of full scale.
    pub amplitude_fraction: f64,
    /// Lead over the mark.
    pub lead_deg: f64,
    /// Whether the amplitude goes with the square of the speed, as an acceleration from an orbit does.
    pub with_square: bool,
}

/// Pulses of a mark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// Height as a fraction of full scale; negative for dark pulses.
    pub height_fraction: f64,
    /// Standard deviation of the bell as a fraction of a turn.
    pub width_fraction: f64,
    /// Marks a turn, evenly spaced.
    pub per_turn: usize,
    /// Share of pulses that are missed.
    pub missed_fraction: f64,
    /// Share of pulses followed by one too many, at any angle.
    pub doubled_fraction: f64,
}

impl Mark {
    /// One clean bright mark.
    #[must_use]
    pub fn clean() -> Self {
        Self {
            height_fraction: 0.6,
            width_fraction: 0.006,
            per_turn: 1,
            missed_fraction: 0.0,
            doubled_fraction: 0.0,
        }
    }
}

impl Channel {
    /// Nothing but what is added.
    #[must_use]
    pub fn quiet() -> Self {
        Self {
            mark: None,
            orders: Vec::new(),
            noise_fraction: 0.0,
            clip_fraction: 1.0,
        }
    }
}

impl Rehearsal {
    /// The order of an orbit of this radius, for a pick-up of this scale.
    #[must_use]
    pub fn orbit(&self, eccentricity_um: f64, lead_deg: f64, full_scale_m_per_s2: f64) -> Order {
        let omega = rad_per_s(self.begin_rpm);
        Order {
            order: 1.0,
            amplitude_fraction: 1e-6 * eccentricity_um * omega * omega / full_scale_m_per_s2,
            lead_deg,
            with_square: true,
        }
    }

    /// Frames in all.
    #[must_use]
    pub fn frames(&self) -> u64 {
        (self.lasts_s * self.rate_hz) as u64
    }

    /// True speed at a time.
    #[must_use]
    pub fn speed_rpm(&self, time_s: f64) -> f64 {
        self.omega(time_s) * 60.0 / TAU
    }

    /// True turns since the beginning; the mark passes at whole ones.
    #[must_use]
    pub fn turn_count(&self, time_s: f64) -> f64 {
        self.law().turns(time_s)
    }

    fn omega(&self, time_s: f64) -> f64 {
        self.law().omega(time_s)
    }

    fn law(&self) -> Law {
        let root = |rpm: f64| rad_per_s(rpm).powf(-0.5);
        let first = root(self.begin_rpm);
        Law {
            root: first,
            slowing: (root(self.end_rpm) - first) / self.lasts_s,
        }
    }

    /// Plays it from the beginning, interleaved, in blocks of so many frames, until the sink says `false`.
    pub fn play(&self, block_frames: usize, sink: &mut dyn FnMut(&[f32]) -> bool) {
        let mut draws: Vec<SplitMix64> = (0..self.channels.len())
            .map(|channel| SplitMix64::new(self.seed.wrapping_add(channel as u64 * 7919)))
            .collect();
        let (all, mut frame) = (self.frames(), 0);
        let mut block = Vec::with_capacity(block_frames * self.channels.len());
        let (law, begin) = (self.law(), rad_per_s(self.begin_rpm));
        while frame < all {
            block.clear();
            for n in frame..all.min(frame + block_frames.max(1) as u64) {
                let time = n as f64 / self.rate_hz;
                let (turns, square) = (law.turns(time), (law.omega(time) / begin).powi(2));
                for (channel, draws) in self.channels.iter().zip(&mut draws) {
                    let sample = channel.sample(self.seed, turns, square)
                        + channel.noise_fraction * two_draws(draws).0;
                    block.push(sample.clamp(-channel.clip_fraction, channel.clip_fraction) as f32);
                }
            }
            frame += block_frames.max(1) as u64;
            if !sink(&block) {
                return;
            }
        }
    }
}

impl Channel {
    fn sample(&self, seed: u64, turns: f64, square: f64) -> f64 {
        let orders: f64 = self
            .orders
            .iter()
            .map(|order| {
                let size = if order.with_square { square } else { 1.0 } * order.amplitude_fraction;
                size * (TAU * (order.order * turns).fract() + order.lead_deg.to_radians()).cos()
            })
            .sum();
        orders + self.mark.map_or(0.0, |mark| mark.sample(seed, turns))
    }
}

impl Mark {
    fn sample(&self, seed: u64, turns: f64) -> f64 {
        let (marks, width) = (self.per_turn as f64, self.width_fraction);
        let passed = (turns * marks).round();
        let bell = |off: f64| (-0.5 * (off / width).powi(2)).exp();
        let off = (turns * marks - passed) / marks;
        let mut height = if self.chance(seed, passed, 1) >= self.missed_fraction {
            bell(off)
        } else {
            0.0
        };
        // One too many stands between a pulse and the next, clear of both.
        let before = (turns * marks).floor();
        if self.chance(seed, before, 2) < self.doubled_fraction {
            let place = 0.1 + 0.8 * self.chance(seed, before, 3);
            height += bell((turns * marks - before - place) / marks);
        }
        self.height_fraction * height
    }

    fn chance(&self, seed: u64, pulse: f64, of: u64) -> f64 {
        SplitMix64::new(
            seed ^ (pulse as i64 as u64)
                .wrapping_mul(31)
                .wrapping_add(of << 40),
        )
        .uniform()
    }
}

/// dω/dt ∝ −ω^1.5: one over the root of ω rises evenly.
#[derive(Debug, Clone, Copy)]
struct Law {
    root: f64,
    slowing: f64,
}

impl Law {
    fn omega(self, time_s: f64) -> f64 {
        (self.root + self.slowing * time_s).powi(-2)
    }

    /// The integral of ω over the time, in turns.
    fn turns(self, time_s: f64) -> f64 {
        time_s / (self.root * (self.root + self.slowing * time_s)) / TAU
    }
}

fn rad_per_s(rpm: f64) -> f64 {
    rpm * TAU / 60.0
}
