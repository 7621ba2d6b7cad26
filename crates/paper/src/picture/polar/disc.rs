//! The plot itself: rings, spokes, limit, vectors, and which way it turns.

use kurbo::{Arc, BezPath, Point, Rect, Shape as _};

use super::super::LABEL;
use super::super::axis::Axis;
use super::{MOST_READINGS, Polar, RADIUS, Stands, Turn, Vector};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, Colour, INK, PAPER, PENCIL, RULE, WASH};
use crate::rounding;

/// Length of an arrow's head.
const HEAD: f64 = 11.0;

/// The colour that repeats what the shape of a vector says.
pub(super) fn colour(stands: Stands) -> Colour {
    match stands {
        Stands::Reading => PENCIL,
        Stands::Found => CATEGORIES[5],
        Stands::Correction => CATEGORIES[0],
        Stands::Left => CATEGORIES[2],
    }
}

/// Draws the plot about its middle.
pub(super) fn draw(drawing: &mut Drawing, plot: &Polar, middle: (f64, f64)) {
    let axis = Axis::new(0.0, plot.reach() * 1.08, 0.0, RADIUS);
    drawing.disc(
        middle,
        RADIUS,
        Some((PAPER, 1.0)),
        Some(Stroke::line(RULE, 1.0)),
    );
    let (ticks, places) = axis.ticks(4);
    for tick in ticks.iter().filter(|tick| **tick > 0.0) {
        let ring = axis.at(*tick);
        if ring < RADIUS - 1.0 {
            drawing.disc(middle, ring, None, Some(Stroke::line(WASH, 1.2)));
        }
    }
    spokes(drawing, plot, middle);
    if let Some(limit) = plot.limit.filter(|limit| limit.is_finite() && *limit > 0.0) {
        let stroke = Stroke::dashed(INK, 1.8, 7.0, 4.0);
        drawing.disc(
            middle,
            axis.at(limit),
            Some((CATEGORIES[2], 0.10)),
            Some(stroke),
        );
        drawing.note(&format!(
            "limit {}",
            rounding::figures(limit, 3, &plot.unit)
        ));
    }
    for vector in &plot.vectors {
        vector_mark(drawing, plot, &axis, middle, vector);
    }
    numbers(drawing, plot, &axis, middle);
    ring_values(drawing, plot, &axis, middle, (&ticks, places));
    turning(drawing, plot, middle);
}

/// A spoke every 30 degrees with its angle; the one at the mark is drawn as the mark.
fn spokes(drawing: &mut Drawing, plot: &Polar, (x, y): (f64, f64)) {
    for angle in (0..360).step_by(30) {
        let (across, down) = plot.grows.direction(f64::from(angle));
        let at = |r: f64| (x + across * r, y + down * r);
        let first = angle == 0;
        let (colour, width) = if first { (INK, 1.6) } else { (WASH, 1.2) };
        drawing.line((x, y), at(RADIUS), Stroke::line(colour, width));
        if first {
            let mut notch = BezPath::new();
            notch.move_to((x, y - RADIUS));
            notch.line_to((x - 6.0, y - RADIUS - 11.0));
            notch.line_to((x + 6.0, y - RADIUS - 11.0));
            notch.close_path();
            drawing.path(notch, Some((INK, 1.0)), None);
            let said = format!("0° {}", plot.mark);
            let style = Style::bold(LABEL - 1.0, INK);
            drawing.anchored(x, y - RADIUS - 16.0, style, Anchor::Middle, &said);
            continue;
        }
        let anchor = match across {
            a if a > 0.2 => Anchor::Start,
            a if a < -0.2 => Anchor::End,
            _ => Anchor::Middle,
        };
        let (tx, ty) = at(RADIUS + 7.0);
        // A text stands on its base line: below the plot it hangs a line lower.
        let ty = ty + 5.0 + 6.0 * down;
        let style = Style::plain(LABEL - 1.0, PENCIL);
        drawing.anchored(tx, ty, style, anchor, &format!("{angle}°"));
    }
}

