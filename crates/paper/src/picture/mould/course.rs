//! Pressures and mass over a shot, and the temperature through the wall.

use whirlwright_workshop::moulding::{CoursePoint, MouldBody};

use crate::ink::Drawing;
use crate::picture::plot::{Limit, LinePlot, Scale, Series};
use crate::rounding;

/// Pressure at nozzle and gate against time.
#[must_use]
pub fn course_drawing(body: &MouldBody) -> Drawing {
    let line = |of: fn(&CoursePoint) -> f64| points(body, of);
    let (nozzle, gate) = (line(|p| p.nozzle_mpa), line(|p| p.gate_mpa));
    let all = nozzle.iter().chain(&gate).map(|(_, mpa)| *mpa);
    let up = Scale::over("pressure, in MPa", all)
        .from_nought()
        .with_head_room(0.06);
    let mut plot = LinePlot::new("Pressure at nozzle and gate", time(body), up);
    plot.series.push(Series::line("nozzle", 0, nozzle));
    plot.series.push(Series::line("behind the gate", 1, gate));
    plot.limits = moments(body);
    plot.height = 280.0;
    plot.description = format!(
        "Switch-over at {} with {} at the nozzle.",
        rounding::places(body.fill.switch_s, 2, "s"),
        rounding::places(body.fill.switch_mpa, 0, "MPa")
    );
    plot.drawing()
}

/// Mass in the cavity against time.
#[must_use]
pub fn mass_drawing(body: &MouldBody) -> Drawing {
    let mass = points(body, |p| p.mass_g);
    // The last tenth of the mass is where the hold works; all of the filling would flatten it.
    let most = mass.iter().map(|(_, g)| *g).fold(0.0, f64::max);
    let shown = mass.iter().map(|(_, g)| *g).filter(|g| *g > 0.9 * most);
    let up = Scale::over("mass in the cavity, in g", shown).with_room(0.05);
    let mut plot = LinePlot::new("What the hold adds", time(body), up);
    plot.series.push(Series::line("", 2, mass));
    plot.limits = moments(body);
    plot.height = 220.0;
    plot.drawing()
}

/// Temperature through the wall, a line each moment.
#[must_use]
pub fn wall_drawing(body: &MouldBody) -> Drawing {
    let depths = body.walls.iter().flat_map(|w| &w.points);
    let across = Scale::over(
        "from the middle of the wall, in mm",
        depths.clone().map(|p| p.depth_mm),
    );
    let eject = body.cooling.eject_degc;
    let up = Scale::over(
        "temperature, in °C",
        depths.map(|p| p.temperature_degc).chain([eject]),
    )
    .with_room(0.04);
    let place = body
        .walls
        .first()
        .map(|w| w.place.clone())
        .unwrap_or_default();
    let mut plot = LinePlot::new(
        &format!("Temperature through the wall ({place})"),
        across,
        up,
    );
    for (n, wall) in body.walls.iter().enumerate() {
        let points = wall
            .points
            .iter()
            .map(|p| (p.depth_mm, p.temperature_degc))
            .collect();
        plot.series.push(Series::line(
            &rounding::places(wall.time_s, 1, "s"),
            n,
            points,
        ));
    }
    plot.limits.push(Limit {
        words: format!(
            "may be pushed out below {}",
            rounding::places(eject, 0, "°C")
        ),
        at: eject,
        upright: false,
    });
    plot.height = 260.0;
    plot.drawing()
}

fn points(body: &MouldBody, of: fn(&CoursePoint) -> f64) -> Vec<(f64, f64)> {
    body.course.iter().map(|p| (p.time_s, of(p))).collect()
}

fn time(body: &MouldBody) -> Scale {
    Scale::over(
        "time from the start of filling, in s",
        body.course.iter().map(|p| p.time_s),
    )
    .from_nought()
}

fn moments(body: &MouldBody) -> Vec<Limit> {
    let mark = |words: &str, at: f64| Limit {
        words: words.to_owned(),
        at,
        upright: true,
    };
    let mut marks = vec![mark("switch-over", body.fill.switch_s)];
    if let Some(at) = body.hold.gate_freeze_s {
        marks.push(mark("gate frozen", at));
    }
    marks
}
