//! Speed and angle from the pulses of a mark.

use whirlwright_kit::describe;
use whirlwright_kit::signal::number::{Counted, count};
use whirlwright_kit::signal::phase::{Phase, PhaseFit};
use whirlwright_kit::signal::pulse::Pulse;

/// Distance of the knots of the smooth angle: a piece slows over many of them.
const KNOT_S: f64 = 1.0;
/// In short recordings the knots stand closer.
const LEAST_KNOTS: f64 = 8.0;
/// Pulses farther from the smooth angle than so many robust deviations are set aside.
const STRAY: f64 = 5.0;
/// Turns that must have passed, and seconds.
const LEAST_TURNS: f64 = 10.0;
const LEAST_S: f64 = 2.0;
/// Scatter of a pulse as a share of a turn.
const MOST_SCATTER: f64 = 0.05;
/// Share of the pulses that may be missing, and that may be too much.
const MOST_MISSED: f64 = 0.4;
const MOST_SURPLUS: f64 = 0.3;
/// Every second pulse so much early, as a share of a turn, shows two marks; and so many standard errors.
const UNEVEN: f64 = 0.004;
const UNEVEN_ERRORS: f64 = 8.0;

/// What the pulses of one side of one channel say.
#[derive(Debug, Clone)]
pub(super) struct PulseTrack {
    /// Turns against time, 0 at a mark.
    pub phase: Phase,
    /// First and last pulse used.
    pub begin_s: f64,
    /// Last pulse used.
    pub end_s: f64,
    /// Scatter of a pulse about the smooth angle, in turns.
    pub scatter: f64,
    /// Pulses used.
    pub used: usize,
    /// Pulses missing.
    pub missed: usize,
    /// Pulses too much, strays included.
    pub surplus: usize,
    /// How far every second pulse is early, in turns, where that is more than chance.
    pub uneven: Option<f64>,
}

impl PulseTrack {
    /// Follows the pulses between two rates of turning (in turns a second); none if they do not turn.
    #[must_use]
    pub fn of(
        pulses: &[Pulse],
        rate_hz: f64,
        per_turn: usize,
        slowest: f64,
        fastest: f64,
    ) -> Option<Self> {
        let times: Vec<f64> = pulses.iter().map(|pulse| pulse.at / rate_hz).collect();
        let marks = per_turn as f64;
        let counted = count(&times, 1.0 / (fastest * marks), 1.0 / (slowest * marks))?;
        let turns = *counted.numbers.last()? as f64 / marks;
        let used = counted.times.len() as f64;
        if turns < LEAST_TURNS
            || counted.times.last()? - counted.times.first()? < LEAST_S
            || counted.missed as f64 > MOST_MISSED * (used + counted.missed as f64)
            || counted.surplus as f64 > MOST_SURPLUS * used
        {
            return None;
        }
        Self::smoothed(&counted, per_turn).filter(|track| track.scatter < MOST_SCATTER)
    }

    fn smoothed(counted: &Counted, per_turn: usize) -> Option<Self> {
        let marks = per_turn as f64;
        let (begin, end) = (*counted.times.first()?, *counted.times.last()?);
        let mut turns: Vec<f64> = counted
            .numbers
            .iter()
            .map(|number| *number as f64 / marks)
            .collect();
        let mut weights = vec![1.0; turns.len()];
        let first = fitted(&counted.times, &turns, &weights, begin, end)?;
        // Marks need not stand evenly: each takes the median of its own offsets.
        for mark in 1..per_turn {
            let own = |n: usize| counted.numbers[n] as usize % per_turn == mark;
            let off: Vec<f64> = (0..turns.len())
                .filter(|n| own(*n))
                .map(|n| turns[n] - first.turns(counted.times[n]))
                .collect();
            let shift = describe::median(&off).unwrap_or(0.0);
            (0..turns.len())
                .filter(|n| own(*n))
                .for_each(|n| turns[n] -= shift);
        }
        let mut phase = fitted(&counted.times, &turns, &weights, begin, end)?;
        let mut strays = 0;
        for _ in 0..2 {
            let off: Vec<f64> = counted
                .times
                .iter()
                .zip(&turns)
                .map(|(t, n)| n - phase.turns(*t))
                .collect();
            let (middle, spread) = describe::robust(&off)?;
            for (weight, off) in weights.iter_mut().zip(&off) {
                *weight = f64::from(u8::from((off - middle).abs() <= STRAY * spread.max(1e-9)));
            }
            strays = weights.iter().filter(|weight| **weight == 0.0).count();
            phase = fitted(&counted.times, &turns, &weights, begin, end)?;
        }
        let kept: Vec<(i64, f64)> = (0..turns.len())
            .filter(|n| weights[*n] > 0.0)
            .map(|n| (counted.numbers[n], turns[n] - phase.turns(counted.times[n])))
            .collect();
        let off: Vec<f64> = kept.iter().map(|(_, off)| *off).collect();
        let scatter = describe::moments(&off)?.sd?;
        Some(Self {
            uneven: if per_turn == 1 {
                uneven(&kept, scatter)
            } else {
                None
            },
            phase,
            begin_s: begin,
            end_s: end,
            scatter,
            used: kept.len(),
            missed: counted.missed + strays,
            surplus: counted.surplus + strays,
        })
    }
}

fn fitted(times: &[f64], turns: &[f64], weights: &[f64], begin: f64, end: f64) -> Option<Phase> {
    let mut fit = PhaseFit::new(begin, end, KNOT_S.min((end - begin) / LEAST_KNOTS));
    for ((time, turns), weight) in times
        .iter()
        .zip(turns)
        .zip(weights)
        .filter(|(_, weight)| **weight > 0.0)
    {
        fit.turns(*time, *turns, *weight);
    }
    fit.solve()
}

/// The distance between the even and the odd pulses, where it is more than chance and more than a trifle.
fn uneven(off: &[(i64, f64)], scatter: f64) -> Option<f64> {
    let of = |odd: i64| {
        off.iter()
            .filter(|(n, _)| n % 2 == odd)
            .map(|(_, off)| *off)
            .collect::<Vec<f64>>()
    };
    let (even, odd) = (of(0), of(1));
    let apart = (describe::median(&odd)? - describe::median(&even)?).abs();
    let error = scatter * (1.0 / even.len() as f64 + 1.0 / odd.len() as f64).sqrt();
    (apart > UNEVEN && apart > UNEVEN_ERRORS * error).then_some(apart)
}
