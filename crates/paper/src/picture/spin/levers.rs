//! The sleep against each lever: one small plot each, all on one scale of sleep.

use whirlwright_workshop::spin::{Lever, SpinBody};

use crate::ink::Drawing;
use crate::picture::plot::{Limit, LinePlot, Scale, Series, multiples};
use crate::rounding;

/// The levers as SVG.
#[must_use]
pub fn levers(body: &SpinBody) -> String {
    levers_drawing(body).to_svg()
}

/// The levers.
#[must_use]
pub fn levers_drawing(body: &SpinBody) -> Drawing {
    let sleeps = body
        .levers
        .iter()
        .flat_map(|lever| &lever.points)
        .map(|p| p.sleep_s);
    let up = Scale::over("sleep, in s", sleeps)
        .from_nought()
        .with_head_room(0.06);
    let plots: Vec<LinePlot> = body.levers.iter().map(|lever| plot(lever, &up)).collect();
    let description: Vec<String> = body.levers.iter().filter_map(said).collect();
    let title = format!(
        "{}: the sleep against each lever, the others as designed",
        body.name
    );
    multiples(&title, &description.join(" "), &plots)
}

fn plot(lever: &Lever, up: &Scale) -> LinePlot {
    let points: Vec<(f64, f64)> = lever.points.iter().map(|p| (p.at, p.sleep_s)).collect();
    let unit = if lever.unit.is_empty() || lever.unit == "1" {
        lever.name.clone()
    } else {
        format!("{}, in {}", lever.name, lever.unit)
    };
    let across = Scale::over(&unit, points.iter().map(|(at, _)| *at));
    let mut plot = LinePlot::new(&lever.name, across, up.clone());
    plot.series.push(Series::line("", 0, points));
    plot.limits.push(Limit {
        words: "as designed".to_owned(),
        at: lever.likely_at,
        upright: true,
    });
    plot
}

fn said(lever: &Lever) -> Option<String> {
    let (first, last) = (lever.points.first()?, lever.points.last()?);
    let at =
        |value: f64| rounding::figures(value, 3, if lever.unit == "1" { "" } else { &lever.unit });
    Some(format!(
        "{} from {} to {}: {} to {}.",
        lever.name,
        at(first.at),
        at(last.at),
        rounding::places(first.sleep_s, 0, "s"),
        rounding::places(last.sleep_s, 0, "s")
    ))
}