/// The number of each reading, outside its sign, where they are told one by one.
fn numbers(drawing: &mut Drawing, plot: &Polar, axis: &Axis, middle: (f64, f64)) {
    let readings = plot.vectors.iter().filter(|v| v.stands == Stands::Reading);
    let many = readings.clone().count();
    if !(2..=MOST_READINGS).contains(&many) {
        return;
    }
    let style = Style::bold(LABEL - 1.0, INK);
    let mut taken: Vec<(f64, f64)> = Vec::new();
    for (n, vector) in readings.enumerate() {
        let (across, down) = plot.grows.direction(vector.angle_deg);
        let reach = axis.at(vector.size.abs());
        if !(reach.is_finite() && across.is_finite()) {
            continue;
        }
        // Outside the sign, or inside it where another number stands there, or beside it.
        let places = [(13.0, 0.0), (-13.0, 0.0), (0.0, 14.0), (0.0, -14.0)].map(|(out, side)| {
            (
                middle.0 + across * (reach + out) - down * side,
                middle.1 + down * (reach + out) + across * side,
            )
        });
        let free = |at: &&(f64, f64)| {
            let near = |other: &(f64, f64)| (other.0 - at.0).hypot(other.1 - at.1) < 13.0;
            !taken.iter().any(near)
        };
        let at = *places.iter().find(free).unwrap_or(&places[0]);
        taken.push(at);
        let said = (n + 1).to_string();
        backed(drawing, (at.0, at.1 + 5.0), style, Anchor::Middle, &said);
    }
}

/// The values of the rings, along the direction that is farthest from every vector.
fn ring_values(
    drawing: &mut Drawing,
    plot: &Polar,
    axis: &Axis,
    (x, y): (f64, f64),
    (ticks, places): (&[f64], usize),
) {
    let apart = |angle: f64| {
        let away = |v: &Vector| {
            let turned = (v.angle_deg - angle).rem_euclid(360.0);
            turned.min(360.0 - turned)
        };
        let far = plot.vectors.iter().filter(|v| v.size.is_finite()).map(away);
        far.fold(180.0, f64::min)
    };
    // Between two spokes, and not beside the mark.
    let free = (0..10).map(|n| 45.0 + 30.0 * f64::from(n));
    let best = free.reduce(|a, b| if apart(b) > apart(a) { b } else { a });
    let (across, down) = plot.grows.direction(best.unwrap_or(45.0));
    let style = Style::plain(LABEL - 1.0, PENCIL);
    for tick in ticks.iter().filter(|tick| **tick > 0.0) {
        let ring = axis.at(*tick);
        if !(16.0..RADIUS - 8.0).contains(&ring) {
            continue;
        }
        let (tx, ty) = (x + across * ring, y + down * ring);
        let said = rounding::number(*tick, places);
        backed(drawing, (tx, ty + 5.0), style, Anchor::Middle, &said);
    }
}

/// A text on a ground that keeps it apart from the lines under it.
fn backed(drawing: &mut Drawing, at: (f64, f64), style: Style, anchor: Anchor, text: &str) {
    let wide = style.width(text);
    let left = match anchor {
        Anchor::Start => at.0,
        Anchor::Middle => at.0 - wide / 2.0,
        Anchor::End => at.0 - wide,
    };
    let ground = Rect::new(
        left - 2.0,
        at.1 - style.size * 0.8,
        left + wide + 2.0,
        at.1 + 3.0,
    );
    drawing.fill(ground, PAPER, 0.85);
    drawing.anchored(at.0, at.1, style, anchor, text);
}

fn vector_mark(
    drawing: &mut Drawing,
    plot: &Polar,
    axis: &Axis,
    middle: (f64, f64),
    vector: &Vector,
) {
    if !vector.size.is_finite() || !vector.angle_deg.is_finite() {
        return;
    }
    let (across, down) = plot.grows.direction(vector.angle_deg);
    let reach = axis.at(vector.size.abs());
    let tip = (middle.0 + across * reach, middle.1 + down * reach);
    let colour = colour(vector.stands);
    if let Some(within) = vector.within.filter(|within| within.is_finite()) {
        let ring = axis.at(within.abs());
        let stroke = Stroke::dashed(colour, 1.1, 2.5, 2.5);
        drawing.disc(tip, ring, Some((colour, 0.14)), Some(stroke));
    }
    match vector.stands {
        Stands::Found | Stands::Correction => arrow(drawing, middle, tip, vector.stands),
        Stands::Reading | Stands::Left => sign(drawing, tip, vector.stands),
    }
    let size = rounding::figures(vector.size, 3, &plot.unit);
    let angle = rounding::number(vector.angle_deg, 0);
    drawing.note(&format!("{}: {size} at {angle}°", vector.label));
}

