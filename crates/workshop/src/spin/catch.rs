//! The bearing in the sleep and in a hard catch.

use super::body::BearingLine;
use super::case::Case;
use super::given::Given;
use super::unwind::gravity_m_per_s2;
use crate::bearing::{Orders, Races, equivalent_load_n};

/// The bearing's lines, and its static rating beside the load of a hard catch, so many times the weight.
pub(super) fn line(given: &Given, likely: &Case<'_>, start_rpm: f64) -> BearingLine {
    let own = &given.bearing;
    let orders = Orders::of(
        own.balls,
        own.ball_mm,
        own.pitch_mm(),
        own.contact_angle_deg,
    );
    let races = Races::of(
        own.balls,
        own.ball_mm,
        orders.gamma_ratio,
        own.contact_angle_deg,
    );
    let static_rating_n = races.map_or(0.0, |races| races.rating_n());
    let weight_n = likely.mass_kg() * gravity_m_per_s2();
    let catch_load_n = given
        .faults
        .catch_jerk_ratio
        .map(|jerk| equivalent_load_n(jerk * weight_n, 0.0));
    let hz = |order: f64| order * start_rpm / 60.0;
    BearingLine {
        bore_mm: own.bore_mm,
        outside_mm: own.outside_mm,
        balls: own.balls,
        ball_mm: own.ball_mm,
        lubricant: own.lubricant.words.clone(),
        viscosity_cst: likely.viscosity_cst(),
        cage_order: orders.cage_order,
        outer_race_order: orders.outer_race_order,
        inner_race_order: orders.inner_race_order,
        ball_order: orders.ball_order,
        cage_hz: hz(orders.cage_order),
        outer_race_hz: hz(orders.outer_race_order),
        inner_race_hz: hz(orders.inner_race_order),
        ball_hz: hz(orders.ball_order),
        static_rating_n,
        catch_load_n,
        catch_safety_ratio: catch_load_n.map(|load| static_rating_n / load),
    }
}
