//! Who uses up the permissible unbalance: a bar for every error of the drawing, and the pieces that
//! were drawn with these errors, both against the limit.

use kurbo::{Rect, Shape as _};
use whirlwright_workshop::balance::{LimitBody, LotShare};
use whirlwright_workshop::part::job::Side;

use super::axis::Axis;
use super::{LABEL, WIDTH};
use crate::font::{self, Weight};
use crate::ink::hatch::{self, Hatch};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, Colour, INK, PENCIL, RULE};
use crate::rounding;

const LEFT: f64 = 236.0;
const RIGHT: f64 = WIDTH - 118.0;
const ROW: f64 = 26.0;
const TOP: f64 = 66.0;
/// Height of the columns of drawn pieces.
const COLUMNS: f64 = 120.0;

/// The budget as SVG.
#[must_use]
pub fn budget(body: &LimitBody) -> String {
    budget_drawing(body).to_svg()
}

/// The budget.
#[must_use]
pub fn budget_drawing(body: &LimitBody) -> Drawing {
    let limit = rounding::figures(body.limit_g_mm, 3, "g·mm");
    let rows = rows(body);
    let said: Vec<String> = rows
        .iter()
        .map(|row| format!("{}: {}.", row.label, rounding::figures(row.g_mm, 3, "g·mm")))
        .collect();
    let title = format!("Unbalance budget of {}", body.name);
    let description = format!("Limit {limit}. {}", said.join(" "));
    let mut drawing = Drawing::new(WIDTH, 0.0, &title, &description);
    let heading = Style::bold(LABEL + 2.0, INK);
    drawing.text(12.0, 26.0, heading, "What uses up the limit");
    let most = rows.iter().map(|row| row.g_mm).filter(|v| v.is_finite());
    let most = most.fold(body.limit_g_mm, f64::max) * 1.04;
    let axis = Axis::new(0.0, most, LEFT, RIGHT);
    for (n, row) in rows.iter().enumerate() {
        draw_row(&mut drawing, &axis, row, TOP + n as f64 * ROW);
    }
    let bottom = TOP + rows.len() as f64 * ROW;
    drawing.line((LEFT, TOP - 6.0), (LEFT, bottom), Stroke::line(RULE, 1.0));
    limit_line(
        &mut drawing,
        axis.at(body.limit_g_mm),
        (TOP - 6.0, bottom),
        &limit,
    );
    drawing.height = bottom + 14.0;
    if let Some(lot) = &body.lot {
        draw_lot(&mut drawing, body, lot, bottom + 20.0);
    }
    drawing
}

struct Row {
    label: String,
    g_mm: f64,
    /// A sum of the rows above it.
    sum: bool,
}

fn rows(body: &LimitBody) -> Vec<Row> {
    let mut rows: Vec<Row> = body
        .budget
        .iter()
        .map(|line| Row {
            label: match line.side {
                Side::Left | Side::Right => format!("{}, {}", line.name, line.side.word()),
                Side::Both | Side::Centre => line.name.clone(),
            },
            g_mm: line.static_g_mm,
            sum: false,
        })
        .collect();
    if !rows.is_empty() {
        for (label, g_mm) in [
            ("all, each its own way", body.statistical_g_mm),
            ("all at worst, one way", body.worst_g_mm),
        ] {
            rows.push(Row {
                label: label.to_owned(),
                g_mm,
                sum: true,
            });
        }
    }
    rows
}

fn draw_row(drawing: &mut Drawing, axis: &Axis, row: &Row, top: f64) {
    let (weight, style) = if row.sum {
        (Weight::Bold, Style::bold(LABEL, INK))
    } else {
        (Weight::Regular, Style::plain(LABEL, INK))
    };
    let label = font::fit(&row.label, LABEL, weight, LEFT - 24.0);
    drawing.text(12.0, top + 15.0, style, &label);
    if !row.g_mm.is_finite() {
        return;
    }
    let colour = CATEGORIES[usize::from(row.sum)];
    let bar = Rect::new(
        LEFT,
        top + 2.0,
        axis.at(row.g_mm).max(LEFT + 1.0),
        top + 19.0,
    );
    fill(drawing, bar, colour, row.sum);
    let value = rounding::figures(row.g_mm, 3, "g·mm");
    let plain = Style::plain(LABEL - 1.0, PENCIL);
    drawing.text(RIGHT + 14.0, top + 15.0, plain, &value);
}

