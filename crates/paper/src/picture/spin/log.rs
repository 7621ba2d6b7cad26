//! A log with its fit, what is left over between them, and what each loss is worth.

use kurbo::{Rect, Shape as _};
use whirlwright_workshop::spin::LogBody;

use crate::font::{self, Weight};
use crate::ink::{Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, INK, PENCIL};
use crate::picture::axis::Axis;
use crate::picture::plot::{Band, Limit, LinePlot, Look, Scale, Series};
use crate::picture::{LABEL, WIDTH};
use crate::rounding;

/// A fitted log as SVG.
#[must_use]
pub fn log(body: &LogBody) -> String {
    log_drawing(body).to_svg()
}

/// A fitted log: readings with the curve above, residuals below.
#[must_use]
pub fn log_drawing(body: &LogBody) -> Drawing {
    let [fit, residuals] = [fit(body).drawing(), residuals(body).drawing()];
    let height = fit.height + residuals.height;
    let title = format!("{}: the log and its fit", body.log);
    let mut drawing = Drawing::new(WIDTH, height, &title, &description(body));
    let below = drawing.put(0.0, 0.0, WIDTH, &fit);
    drawing.put(0.0, below, WIDTH, &residuals);
    drawing
}

/// The pictures of a sheet: the log with its fit, what is left over, and what each loss is worth.
#[must_use]
pub fn log_drawings(body: &LogBody) -> Vec<Drawing> {
    let mut drawings = vec![fit(body).drawing(), residuals(body).drawing()];
    if !body.worth.is_empty() {
        drawings.push(worth_drawing(body));
    }
    drawings
}

fn time(body: &LogBody) -> Scale {
    let read = body.points.iter().map(|p| p.time_s);
    Scale::over(
        "time, in s",
        read.chain(body.curve.iter().map(|p| p.time_s)),
    )
}

fn fit(body: &LogBody) -> LinePlot {
    let read: Vec<(f64, f64)> = body
        .points
        .iter()
        .map(|p| (p.time_s, p.speed_rpm))
        .collect();
    let curve: Vec<(f64, f64)> = body.curve.iter().map(|p| (p.time_s, p.speed_rpm)).collect();
    let speeds = read.iter().chain(&curve).map(|(_, speed)| *speed);
    let up = Scale::over("speed, in rpm", speeds)
        .from_nought()
        .with_head_room(0.05);
    let mut plot = LinePlot::new("The log and its fit", time(body), up);
    let edge = |sign: f64| {
        body.curve
            .iter()
            .map(|p| (p.time_s, p.speed_rpm + sign * 2.0 * p.sd_rpm))
            .collect()
    };
    plot.bands.push(Band {
        name: "two standard deviations of the fit".to_owned(),
        low: edge(-1.0),
        high: edge(1.0),
        look: Look(1),
    });
    plot.series.push(Series::dots("as read", 0, read));
    plot.series.push(Series::line("fit", 1, curve));
    plot.limits.push(Limit {
        words: format!(
            "the sleep ends at {}",
            rounding::places(body.ends_at_rpm, 0, "rpm")
        ),
        at: body.ends_at_rpm,
        upright: false,
    });
    plot.height = 300.0;
    plot
}

fn residuals(body: &LogBody) -> LinePlot {
    let points: Vec<(f64, f64)> = body
        .points
        .iter()
        .map(|p| (p.time_s, p.residual_rpm))
        .collect();
    let reach = 2.0 * body.scatter_rpm;
    let values = points.iter().map(|(_, residual)| *residual);
    let up = Scale::over(
        "read less fit, in rpm",
        values.chain([-1.2 * reach, 1.2 * reach]),
    )
    .with_room(0.04);
    let across = time(body);
    let mut plot = LinePlot::new("What is left over", across.clone(), up);
    let level = |at: f64| vec![(across.from, at), (across.to, at)];
    plot.bands.push(Band {
        name: format!("twice the scatter, {}", rounding::figures(reach, 2, "rpm")),
        low: level(-reach),
        high: level(reach),
        look: Look(0),
    });
    plot.series.push(Series::dots("", 0, points));
    plot.limits.push(Limit {
        words: String::new(),
        at: 0.0,
        upright: false,
    });
    plot.height = 220.0;
    plot
}

/// What half of each loss is worth, as bars.
fn worth_drawing(body: &LogBody) -> Drawing {
    const EACH: f64 = 52.0;
    const TOP: f64 = 44.0;
    let height = TOP + EACH * body.worth.len() as f64 + 4.0;
    let title = "What half of each loss is worth, in s of sleep";
    let mut drawing = Drawing::new(WIDTH, height, title, &description(body));
    drawing.text(12.0, 26.0, Style::bold(LABEL + 2.0, INK), title);
    let most = body
        .worth
        .iter()
        .map(|w| w.half_is_worth_s)
        .fold(0.0, f64::max);
    let axis = Axis::new(0.0, most.max(f64::MIN_POSITIVE), 12.0, WIDTH - 150.0);
    for (n, worth) in body.worth.iter().enumerate() {
        let y = TOP + EACH * n as f64;
        let name = font::fit(&worth.name, LABEL, Weight::Regular, WIDTH - 24.0);
        drawing.text(12.0, y + 14.0, Style::plain(LABEL, INK), &name);
        let end = axis.at(worth.half_is_worth_s.max(0.0)).max(14.0);
        let bar = Rect::new(12.0, y + 22.0, end, y + 42.0);
        drawing.fill(bar, CATEGORIES[0], 0.4);
        drawing.path(bar.to_path(0.1), None, Some(Stroke::line(INK, 0.9)));
        let said = rounding::with_uncertainty(worth.half_is_worth_s, worth.half_is_worth_sd_s, "s");
        drawing.text(
            end + 8.0,
            y + 37.0,
            Style::plain(LABEL - 1.0, PENCIL),
            &said,
        );
    }
    drawing
}

fn description(body: &LogBody) -> String {
    let mut said = format!(
        "From {} to {} in {}.",
        rounding::places(body.start_rpm, 0, "rpm"),
        rounding::places(body.end_rpm, 0, "rpm"),
        rounding::places(body.length_s, 0, "s")
    );
    for worth in &body.worth {
        let half = rounding::places(worth.half_is_worth_s, 0, "s");
        said.push_str(&format!(
            " Half of {} is worth {half} of sleep.",
            worth.name
        ));
    }
    said
}
