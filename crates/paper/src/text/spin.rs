//! The forecast of a spin, in the terminal.

use whirlwright_workshop::part::{Answer, Range};
use whirlwright_workshop::spin::SpinBody;

use super::page::Page;
use super::table::Table;
use crate::rounding;

/// Throw, sleep, losses, levers, turn, wobble, return and bearing.
#[must_use]
pub fn spin(answer: &Answer<SpinBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    throw(&mut page, body);
    sleep(&mut page, body);
    losses(&mut page, body);
    range(&mut page, body);
    levers(&mut page, body);
    runs(&mut page, body);
    bearing(&mut page, body);
    page.end(answer)
}

/// A range with its unit: the likely value, then the ends.
fn span(range: Range, figures: usize, unit: &str) -> String {
    let likely = rounding::figures(range.likely, figures, unit);
    if range.is_one() {
        return likely;
    }
    format!(
        "{likely} ({} to {})",
        rounding::figures(range.low, figures, ""),
        rounding::figures(range.high, figures, unit)
    )
}

fn throw(page: &mut Page, body: &SpinBody) {
    page.heading("Throw");
    let throw = &body.throw;
    page.row("speed after it", &span(body.speed_rpm, 3, "rpm"));
    if let Some(hand) = throw.hand_speed_m_per_s {
        page.row("hand", &span(hand, 3, "m/s"));
    } else {
        let needs = rounding::figures(throw.needs_hand_m_per_s, 3, "m/s");
        let least = rounding::figures(throw.needs_at_least_m_per_s, 3, "m/s");
        page.row(
            "hand it needs",
            &format!("{needs} if it stops at once; {least} if nothing were lost"),
        );
    }
    let joule = |energy: f64| rounding::places(energy, 2, "J");
    let mut account = format!("{} of turning", joule(throw.turning_j));
    if let (Some(thrown), Some(gravity), Some(hand), Some(jerk)) = (
        throw.thrown_j,
        throw.gravity_j,
        throw.hand_took_j,
        throw.jerk_j,
    ) {
        account = format!(
            "{} thrown and {} of falling give {account}; the stopping hand takes {} and the jerk at the end {}",
            joule(thrown),
            joule(gravity),
            joule(hand),
            joule(jerk)
        );
    }
    page.row("energy", &account);
    let string = &body.string;
    page.row(
        "string",
        &format!(
            "{} turns, from radius {} to {}",
            rounding::places(string.turns_count, 1, ""),
            rounding::places(string.inner_radius_mm, 2, "mm"),
            rounding::places(string.full_radius_mm, 2, "mm")
        ),
    );
}

fn sleep(page: &mut Page, body: &SpinBody) {
    page.heading("Sleep");
    page.row("time", &span(body.sleep_s, 3, "s"));
    page.row("ends at", &span(body.ends_at_rpm, 3, "rpm"));
    page.row(
        "climbs alone",
        &format!(
            "from {} with no help of the hand",
            rounding::figures(body.climb.alone_rpm, 3, "rpm")
        ),
    );
    let air = &body.air;
    page.row(
        "air",
        &format!(
            "{}, local Reynolds number up to {} (turbulent from {})",
            rounding::figures(air.density_kg_m3, 4, "kg/m³"),
            rounding::places(air.reynolds_number, 0, ""),
            rounding::places(air.transition_number, 0, "")
        ),
    );
}

fn losses(page: &mut Page, body: &SpinBody) {
    if body.losses.is_empty() {
        return;
    }
    page.heading("What takes the energy");
    let mut table = Table::new(&[
        "loss",
        ">share in %",
        ">after the throw in µN·m",
        ">at the end in µN·m",
        ">half gone adds in s",
    ]);
    for loss in &body.losses {
        table.row(vec![
            loss.name.clone(),
            rounding::number(100.0 * loss.share, 0),
            rounding::number(loss.torque_at_start_un_m, 1),
            rounding::number(loss.torque_at_end_un_m, 1),
            rounding::number(loss.half_gone_adds_s, 0),
        ]);
    }
    table.write(page);
}

/// What spends the range; a factor that spends less than a hundredth is not shown.
fn range(page: &mut Page, body: &SpinBody) {
    let spent = body.range_from.iter().filter(|r| r.share >= 0.01);
    let mut table = Table::new(&[
        "factor",
        ">sleep at its low end in s",
        ">at its high end in s",
    ]);
    for factor in spent {
        table.row(vec![
            factor.words.clone(),
            rounding::number(factor.sleep_at_low_s, 0),
            rounding::number(factor.sleep_at_high_s, 0),
        ]);
    }
    if !table.is_empty() {
        page.heading("Where the range comes from");
        table.write(page);
    }
}

