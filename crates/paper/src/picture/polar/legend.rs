//! What the shapes of a polar plot stand for, with their numbers.

use super::super::{LABEL, WIDTH};
use super::disc;
use super::{CELL, MOST_READINGS, Polar, Stands, Vector};
use crate::font::{self, Weight};
use crate::ink::{Drawing, Stroke, Style};
use crate::palette::INK;
use crate::rounding;

const LINE: f64 = 20.0;

/// The sign of a line: none for the limit.
type Entry = (Option<Stands>, String);

/// Every line, in the order limit, found, correction, left, readings.
pub(super) fn entries(plot: &Polar) -> Vec<Entry> {
    let mut entries: Vec<Entry> = Vec::new();
    let of = |stands: Stands| plot.vectors.iter().filter(move |v| v.stands == stands);
    for stands in [Stands::Found, Stands::Correction, Stands::Left] {
        entries.extend(of(stands).map(|v| (Some(stands), vector(v, &plot.unit))));
    }
    if let Some(limit) = plot.limit {
        entries.push((
            None,
            format!("limit {}", rounding::figures(limit, 3, &plot.unit)),
        ));
    }
    let readings = of(Stands::Reading).count();
    if readings > MOST_READINGS {
        entries.push((Some(Stands::Reading), format!("{readings} readings")));
    } else {
        for (n, reading) in of(Stands::Reading).enumerate() {
            let said = vector(reading, &plot.unit);
            // The number beside the sign on the plot.
            let said = if readings > 1 {
                format!("({}) {said}", n + 1)
            } else {
                said
            };
            entries.push((Some(Stands::Reading), said));
        }
    }
    entries
}

fn vector(vector: &Vector, unit: &str) -> String {
    let size = match vector.within.filter(|within| *within > 0.0) {
        Some(within) => rounding::with_uncertainty(vector.size, within, unit),
        None => rounding::figures(vector.size, 3, unit),
    };
    // A degree is finer than any angle set by hand at a rim.
    let angle = rounding::number(vector.angle_deg.rem_euclid(360.0).round() % 360.0, 0);
    format!("{}: {size} at {angle}°", vector.label)
}

/// Writes the legend from its upper left corner; gives the lowest line used.
pub(super) fn draw(drawing: &mut Drawing, plot: &Polar, left: f64, top: f64) -> f64 {
    let text = left + 44.0;
    let most = (left + CELL - 20.0).min(WIDTH - 10.0) - text;
    let mut y = top;
    for (stands, said) in entries(plot) {
        match stands {
            Some(stands) => disc::sign(drawing, (left + 19.0, y - 5.0), stands),
            None => drawing.line(
                (left + 4.0, y - 5.0),
                (left + 34.0, y - 5.0),
                Stroke::dashed(INK, 1.8, 7.0, 4.0),
            ),
        }
        for line in font::wrap(&said, LABEL, Weight::Regular, most) {
            drawing.text(text, y, Style::plain(LABEL, INK), &line);
            y += LINE;
        }
        y += 3.0;
    }
    y - LINE + 6.0
}
