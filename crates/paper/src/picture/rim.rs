//! Which turned dimension brings how much of the mass: bars at one grade for all.

use kurbo::Rect;
use whirlwright_workshop::turning::RimBody;

use super::axis::Axis;
use super::{LABEL, WIDTH};
use crate::ink::{Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, INK, PENCIL, RULE};
use crate::{rounding, words};

const LEFT: f64 = 150.0;
const RIGHT: f64 = WIDTH - 200.0;
const ROW: f64 = 26.0;
const TOP: f64 = 44.0;

/// The shares as SVG.
#[must_use]
pub fn rim(body: &RimBody) -> String {
    rim_drawing(body).to_svg()
}

/// The shares.
#[must_use]
pub fn rim_drawing(body: &RimBody) -> Drawing {
    let lines: Vec<_> = body.dimensions.iter().filter(|d| !d.datum).collect();
    let said: Vec<String> = lines
        .iter()
        .map(|d| {
            format!(
                "{}: {} %.",
                d.name,
                rounding::number(d.mass_share * 100.0, 0)
            )
        })
        .collect();
    let height = TOP + lines.len() as f64 * ROW + 16.0;
    let title = format!("Dimensions of {} by mass", body.piece);
    let mut drawing = Drawing::new(WIDTH, height, &title, &said.join(" "));
    let heading = Style::bold(LABEL + 2.0, INK);
    drawing.text(
        12.0,
        26.0,
        heading,
        "Mass each dimension brings at one grade for all",
    );
    let most = lines.iter().map(|d| d.mass_share).fold(0.01, f64::max);
    let axis = Axis::new(0.0, most, LEFT, RIGHT);
    for (n, line) in lines.iter().enumerate() {
        let top = TOP + n as f64 * ROW;
        drawing.text(12.0, top + 15.0, Style::plain(LABEL, INK), &line.name);
        let bar = Rect::new(
            LEFT,
            top + 2.0,
            axis.at(line.mass_share).max(LEFT + 1.0),
            top + 19.0,
        );
        drawing.fill(bar, CATEGORIES[0], 0.8);
        let grade = line.statistical_grade.clone();
        let grade = grade.or(line.held.as_deref().map(words::limits));
        let value = format!(
            "{} %{}",
            rounding::number(line.mass_share * 100.0, 0),
            grade.map_or_else(String::new, |g| format!(", {g}"))
        );
        drawing.text(
            RIGHT + 14.0,
            top + 15.0,
            Style::plain(LABEL - 1.0, PENCIL),
            &value,
        );
    }
    let foot = TOP + lines.len() as f64 * ROW;
    drawing.line((LEFT, TOP - 4.0), (LEFT, foot), Stroke::line(RULE, 1.0));
    drawing
}
