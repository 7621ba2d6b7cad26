//! The sets as points: left mass across, right mass up, with the limits as lines.

use std::collections::BTreeMap;

use kurbo::{BezPath, Rect};
use whirlwright_workshop::pairing::PairBody;

use super::{FOOT, Masses, TOP, limit_dashes, mark_alone, mark_good, mark_outside};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, INK, PENCIL, RULE, WASH};
use crate::picture::axis::Axis;
use crate::picture::{LABEL, dot};
use crate::{asked, rounding};

/// The field of the points, a square.
const FIELD: Rect = Rect::new(74.0, TOP, 74.0 + FOOT - TOP, FOOT);

/// Draws the points of the sets, and those of the parts left over on the line of equal masses.
pub(super) fn draw(
    drawing: &mut Drawing,
    body: &PairBody,
    masses: &[Masses],
    alone: &[(String, f64)],
) {
    let (across, up) = axes(body, masses, alone);
    if let Some(limit) = asked::mass_within_g(body) {
        drawing.path(band(&across, &up, limit), Some((CATEGORIES[2], 0.16)), None);
        drawing.note(&format!("within {}", limit_words(limit)));
    }
    draw_grid(drawing, &across, &up);
    draw_window(drawing, body, &across, &up);
    let hair = Stroke::dashed(RULE, 1.0, 5.0, 4.0);
    drawing.line((FIELD.x0, FIELD.y1), (FIELD.x1, FIELD.y0), hair);
    draw_sets(drawing, masses, &across, &up);
    for (serial, mass) in alone {
        mark_alone(drawing, (across.at(*mass), up.at(*mass)));
        let mass = rounding::places(*mass, 3, "g");
        drawing.note(&format!("{serial}: {mass}, no set"));
    }
    drawing.frame(FIELD, Stroke::line(RULE, 1.0));
    draw_words(drawing, body, masses, alone);
}

/// The same scale across and up, so that equal masses lie on the diagonal; the limits are on it too.
fn axes(body: &PairBody, masses: &[Masses], alone: &[(String, f64)]) -> (Axis, Axis) {
    let sides = masses.iter().flat_map(|m| [m.left, m.right]);
    let mut all: Vec<f64> = sides.chain(alone.iter().map(|(_, mass)| *mass)).collect();
    if let Some((least, most)) = asked::piece_window_g(body) {
        let off = asked::mass_within_g(body).unwrap_or(0.0);
        all.extend([(least - off) / 2.0, (most + off) / 2.0]);
    }
    let low = all.iter().copied().fold(f64::INFINITY, f64::min);
    let high = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let room = ((high - low) * 0.06).max(0.002);
    let axis = |start, end| Axis::new(low - room, high + room, start, end);
    (axis(FIELD.x0, FIELD.x1), axis(FIELD.y1, FIELD.y0))
}

/// One point a place; the more sets share it, the larger it is.
fn draw_sets(drawing: &mut Drawing, masses: &[Masses], across: &Axis, up: &Axis) {
    let mut places: BTreeMap<(i64, i64, bool), Vec<&Masses>> = BTreeMap::new();
    for m in masses {
        let at = (across.at(m.left), up.at(m.right));
        // A fifth of a point is below what is seen.
        let place = (
            (at.0 * 5.0).round() as i64,
            (at.1 * 5.0).round() as i64,
            m.within,
        );
        places.entry(place).or_default().push(m);
    }
    let most = if places.len() > CROWD {
        MOST / 2.0
    } else {
        MOST
    };
    for ((_, _, within), sets) in places {
        let Some(first) = sets.first() else { continue };
        let at = (across.at(first.left), up.at(first.right));
        let size = dot(sets.len(), LEAST, most);
        if within {
            mark_good(drawing, at, size)
        } else {
            mark_outside(drawing, at, size)
        }
        let (left, right) = (
            rounding::places(first.left, 3, "g"),
            rounding::places(first.right, 3, "g"),
        );
        let which = match sets.len() {
            1 => format!("set {}", first.number),
            n => format!("{n} sets"),
        };
        drawing.note(&format!("{which}: left {left}, right {right}"));
    }
}

/// Radius of the point of one set, and of the largest point.
const LEAST: f64 = 2.6;
const MOST: f64 = 10.0;
/// Above so many places the points stay half as large.
const CROWD: usize = 60;

