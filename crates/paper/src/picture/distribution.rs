//! Masses by origin: one small histogram an origin, all on one scale, with mean and spread.

use kurbo::{BezPath, Rect};

use super::axis::Axis;
use super::{LABEL, WIDTH};
use crate::font::{self, Weight};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{INK, PENCIL, RULE, WASH, category};
use crate::spread::{Family, Row};
use crate::{rounding, words};

/// Left end of the bars: room for labels of about twenty letters.
const LEFT: f64 = 132.0;
/// Right end of the bars: room for the values.
const RIGHT: f64 = WIDTH - 168.0;
/// Height of one origin's strip.
const STRIP: f64 = 46.0;
/// Room between two strips, for the mean's mark.
const BETWEEN: f64 = 14.0;

/// Masses by origin as SVG.
#[must_use]
pub fn distribution(families: &[Family]) -> String {
    distribution_drawing(families).to_svg()
}

/// Masses by origin.
#[must_use]
pub fn distribution_drawing(families: &[Family]) -> Drawing {
    let families: Vec<Family> = families
        .iter()
        .filter(|f| f.count() > 0 && f.bins() > 0)
        .map(Family::trimmed)
        .collect();
    let height = families.iter().map(family_height).sum::<f64>().max(48.0);
    let mut drawing = Drawing::new(WIDTH, height, "Masses by origin", &description(&families));
    if families.is_empty() {
        drawing.text(
            12.0,
            30.0,
            Style::plain(LABEL, PENCIL),
            "Nothing has been weighed yet.",
        );
    }
    let mut top = 0.0;
    for family in &families {
        draw_family(&mut drawing, family, top);
        top += family_height(family);
    }
    drawing
}

fn family_height(family: &Family) -> f64 {
    40.0 + family.rows.len() as f64 * (STRIP + BETWEEN) + 50.0
}

/// What a screen reader says: the same numbers in words.
fn description(families: &[Family]) -> String {
    let mut sentences = Vec::new();
    for row in families.iter().flat_map(|family| &family.rows) {
        let count = rounding::count(row.count, "part", "parts");
        sentences.push(format!(
            "{}: {count}, {}.",
            row.label,
            middle(row).join(", ")
        ));
    }
    sentences.join(" ")
}

fn middle(row: &Row) -> Vec<String> {
    let mut said = vec![format!(
        "mean {}",
        rounding::places(row.mean_mass_g, 3, "g")
    )];
    if let Some(sd) = row.sd_mass_g {
        said.push(format!("sd {}", rounding::places(sd, 3, "g")));
    }
    said
}

fn draw_family(drawing: &mut Drawing, family: &Family, top: f64) {
    let noun = words::kinds(family.kind);
    let heading = format!("Mass of {} {noun}, in g", family.count());
    drawing.text(12.0, top + 24.0, Style::bold(LABEL + 2.0, INK), &heading);
    let axis = Axis::new(family.start_mass_g, family.end_mass_g(), LEFT, RIGHT);
    let strips = top + 40.0;
    let bottom = strips + family.rows.len() as f64 * (STRIP + BETWEEN);
    draw_scale(drawing, &axis, strips, bottom);
    let highest = family.highest();
    for (n, row) in family.rows.iter().enumerate() {
        let base = strips + (n + 1) as f64 * (STRIP + BETWEEN) - BETWEEN;
        draw_row(drawing, family, row, &axis, base, n, highest);
    }
}

fn draw_scale(drawing: &mut Drawing, axis: &Axis, top: f64, bottom: f64) {
    let (ticks, places) = axis.ticks(6);
    for tick in ticks {
        let x = axis.at(tick);
        drawing.line(
            (x, top),
            (x, bottom - BETWEEN + 4.0),
            Stroke::line(WASH, 1.0),
        );
        let label = rounding::number(tick, places);
        drawing.anchored(
            x,
            bottom + 12.0,
            Style::plain(LABEL, PENCIL),
            Anchor::Middle,
            &label,
        );
    }
    let style = Style::plain(LABEL, PENCIL);
    drawing.anchored(RIGHT + 22.0, bottom + 12.0, style, Anchor::Start, "g");
}

fn draw_row(
    drawing: &mut Drawing,
    family: &Family,
    row: &Row,
    axis: &Axis,
    base: f64,
    n: usize,
    highest: usize,
) {
    let label = font::fit(&row.label, LABEL, Weight::Bold, LEFT - 24.0);
    drawing.text(
        12.0,
        base - STRIP / 2.0 + 5.0,
        Style::bold(LABEL, INK),
        &label,
    );
    let scale = (STRIP - 4.0) / highest.max(1) as f64;
    for (bin, count) in row
        .counts
        .iter()
        .enumerate()
        .filter(|(_, count)| **count > 0)
    {
        let from = family.start_mass_g + family.bin_mass_g * bin as f64;
        let (left, right) = (axis.at(from), axis.at(from + family.bin_mass_g));
        // A bin of one part in a hundred stays visible.
        let tall = (*count as f64 * scale).max(1.5);
        // A hair of paper between bars, where there is room for it.
        let gap = if right - left > 4.0 { 0.6 } else { 0.0 };
        let bar = Rect::new(left + gap, base - tall, right - gap, base);
        drawing.fill(bar, category(n), 0.85);
        let to = from + family.bin_mass_g;
        drawing.note(&format!(
            "{}: {} from {} to {}",
            row.label,
            rounding::count(*count, "part", "parts"),
            rounding::places(from, 3, "g"),
            rounding::places(to, 3, "g")
        ));
    }
    drawing.line((LEFT, base), (RIGHT, base), Stroke::line(RULE, 1.0));
    draw_mean(drawing, row, axis, base);
    let values = Style::plain(LABEL - 1.0, PENCIL);
    let mut lines = middle(row);
    lines.push(rounding::count(row.count, "part", "parts"));
    for (k, line) in lines.iter().enumerate() {
        let y = base - STRIP + 12.0 + k as f64 * 17.0;
        drawing.text(RIGHT + 22.0, y, values, line);
    }
}

/// The mean as a small triangle under the line, with a bar one standard deviation to each side.
fn draw_mean(drawing: &mut Drawing, row: &Row, axis: &Axis, base: f64) {
    if !row.mean_mass_g.is_finite() {
        return;
    }
    let x = axis.at(row.mean_mass_g);
    if let Some(sd) = row.sd_mass_g {
        let ends = (
            axis.at(row.mean_mass_g - sd).max(LEFT),
            axis.at(row.mean_mass_g + sd).min(RIGHT),
        );
        drawing.line(
            (ends.0, base + 5.0),
            (ends.1, base + 5.0),
            Stroke::line(INK, 2.0),
        );
    }
    let mut mark = BezPath::new();
    mark.move_to((x, base + 1.0));
    mark.line_to((x - 5.0, base + 10.0));
    mark.line_to((x + 5.0, base + 10.0));
    mark.close_path();
    drawing.path(mark, Some((INK, 1.0)), None);
}