fn levers(page: &mut Page, body: &SpinBody) {
    page.heading("Levers: sleep in s when one thing is changed");
    let mut table = Table::new(&[
        "",
        ">halved",
        ">a fifth less",
        ">as it is",
        ">a half more",
        ">doubled",
    ]);
    for lever in &body.levers {
        let at = |by: f64| {
            let place = by * lever.likely_at;
            let near = |p: &&whirlwright_workshop::spin::LeverPoint| {
                (p.at - place).abs() <= 1e-9 * place.abs()
            };
            let found = lever.points.iter().find(near);
            found.map_or_else(String::new, |p| rounding::number(p.sleep_s, 0))
        };
        let here = rounding::figures(lever.likely_at, 3, &lever.unit);
        table.row(vec![
            format!("{}, now {here}", lever.name),
            at(0.5),
            at(0.8),
            at(1.0),
            at(1.5),
            at(2.0),
        ]);
    }
    table.write(page);
}

fn runs(page: &mut Page, body: &SpinBody) {
    page.heading("How true it runs");
    let turn = &body.turn;
    page.row(
        "turn, string free",
        &format!(
            "{} about the string over the sleep: {} by {} between the sides, {} by a string {} off the middle",
            span(turn.free_turn_deg, 2, "degrees"),
            span(turn.by_mass_deg, 2, "degrees"),
            span(turn.mass_difference_g, 2, "g"),
            span(turn.by_string_deg, 2, "degrees"),
            span(turn.off_centre_mm, 2, "mm")
        ),
    );
    page.row(
        "turn, string stiff",
        &format!(
            "it swings back: at most {}, lean at most {}",
            span(turn.held_turn_deg, 2, "degrees"),
            span(turn.lean_deg, 2, "degrees")
        ),
    );
    page.row(
        "stiffness",
        &format!(
            "angular momentum {}; a twisted string leans it {} a second",
            rounding::figures(turn.momentum_g_m2_per_s, 3, "g·m²/s"),
            span(turn.twist_leans_deg_per_s, 2, "degrees")
        ),
    );
    let wobble = &body.wobble;
    page.row(
        "static unbalance",
        &format!(
            "{}: the bearing orbits {}, at {}",
            span(wobble.static_unbalance_g_mm, 2, "g·mm"),
            span(wobble.eccentricity_um, 2, "µm"),
            span(wobble.orbit_speed_mm_per_s, 2, "mm/s")
        ),
    );
    let times = wobble.couple_amplification.map_or_else(
        || "and the piece keeps no axis of its own".to_owned(),
        |times| format!("{} times a flat disc's", rounding::figures(times, 3, "")),
    );
    page.row(
        "couple unbalance",
        &format!(
            "{}: the rim wobbles {}, {times}",
            span(wobble.couple_unbalance_g_mm2, 2, "g·mm²"),
            span(wobble.rim_wobble_um, 2, "µm")
        ),
    );
    page.row(
        "free wobble",
        &format!(
            "{} times the speed after a bad throw",
            rounding::figures(wobble.nutation_order, 4, "")
        ),
    );
}

fn bearing(page: &mut Page, body: &SpinBody) {
    page.heading("Bearing");
    let own = &body.bearing;
    page.row(
        "size",
        &format!(
            "{} x {}, {} balls of {}, {}",
            rounding::figures(own.bore_mm, 4, "mm"),
            rounding::figures(own.outside_mm, 4, "mm"),
            own.balls,
            rounding::figures(own.ball_mm, 4, "mm"),
            own.lubricant
        ),
    );
    page.row(
        "lines",
        &format!(
            "cage {}, outer race {}, inner race {}, ball {}",
            rounding::figures(own.cage_hz, 3, "Hz"),
            rounding::figures(own.outer_race_hz, 3, "Hz"),
            rounding::figures(own.inner_race_hz, 3, "Hz"),
            rounding::figures(own.ball_hz, 3, "Hz")
        ),
    );
    page.row(
        "hard catch",
        &format!(
            "{} on a static rating of {}: safety {}",
            span(own.catch_load_n, 2, "N"),
            rounding::figures(own.static_rating_n, 3, "N"),
            span(own.catch_safety_ratio, 2, "")
        ),
    );
}