/// The strip about the diagonal in which the two sides differ by no more than the limit.
fn band(across: &Axis, up: &Axis, limit: f64) -> BezPath {
    let (low, high) = (across.from, across.to);
    // Corners of the strip, walked round: cut where it leaves the square.
    let limit = limit.min(high - low);
    let corners = [
        (low, low),
        (low + limit, low),
        (high, high - limit),
        (high, high),
        (high - limit, high),
        (low, low + limit),
    ];
    let mut path = BezPath::new();
    for (n, (left, right)) in corners.into_iter().enumerate() {
        let at = (across.at(left), up.at(right));
        if n == 0 {
            path.move_to(at)
        } else {
            path.line_to(at)
        }
    }
    path.close_path();
    path
}

/// Where the two sides together leave the window for the piece: two falling lines.
fn draw_window(drawing: &mut Drawing, body: &PairBody, across: &Axis, up: &Axis) {
    let Some((least, most)) = asked::piece_window_g(body) else {
        return;
    };
    for sum in [least, most] {
        // left + right = sum, as far as it runs through the square.
        let from = (sum - across.to).max(across.from);
        let to = (sum - across.from).min(across.to);
        if from < to {
            let ends = [from, to].map(|left| (across.at(left), up.at(sum - left)));
            drawing.line(ends[0], ends[1], limit_dashes());
            let said = rounding::places(sum, rounding::shared_places([sum], 3), "g");
            drawing.note(&format!("the two sides together {said}"));
        }
    }
}

fn draw_grid(drawing: &mut Drawing, across: &Axis, up: &Axis) {
    let style = Style::plain(LABEL - 1.0, PENCIL);
    let (ticks, places) = across.ticks(4);
    for tick in ticks {
        let (x, y) = (across.at(tick), up.at(tick));
        drawing.line((x, FIELD.y0), (x, FIELD.y1), Stroke::line(WASH, 1.0));
        drawing.line((FIELD.x0, y), (FIELD.x1, y), Stroke::line(WASH, 1.0));
        let label = rounding::number(tick, places);
        drawing.anchored(x, FIELD.y1 + 18.0, style, Anchor::Middle, &label);
        drawing.anchored(FIELD.x0 - 6.0, y + 5.0, style, Anchor::End, &label);
    }
    let middle = FIELD.center();
    drawing.anchored(
        middle.x,
        FIELD.y1 + 38.0,
        style,
        Anchor::Middle,
        "left side, g",
    );
    drawing.upward(18.0, middle.y, style, "right side, g");
}

fn limit_words(limit_g: f64) -> String {
    rounding::places(limit_g, rounding::shared_places([limit_g], 4), "g")
}

/// The legend in words, under the field.
fn draw_words(drawing: &mut Drawing, body: &PairBody, masses: &[Masses], alone: &[(String, f64)]) {
    let style = Style::plain(LABEL - 1.0, INK);
    let y = FIELD.y1 + 64.0;
    let mut x = 12.0;
    let mut entry = |drawing: &mut Drawing, text: &str, mark: &dyn Fn(&mut Drawing, (f64, f64))| {
        mark(drawing, (x + 8.0, y - 5.0));
        drawing.text(x + 22.0, y, style, text);
        x += 22.0 + style.width(text) + 20.0;
    };
    entry(drawing, "sets (larger: more of them)", &|d, at| {
        mark_good(d, at, 4.0)
    });
    if masses.iter().any(|m| !m.within) {
        entry(drawing, "a set outside a limit", &|d, at| {
            mark_outside(d, at, 3.5)
        });
    }
    if !alone.is_empty() {
        entry(drawing, "no set", &|d, at| mark_alone(d, at));
    }
    if let Some(limit) = asked::mass_within_g(body) {
        let text = format!("within {}", limit_words(limit));
        entry(drawing, &text, &|d, at| {
            let swatch = Rect::new(at.0 - 8.0, at.1 - 5.0, at.0 + 8.0, at.1 + 5.0);
            d.fill(swatch, CATEGORIES[2], 0.3);
        });
    }
    if let Some((least, most)) = asked::piece_window_g(body) {
        let figures = rounding::shared_places([least, most], 3);
        let (least, most) = (
            rounding::places(least, figures, "g"),
            rounding::places(most, figures, "g"),
        );
        entry(drawing, &format!("together {least} to {most}"), &|d, at| {
            d.line((at.0 - 9.0, at.1), (at.0 + 9.0, at.1), limit_dashes());
        });
    }
}
