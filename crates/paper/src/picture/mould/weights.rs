//! Weighed halves against hold time, with the reckoning before and after the fit.

use whirlwright_workshop::moulding::{WeighedPoint, WeightsBody};

use crate::ink::Drawing;
use crate::picture::plot::{LinePlot, Scale, Series};

/// The weighings as SVG.
#[must_use]
pub fn weights(body: &WeightsBody) -> String {
    weights_drawing(body).to_svg()
}

/// The weighings.
#[must_use]
pub fn weights_drawing(body: &WeightsBody) -> Drawing {
    let points = |of: fn(&WeighedPoint) -> f64| -> Vec<(f64, f64)> {
        let mut all: Vec<(f64, f64)> = body.curve.iter().map(|p| (p.hold_s, of(p))).collect();
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        all
    };
    let (read, before, after) = (
        points(|p| p.read_g),
        points(|p| p.before_g),
        points(|p| p.after_g),
    );
    let masses = read.iter().chain(&before).chain(&after).map(|(_, g)| *g);
    let up = Scale::over("mass of a half, in g", masses).with_room(0.06);
    let across = Scale::over("hold time, in s", read.iter().map(|(s, _)| *s)).with_room(0.02);
    let mut plot = LinePlot::new("Weight against hold time", across, up);
    plot.series
        .push(Series::dots("weighed, the middle of the cavities", 0, read));
    plot.series
        .push(Series::line("as reckoned before", 3, before));
    plot.series
        .push(Series::line("with the fitted numbers", 1, after));
    plot.drawing()
}