fn arrow(drawing: &mut Drawing, from: (f64, f64), tip: (f64, f64), stands: Stands) {
    let (dx, dy) = (tip.0 - from.0, tip.1 - from.1);
    let length = dx.hypot(dy);
    if length < 2.0 {
        return sign(drawing, tip, stands);
    }
    let (dx, dy) = (dx / length, dy / length);
    let head = HEAD.min(length);
    let back = (tip.0 - dx * head, tip.1 - dy * head);
    let colour = colour(stands);
    let stroke = match stands {
        Stands::Correction => Stroke::dashed(colour, 2.2, 6.0, 4.0),
        _ => Stroke::line(colour, 2.6),
    };
    drawing.line(from, back, stroke);
    let mut shape = BezPath::new();
    shape.move_to(tip);
    shape.line_to((back.0 - dy * head * 0.42, back.1 + dx * head * 0.42));
    shape.line_to((back.0 + dy * head * 0.42, back.1 - dx * head * 0.42));
    shape.close_path();
    // Full for what was found, open for what the correction does.
    let fill = if stands == Stands::Correction {
        PAPER
    } else {
        colour
    };
    drawing.path(shape, Some((fill, 1.0)), Some(Stroke::line(colour, 1.6)));
}

/// The sign of a point that is no arrow: also the one in the legend.
pub(super) fn sign(drawing: &mut Drawing, at: (f64, f64), stands: Stands) {
    let colour = colour(stands);
    match stands {
        Stands::Reading => {
            drawing.disc(at, 4.0, Some((PAPER, 1.0)), Some(Stroke::line(colour, 1.5)))
        }
        Stands::Left => {
            let square = Rect::from_center_size(at, (10.0, 10.0));
            drawing.fill(square, colour, 1.0);
            drawing.path(square.to_path(0.1), None, Some(Stroke::line(INK, 1.0)));
        }
        Stands::Found => arrow(drawing, (at.0 - 15.0, at.1), (at.0 + 11.0, at.1), stands),
        Stands::Correction => arrow(drawing, (at.0 - 17.0, at.1), (at.0 + 11.0, at.1), stands),
    }
}

/// An arc with an arrow below the plot: which way the thing turns.
fn turning(drawing: &mut Drawing, plot: &Polar, (x, y): (f64, f64)) {
    let Some(spins) = plot.spins else {
        return;
    };
    const R: f64 = RADIUS + 32.0;
    // From one side of the bottom to the other; clockwise passes the bottom from right to left.
    let (start, sweep) = match spins {
        Turn::Clockwise => (0.36, -0.72),
        Turn::Counterclockwise => (-0.36, 0.72),
    };
    // Measured from straight down, growing to the right.
    let at = |a: f64, r: f64| Point::new(x + a.sin() * r, y + a.cos() * r);
    let (from, to) = (start, start + sweep);
    let down = std::f64::consts::FRAC_PI_2;
    let arc = Arc::new((x, y), (R, R), down - from, -sweep, 0.0);
    drawing.path(arc.to_path(0.05), None, Some(Stroke::line(INK, 1.6)));
    let ahead = sweep.signum() * HEAD / R;
    let mut head = BezPath::new();
    head.move_to(at(to + ahead, R));
    head.line_to(at(to, R - 5.0));
    head.line_to(at(to, R + 5.0));
    head.close_path();
    drawing.path(head, Some((INK, 1.0)), None);
    let style = Style::plain(LABEL - 1.0, INK);
    drawing.anchored(x, y + R + 18.0, style, Anchor::Middle, "it turns this way");
}