/// A bar; sums are hatched, so that they are told apart without colour.
fn fill(drawing: &mut Drawing, bar: Rect, colour: Colour, hatched: bool) {
    drawing.fill(bar, colour, 0.35);
    if hatched {
        let hatch = Hatch {
            angle_deg: 45.0,
            spacing: 6.0,
        };
        let lines = hatch::lines(&bar.to_path(0.1), hatch);
        drawing.path(lines, None, Some(Stroke::line(colour, 1.0)));
    }
    drawing.path(bar.to_path(0.1), None, Some(Stroke::line(INK, 0.9)));
}

fn limit_line(drawing: &mut Drawing, x: f64, (top, bottom): (f64, f64), limit: &str) {
    if !x.is_finite() {
        return;
    }
    let stroke = Stroke::dashed(INK, 1.8, 7.0, 4.0);
    drawing.line((x, top - 4.0), (x, bottom), stroke);
    let style = Style::bold(LABEL - 1.0, INK);
    let said = format!("limit {limit}");
    // Near the edge the text ends at the line.
    let wide = style.width(&said) / 2.0;
    let x = x.clamp(wide + 6.0, WIDTH - wide - 6.0);
    drawing.anchored(x, top - 9.0, style, Anchor::Middle, &said);
}

/// How many of the drawn pieces have how much unbalance.
fn draw_lot(drawing: &mut Drawing, body: &LimitBody, lot: &LotShare, top: f64) {
    let steps = lot.counts.iter().rposition(|n| *n > 0).map_or(1, |n| n + 1);
    let end = (steps as f64 * lot.step_g_mm).max(body.limit_g_mm * 1.05);
    let axis = Axis::new(0.0, end, 60.0, WIDTH - 60.0);
    let inside = rounding::places(lot.inside_share * 100.0, 1, "%");
    let heading = format!(
        "Drawn with these errors: {} pieces, {inside} inside the limit",
        lot.drawn_pieces
    );
    drawing.text(12.0, top + 26.0, Style::bold(LABEL + 2.0, INK), &heading);
    let (from, bottom) = (top + 62.0, top + 62.0 + COLUMNS);
    let highest = f64::from(lot.counts.iter().copied().max().unwrap_or(1).max(1));
    for (n, count) in lot.counts.iter().enumerate().filter(|(_, n)| **n > 0) {
        let ends = (n as f64 * lot.step_g_mm, (n + 1) as f64 * lot.step_g_mm);
        let tall = f64::from(*count) / highest * COLUMNS;
        let column = Rect::new(axis.at(ends.0), bottom - tall, axis.at(ends.1), bottom);
        let inside = ends.1 <= body.limit_g_mm;
        let colour = if inside { CATEGORIES[2] } else { CATEGORIES[5] };
        drawing.fill(column, colour, 0.55);
        drawing.note(&format!(
            "{count} pieces from {} to {}",
            rounding::figures(ends.0, 3, "g·mm"),
            rounding::figures(ends.1, 3, "g·mm")
        ));
    }
    drawing.line(
        (60.0, bottom),
        (WIDTH - 60.0, bottom),
        Stroke::line(RULE, 1.0),
    );
    let (ticks, places) = axis.ticks(6);
    let style = Style::plain(LABEL - 1.0, PENCIL);
    for tick in ticks {
        let said = rounding::number(tick, places);
        drawing.line(
            (axis.at(tick), bottom),
            (axis.at(tick), bottom + 5.0),
            Stroke::line(RULE, 1.0),
        );
        drawing.anchored(axis.at(tick), bottom + 20.0, style, Anchor::Middle, &said);
    }
    let unit = "static unbalance, in g·mm";
    drawing.anchored(WIDTH / 2.0, bottom + 40.0, style, Anchor::Middle, unit);
    let limit = rounding::figures(body.limit_g_mm, 3, "g·mm");
    limit_line(drawing, axis.at(body.limit_g_mm), (from, bottom), &limit);
    drawing.height = bottom + 54.0;
}
