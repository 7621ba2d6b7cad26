//! The chance that a pair as it comes is loose or over-stressed: by drawing, and by integration.

use whirlwright_kit::normal::{below, two_draws};
use whirlwright_kit::random::SplitMix64;

use super::body::Chance;
use super::condition_line::ConditionLine;
use super::conditions::{UM_ACROSS, needed_um, worst_hold};
use super::given::{Given, Stiffness};
use crate::part::Range;

/// What pairs as they come are judged by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pairs {
    /// Mean interference on the diameter.
    pub mean_um: f64,
    /// Standard deviation of bores.
    pub hole_sd_um: f64,
    /// Standard deviation of spigots.
    pub shaft_sd_um: f64,
    /// Interference at which they would part without any torque.
    pub parts_at_um: f64,
    /// Interference that the wanted torque takes beyond that with a friction of 1; 0 without a torque.
    pub torque_um: f64,
    /// Friction; drawn as a triangle.
    pub friction_coefficient: Range,
    /// Interference above which they are over-stressed.
    pub most_um: f64,
}

/// Draws pairs and counts, and integrates the same without drawing.
///
/// - **What it finds:** shares of loose and of over-stressed pairs. Bores and spigots are normal,
///   friction a triangle; a pair is loose when its interference is below `parts_at + torque/friction`.
/// - **Method:** seeded draws; beside them the normal distribution's own integral, for loose pairs
///   averaged over the triangle of friction by equal shares of its area.
/// - **Promised:** the same seed gives the same counts; draws and integral agree within
///   `agree_within_share` (four standard errors of the larger share) but once in 16 000 questions.
#[must_use]
pub fn chance(pairs: &Pairs, pairs_count: u32, seed: u64) -> Chance {
    let mut stream = SplitMix64::new(seed);
    let (mut loose, mut over) = (0u32, 0u32);
    let plain = pairs.torque_um == 0.0;
    for _ in 0..pairs_count {
        let (hole, shaft) = two_draws(&mut stream);
        let found = pairs.mean_um + pairs.shaft_sd_um * shaft - pairs.hole_sd_um * hole;
        let needed = if plain {
            pairs.parts_at_um
        } else {
            let friction = pairs.friction_coefficient.at_quantile(stream.uniform());
            pairs.parts_at_um + pairs.torque_um / friction
        };
        loose += u32::from(found < needed);
        over += u32::from(found > pairs.most_um);
    }
    let share = |count: u32| f64::from(count) / f64::from(pairs_count.max(1));
    let loose_probability = loose_probability(pairs);
    let sd = pairs.hole_sd_um.hypot(pairs.shaft_sd_um);
    let over_stressed_probability = 1.0 - below_place(pairs.most_um - pairs.mean_um, sd);
    let larger = loose_probability.max(over_stressed_probability).min(0.5);
    // Four standard errors, and never less than four pairs.
    let drawn = f64::from(pairs_count.max(1));
    let error = 4.0 * (larger * (1.0 - larger) / drawn).sqrt() + 4.0 / drawn;
    Chance {
        pairs_count,
        seed,
        loose_share: share(loose),
        over_stressed_share: share(over),
        loose_probability,
        over_stressed_probability,
        agree_within_share: error,
    }
}

/// The mean of the normal tail over the triangle of friction.
fn loose_probability(pairs: &Pairs) -> f64 {
    /// Slices of equal area: the error of the midpoint rule is far below that of a million draws.
    const SLICES: u32 = 4000;
    let sd = pairs.hole_sd_um.hypot(pairs.shaft_sd_um);
    let tail = |needed: f64| below_place(needed - pairs.mean_um, sd);
    if pairs.torque_um == 0.0 {
        return tail(pairs.parts_at_um);
    }
    let sum: f64 = (0..SLICES)
        .map(|n| {
            let quantile = (f64::from(n) + 0.5) / f64::from(SLICES);
            let friction = pairs.friction_coefficient.at_quantile(quantile);
            tail(pairs.parts_at_um + pairs.torque_um / friction)
        })
        .sum();
    sum / f64::from(SLICES)
}

/// Share of a normal spread below a place so far from its mean; all or nothing without spread.
fn below_place(away_um: f64, sd_um: f64) -> f64 {
    if sd_um > 0.0 {
        below(away_um / sd_um)
    } else {
        f64::from(u8::from(away_um > 0.0))
    }
}

/// What random pairs are judged by: the worst moment of holding, the strictest way of breaking.
pub(super) fn pairs(given: &Given, lines: &[ConditionLine]) -> Pairs {
    let (temperature_degc, hours) = worst_hold(given);
    let press = given.press(Stiffness::Soft, hours);
    let change = given.change(temperature_degc, false, given.speed_rpm);
    let parts_at_um = press.interference_for_mm(0.0, &change) * UM_ACROSS;
    let torque_um = if given.torque_n_mm.is_some() {
        needed_um(given, temperature_degc, hours, 1.0) - parts_at_um
    } else {
        0.0
    };
    let allowed = lines.iter().filter_map(|l| l.at_most_um);
    Pairs {
        mean_um: (given.fit.shaft.middle_mm() - given.fit.hole.middle_mm()) * 0.5 * UM_ACROSS,
        hole_sd_um: given.hole_sd_um,
        shaft_sd_um: given.shaft_sd_um,
        parts_at_um,
        torque_um,
        friction_coefficient: given.friction_coefficient,
        most_um: allowed.fold(f64::INFINITY, f64::min),
    }
}
