//! The fit at the moments that matter, and over temperature and time.

use super::body::{StateLine, TemperaturePoint, TimePoint};
use super::conditions::{UM_ACROSS, last_hours};
use super::given::{Given, Stiffness};
use super::press::{Pressed, hold_n};
use crate::part::Range;

/// One moment of a fit's life.
struct Moment {
    name: String,
    temperature_degc: f64,
    hours: f64,
    speed_rpm: f64,
    wet: bool,
}

/// New, cold, hot, at speed, and the same after its years.
pub(super) fn states(given: &Given) -> Vec<StateLine> {
    let t = given.temperature_degc;
    let last = last_hours(given);
    let aged = format!("after {} years", given.years_count);
    let moment = |name: String, temperature_degc, hours, speed_rpm, wet| Moment {
        name,
        temperature_degc,
        hours,
        speed_rpm,
        wet,
    };
    let new = given.measured_at_degc;
    let speed = given.speed_rpm;
    let moments = [
        moment("new".to_owned(), new, 0.0, 0.0, false),
        moment("new, at speed".to_owned(), new, 0.0, speed, false),
        moment("cold, at speed".to_owned(), t.low, 0.0, speed, false),
        moment("hot".to_owned(), t.high, 0.0, 0.0, true),
        moment(aged.clone(), t.likely, last, 0.0, true),
        moment(format!("cold {aged}, at speed"), t.low, last, speed, false),
        moment(format!("hot {aged}"), t.high, last, 0.0, true),
    ];
    moments.iter().map(|m| state(given, m)).collect()
}

/// What a number of the state runs over: the limits of interference with the likely stiffness in the
/// middle, and the soft and stiff grades at the ends.
fn over(given: &Given, moment: &Moment, of: impl Fn(&Pressed) -> f64) -> Range {
    let at = |interference_um: f64, stiffness| {
        let press = given.press(stiffness, moment.hours);
        let change = given.change(moment.temperature_degc, moment.wet, moment.speed_rpm);
        of(&press.at(interference_um / UM_ACROSS, &change))
    };
    let (least, most) = (
        given.fit.least_interference_um(),
        given.fit.most_interference_um(),
    );
    let corners = [
        at(least, Stiffness::Soft),
        at(least, Stiffness::Stiff),
        at(most, Stiffness::Soft),
        at(most, Stiffness::Stiff),
    ];
    Range {
        low: corners.into_iter().fold(f64::INFINITY, f64::min),
        likely: at(0.5 * (least + most), Stiffness::Likely),
        high: corners.into_iter().fold(f64::NEG_INFINITY, f64::max),
    }
}

fn state(given: &Given, moment: &Moment) -> StateLine {
    let pressure_mpa = over(given, moment, |p| p.pressure_mpa);
    // The larger of the two faces, with its sign.
    let larger = |a: f64, b: f64| if a.abs() > b.abs() { a } else { b };
    StateLine {
        name: moment.name.clone(),
        temperature_degc: moment.temperature_degc,
        years_count: moment.hours / super::conditions::YEAR_HOURS,
        speed_rpm: moment.speed_rpm,
        interference_um: over(given, moment, |p| p.interference_mm * UM_ACROSS),
        pressure_mpa,
        ring_hoop_mpa: over(given, moment, |p| p.ring_seat_mpa),
        body_hoop_mpa: over(given, moment, |p| {
            larger(p.body_inside_mpa, p.body_seat_mpa)
        }),
        body_strain_percent: over(given, moment, |p| {
            100.0
                * p.body_strain_share
                    .abs()
                    .max(p.body_inside_strain_share.abs())
        }),
        torque_n_mm: hold(
            given,
            pressure_mpa,
            given.press(Stiffness::Likely, 0.0).seat_mm(),
        ),
    }
}

/// Force or torque that friction holds: pressure and friction each with its range.
///
/// `arm` is 1 for the force along the axle in N, the seat's radius for the torque in N·mm.
pub(super) fn hold(given: &Given, pressure_mpa: Range, arm: f64) -> Range {
    let seat = given.press(Stiffness::Likely, 0.0).seat_mm();
    let of = |pressure, friction| arm * hold_n(pressure, seat, given.length_mm, friction);
    let friction = given.friction_coefficient;
    Range {
        low: of(pressure_mpa.low, friction.low),
        likely: of(pressure_mpa.likely, friction.likely),
        high: of(pressure_mpa.high, friction.high),
    }
}

/// Pressure over the range of temperature, at rest and dry.
pub(super) fn over_temperature(given: &Given) -> Vec<TemperaturePoint> {
    /// Points of the picture; pressure is straight over temperature but for the place where it ends.
    const POINTS: u32 = 25;
    let t = given.temperature_degc;
    let at = |temperature_degc: f64, hours: f64| {
        let moment = Moment {
            name: String::new(),
            temperature_degc,
            hours,
            speed_rpm: 0.0,
            wet: false,
        };
        over(given, &moment, |p| p.pressure_mpa)
    };
    (0..POINTS)
        .map(|n| {
            let share = f64::from(n) / f64::from(POINTS - 1);
            let temperature_degc = t.low + share * (t.high - t.low);
            TemperaturePoint {
                temperature_degc,
                new_mpa: at(temperature_degc, 0.0),
                later_mpa: at(temperature_degc, last_hours(given)),
            }
        })
        .collect()
}

/// Pressure over time at the usual temperature, from an hour on, in equal steps of its logarithm.
pub(super) fn over_time(given: &Given) -> Vec<TimePoint> {
    const POINTS: u32 = 25;
    let last = last_hours(given).max(1.0);
    (0..POINTS)
        .map(|n| {
            let hours_count = last.powf(f64::from(n) / f64::from(POINTS - 1));
            let moment = Moment {
                name: String::new(),
                temperature_degc: given.temperature_degc.likely,
                hours: hours_count,
                speed_rpm: 0.0,
                wet: false,
            };
            TimePoint {
                hours_count,
                pressure_mpa: over(given, &moment, |p| p.pressure_mpa),
            }
        })
        .collect()
}
