//! The press fit as one answer.

use super::advice::advice;
use super::body::{FitBody, Looseness};
use super::chance::{chance, pairs};
use super::conditions::{UM_ACROSS, conditions, window, worst_hold};
use super::given::{Given, Stiffness};
use super::looseness::{Loose, looseness};
use super::press::heat_to_slip_on_k;
use super::states::{hold, over_temperature, over_time, states};
use super::words;
use crate::part::answer::ANSWER_FORMAT;
use crate::part::{Answer, Range};

/// How many random pairs are drawn, and from which seed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Draws {
    /// How many pairs.
    pub pairs_count: u32,
    /// Seed of the draws.
    pub seed: u64,
}

/// Pressure, stresses, hold, what time and weather do, the chance of a bad pair, and the limits to take.
///
/// - **What it finds:** two rings of Lamé in plane stress with thermal growth, water, turning and the
///   creep modulus; every condition brought to the interference at which it is just kept, so that the
///   least margin in µm decides.
/// - **What must hold:** a checked [`Given`].
/// - **Units:** mm, µm, MPa, N, N·mm, °C; interference on the diameter.
/// - **Promised:** exact for plain rings; what a flange, a taper or an end adds is the drawing's, not
///   this answer's.
#[must_use]
pub fn fit(given: &Given, draws: Draws) -> Answer<FitBody> {
    let lines = conditions(given);
    let window = window(&lines);
    let states = states(given);
    let pressure = states
        .first()
        .map_or(Range::exactly(0.0), |s| s.pressure_mpa);
    let seat = given.press(Stiffness::Likely, 0.0).seat_mm();
    let (least, most) = (
        given.fit.least_interference_um(),
        given.fit.most_interference_um(),
    );
    // Radius: half of the largest interference and half of the room on the diameter.
    let room_mm = most / UM_ACROSS + 0.5 * given.slip_on_mm;
    let body = FitBody {
        ring: given.ring.name.clone(),
        body: given.body.name.clone(),
        hole: given.fit.hole.clone(),
        shaft: given.fit.shaft.clone(),
        ring_outside_mm: given.ring_outside_mm,
        body_inside_mm: given.body_inside_mm,
        length_mm: given.length_mm,
        interference_um: Range::between(least, most),
        interference_sd_um: given.hole_sd_um.hypot(given.shaft_sd_um),
        push_on_n: hold(given, pressure, 1.0),
        torque_n_mm: hold(given, pressure, seat),
        slip_on_warmer_k: heat_to_slip_on_k(given.ring.expansion_per_k, seat, room_mm),
        chance: chance(&pairs(given, &lines), draws.pairs_count, draws.seed),
        over_temperature: over_temperature(given),
        over_time: over_time(given),
        advice: advice(given, window),
        looseness: loose(given),
        section: None,
        section_left_out: None,
        window_um: window,
        conditions: lines,
        states,
    };
    let verdict = words::verdict(&body);
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "fitting".to_owned(),
        verdict,
        headline: words::headline(&body, verdict),
        decided_by: words::decided_by(&body),
        trust: words::trust(given),
        cautions: words::cautions(given, &body),
        next: words::next(&body),
        body,
    }
}

/// The same answer with what a stated clearance does to the balance.
#[must_use]
pub fn with_clearance(
    given: &Given,
    mut answer: Answer<FitBody>,
    clearance_um: f64,
) -> Answer<FitBody> {
    answer.body.looseness = of_clearance(given, clearance_um);
    answer
}

/// What a clearance does to the balance, for a fit that is meant to be loose.
#[must_use]
pub fn of_clearance(given: &Given, clearance_um: f64) -> Option<Looseness> {
    let ring = given.ring_mass.as_ref()?;
    Some(looseness(&at_seat(given, clearance_um), ring))
}

fn at_seat(given: &Given, clearance_um: f64) -> Loose {
    Loose {
        clearance_um,
        length_mm: given.length_mm,
        runout_mm: given.seat_runout_mm,
        face_mm: given.ring_outside_mm,
        budget_g_mm: given.unbalance_g_mm,
    }
}

/// The gap of the worst moment with the least interference; 0 where it stays tight.
fn loose(given: &Given) -> Option<Looseness> {
    let (temperature_degc, hours) = worst_hold(given);
    let press = given.press(Stiffness::Soft, hours);
    let change = given.change(temperature_degc, false, given.speed_rpm);
    let parts_at_um = press.interference_for_mm(0.0, &change) * UM_ACROSS;
    of_clearance(given, parts_at_um - given.fit.least_interference_um())
}
