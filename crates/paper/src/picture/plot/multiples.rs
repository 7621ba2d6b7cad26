//! Several plots beside each other, drawn alike, so that they can be compared at a glance.

use kurbo::Rect;

use super::lines::LinePlot;
use crate::font::{self, Weight};
use crate::ink::{Drawing, Style};
use crate::palette::INK;
use crate::picture::{LABEL, WIDTH};

/// Height of one plot with its heading.
const TALL: f64 = 236.0;
const HEAD: f64 = 40.0;

/// Plots in two columns under one heading; all are read against the legend of the first.
#[must_use]
pub fn multiples(title: &str, description: &str, plots: &[LinePlot]) -> Drawing {
    const COLUMNS: usize = 2;
    let wide = WIDTH / COLUMNS as f64;
    let rows = plots.len().div_ceil(COLUMNS);
    let legend = plots.first().map(LinePlot::legend).unwrap_or_default();
    let foot = HEAD + rows as f64 * TALL;
    let height = foot + legend.height(WIDTH - 24.0) + 10.0;
    let mut drawing = Drawing::new(WIDTH, height, title, description);
    drawing.text(12.0, 26.0, Style::bold(LABEL + 2.0, INK), title);
    for (n, plot) in plots.iter().enumerate() {
        let left = (n % COLUMNS) as f64 * wide;
        let top = HEAD + (n / COLUMNS) as f64 * TALL;
        let said = font::fit(&plot.title, LABEL, Weight::Bold, wide - 24.0);
        drawing.text(left + 12.0, top + 18.0, Style::bold(LABEL, INK), &said);
        let room = Rect::new(left, top + 24.0, left + wide - 6.0, top + TALL - 6.0);
        plot.draw_in(&mut drawing, room);
    }
    legend.draw(&mut drawing, 12.0, foot, WIDTH - 24.0);
    drawing
}
