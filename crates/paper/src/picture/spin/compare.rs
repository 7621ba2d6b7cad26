//! Throws beside each other: their fitted falls, all from the same speed.

use whirlwright_workshop::spin::CompareBody;

use crate::ink::Drawing;
use crate::picture::plot::{Limit, LinePlot, Scale, Series};
use crate::rounding;

/// A comparison as SVG.
#[must_use]
pub fn compare(body: &CompareBody) -> String {
    compare_drawing(body).to_svg()
}

/// A comparison: repeats of one thing share look and name.
#[must_use]
pub fn compare_drawing(body: &CompareBody) -> Drawing {
    let mut groups: Vec<&str> = Vec::new();
    let points = || body.logs.iter().flat_map(|log| &log.curve);
    let across = Scale::over(
        "time from the common speed, in s",
        points().map(|p| p.time_s),
    );
    let up = Scale::over("speed, in rpm", points().map(|p| p.speed_rpm))
        .from_nought()
        .with_head_room(0.05);
    let title = format!(
        "Falls from {} on",
        rounding::places(body.from_rpm, 0, "rpm")
    );
    let mut plot = LinePlot::new(&title, across, up);
    for log in &body.logs {
        let known = groups.iter().position(|group| *group == log.group);
        let look = known.unwrap_or(groups.len());
        if known.is_none() {
            groups.push(&log.group);
        }
        // The first of a group bears its name in the legend.
        let name = if known.is_none() {
            log.group.as_str()
        } else {
            ""
        };
        let curve = log.curve.iter().map(|p| (p.time_s, p.speed_rpm)).collect();
        plot.series.push(Series::line(name, look, curve));
    }
    plot.limits.push(Limit {
        words: format!(
            "the sleep ends at {}",
            rounding::places(body.ends_at_rpm, 0, "rpm")
        ),
        at: body.ends_at_rpm,
        upright: false,
    });
    let said: Vec<String> = body
        .differences
        .iter()
        .map(|d| format!("{}.", d.words))
        .collect();
    plot.description = said.join(" ");
    plot.drawing()
}
