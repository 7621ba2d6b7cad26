//! The bearing as one answer.

use super::body::{BearingBody, BearingLine, LoadLine, LubricantLine, TorquePoint};
use super::friction::simple_un_m;
use super::given::{Given, most_balls};
use super::kinematics::Orders;
use super::rating::{Races, equivalent_load_n};
use super::torque::{FrictionRange, viscosity_at};
use super::words;
use crate::part::Answer;
use crate::part::answer::ANSWER_FORMAT;
use crate::shelf::{bearing_laws, lubricants};

/// Frequencies, contact, static rating and safety, and friction torque of a bearing.
///
/// - **What must hold:** a [`Given`], so the balls fit and every number can be.
/// - **Promised:** frequencies and contact exact for rolling without slip and for the grooves of the shelf; the
///   torque is an estimate whose range takes all low and all high factors together.
#[must_use]
pub fn bearing(given: &Given) -> Answer<BearingBody> {
    let orders = Orders::of(
        given.balls,
        given.ball_mm,
        given.pitch_mm(),
        given.contact_angle_deg,
    );
    let races = Races::of(
        given.balls,
        given.ball_mm,
        orders.gamma_ratio,
        given.contact_angle_deg,
    )
    .expect("a ball smaller than half the ring's height stands in grooves wider than itself");
    let static_rating_n = races.rating_n();
    let friction = FrictionRange::of(given, static_rating_n);
    let torque_un_m = friction.torque_un_m(given.speed_rpm);
    let simple = bearing_laws().simple_coefficient.number;
    let body = BearingBody {
        bearing: given.id.clone(),
        bore_mm: given.bore_mm,
        outside_mm: given.outside_mm,
        width_mm: given.width_mm,
        balls: given.balls,
        balls_at_most: most_balls(given.ball_mm, given.pitch_mm()),
        ball_mm: given.ball_mm,
        pitch_mm: given.pitch_mm(),
        contact_angle_deg: given.contact_angle_deg,
        speed_rpm: given.speed_rpm,
        orders,
        lines: lines(&orders, given.speed_rpm),
        rating_factor: races.rating_factor(),
        static_rating_n,
        loads: loads(given, &races),
        lubricant: given.lubricant.id.clone(),
        temperature_degc: given.temperature_degc,
        viscosity_cst: given
            .viscosity_cst
            .unwrap_or_else(|| viscosity_at(given.lubricant, given.temperature_degc)),
        torque_un_m,
        viscous_torque_un_m: friction.each(|f| f.viscous_un_m(given.speed_rpm)),
        load_torque_un_m: friction.each(|f| f.load_torque_un_m),
        dry_torque_un_m: friction.each(|f| f.dry_torque_un_m),
        simple_torque_un_m: simple_un_m(simple, given.weight_n(), given.bore_mm),
        curve: curve(&friction, given.speed_rpm),
        lubricants: lubricated(given, static_rating_n),
    };
    let (verdict, decided_by) = words::verdict(&body);
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "bearing".to_owned(),
        verdict,
        headline: words::headline(&body),
        decided_by,
        trust: words::trust(given),
        cautions: words::cautions(),
        next: words::next(&body),
        body,
    }
}

fn lines(orders: &Orders, speed_rpm: f64) -> Vec<BearingLine> {
    // Turns a second.
    let turns = speed_rpm / 60.0;
    let line = |name: &str, order: f64| BearingLine {
        name: name.to_owned(),
        order,
        frequency_hz: order * turns,
    };
    vec![
        line("cage", orders.cage_order),
        line("outer race", orders.outer_race_order),
        line("inner race", orders.inner_race_order),
        line("ball", orders.ball_order),
    ]
}

fn loads(given: &Given, races: &Races) -> Vec<LoadLine> {
    let rating_n = races.rating_n();
    let weight_n = given.weight_n();
    let line = |name: String, load_n: f64| {
        let ball_load_n = races.ball_load_n(load_n);
        LoadLine {
            name,
            load_n,
            ball_load_n,
            inner: races.inner.under(ball_load_n),
            outer: races.outer.under(ball_load_n),
            static_safety_ratio: rating_n / equivalent_load_n(load_n, 0.0),
        }
    };
    vec![
        line("at the weight of the piece".to_owned(), weight_n),
        line(
            format!("in a catch of {} times the weight", given.catch_jerk_ratio),
            given.catch_jerk_ratio * weight_n,
        ),
        line("at the static rating".to_owned(), rating_n),
    ]
}

/// Torque from nought to a quarter above the asked speed.
fn curve(friction: &FrictionRange, speed_rpm: f64) -> Vec<TorquePoint> {
    const POINTS: u32 = 60;
    let top_rpm = if speed_rpm > 0.0 {
        1.25 * speed_rpm
    } else {
        5000.0
    };
    let point = |n: u32| {
        let speed_rpm = top_rpm * f64::from(n) / f64::from(POINTS);
        let torque = friction.torque_un_m(speed_rpm);
        TorquePoint {
            speed_rpm,
            low_un_m: torque.low,
            likely_un_m: torque.likely,
            high_un_m: torque.high,
        }
    };
    (0..=POINTS).map(point).collect()
}

fn lubricated(given: &Given, static_rating_n: f64) -> Vec<LubricantLine> {
    let line = |lubricant| {
        let friction = FrictionRange::lubricated(given, static_rating_n, lubricant);
        LubricantLine {
            lubricant: lubricant.id.clone(),
            words: lubricant.words.clone(),
            torque_un_m: friction.torque_un_m(given.speed_rpm),
        }
    };
    lubricants().iter().map(line).collect()
}
