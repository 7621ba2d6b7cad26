//! The front over the half: seen along the axle with the wall laid flat outward, and the side walls as strips.

use kurbo::{BezPath, Rect};
use whirlwright_workshop::moulding::{FillRing, FillStretch, FillView};

use super::contour::crossing;
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{INK, PAPER, PENCIL, RULE, one_hue};
use crate::picture::axis::Axis;
use crate::picture::{LABEL, WIDTH};
use crate::rounding;

/// Shades that are told apart.
const SHADES: usize = 14;
/// Middle of the disc.
const MIDDLE: (f64, f64) = (250.0, 262.0);
/// Its radius.
const RADIUS: f64 = 205.0;
/// Half a cell with the hair by which cells overlap, so that no seam shows.
const OVERLAP: f64 = 0.52;
/// Height of a strip.
const STRIP: f64 = 58.0;
/// Edges of the strips.
const STRIP_LEFT: f64 = 130.0;
const STRIP_RIGHT: f64 = WIDTH - 36.0;

/// The front as SVG.
#[must_use]
pub fn front(view: &FillView) -> String {
    front_drawing(view).to_svg()
}

/// The front.
#[must_use]
pub fn front_drawing(view: &FillView) -> Drawing {
    let strips: Vec<&FillStretch> = view.stretches.iter().filter(|s| !s.on_long_way).collect();
    let below = MIDDLE.1 + RADIUS + 34.0;
    let height = below + strips.len() as f64 * (STRIP + 26.0) + 16.0;
    let title = "How the half fills";
    let mut drawing = Drawing::new(WIDTH, height, title, &description(view));
    drawing.text(12.0, 26.0, Style::bold(LABEL + 2.0, INK), title);
    let times = times(view);
    let scale = Axis::new(0.0, last_arrival(view), 0.0, 1.0);
    let disc: Vec<&FillStretch> = view.stretches.iter().filter(|s| s.on_long_way).collect();
    let reach = disc
        .iter()
        .flat_map(|s| &s.rings)
        .map(|r| r.to_mm)
        .fold(0.0, f64::max);
    let place =
        |angle_deg: f64, along_mm: f64| on_disc(angle_deg, along_mm / reach.max(f64::MIN_POSITIVE));
    for stretch in &disc {
        patch(&mut drawing, stretch, &scale, &place);
    }
    let mut rings: Vec<&FillRing> = disc.iter().flat_map(|s| &s.rings).collect();
    rings.sort_by(|a, b| a.from_mm.total_cmp(&b.from_mm));
    lines(&mut drawing, &rings, &times, &place);
    rims(&mut drawing, &disc, reach);
    for (n, stretch) in strips.iter().enumerate() {
        let top = below + n as f64 * (STRIP + 26.0);
        strip(&mut drawing, stretch, &scale, &times, top);
    }
    gates(&mut drawing, view, reach);
    key(&mut drawing, &scale, &times);
    drawing
}

/// A place on the disc: the half's mark upward, angles with the sun.
fn on_disc(angle_deg: f64, share: f64) -> (f64, f64) {
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    (
        MIDDLE.0 + RADIUS * share * sin,
        MIDDLE.1 - RADIUS * share * cos,
    )
}

fn last_arrival(view: &FillView) -> f64 {
    let rings = view.stretches.iter().flat_map(|s| &s.rings);
    let arrivals = rings.flat_map(|r| &r.arrival_s).filter(|t| t.is_finite());
    arrivals.copied().fold(0.0, f64::max)
}

/// Round times at which lines are drawn, the last at or above the last arrival.
fn times(view: &FillView) -> Vec<f64> {
    let last = last_arrival(view);
    let (mut ticks, _) = Axis::new(0.0, last, 0.0, 1.0).ticks(8);
    ticks.retain(|t| *t > 0.0);
    let step = ticks.first().copied().unwrap_or(last);
    if ticks.last().is_none_or(|t| *t < last - 0.5 * step) {
        ticks.push(last);
    }
    ticks
}

/// One stretch: its cells by their time.
fn patch(
    drawing: &mut Drawing,
    stretch: &FillStretch,
    scale: &Axis,
    place: &dyn Fn(f64, f64) -> (f64, f64),
) {
    // Two outlines a shade, of even and of odd columns: what overlaps in one outline would be a hole.
    let mut shades = vec![BezPath::new(); 2 * (SHADES + 1)];
    for ring in &stretch.rings {
        let step = 360.0 / ring.arrival_s.len().max(1) as f64;
        for (column, time) in ring.arrival_s.iter().enumerate() {
            let middle = column as f64 * step;
            let shade = if time.is_finite() {
                shade(*time, scale)
            } else {
                SHADES
            };
            let sides = (middle - OVERLAP * step, middle + OVERLAP * step);
            let path = &mut shades[2 * shade + column % 2];
            cell(path, sides, (ring.from_mm, ring.to_mm), place);
        }
    }
    for (n, path) in shades.into_iter().enumerate() {
        if !path.elements().is_empty() {
            let colour = if n / 2 == SHADES {
                PAPER
            } else {
                one_hue(tone(n / 2))
            };
            drawing.path(path, Some((colour, 1.0)), None);
        }
    }
}

/// The lines of the round times over rings that lie side by side.
fn lines(
    drawing: &mut Drawing,
    rings: &[&FillRing],
    times: &[f64],
    place: &dyn Fn(f64, f64) -> (f64, f64),
) {
    for (n, time) in times.iter().enumerate() {
        let path = line_of(rings, *time, place);
        let wide = if n % 2 == 1 { 1.6 } else { 0.8 };
        drawing.path(path, None, Some(Stroke::line(INK, wide)));
        drawing.note(&rounding::figures(*time, 2, "s"));
    }
}

fn shade(time: f64, scale: &Axis) -> usize {
    ((scale.at(time) * SHADES as f64) as usize).min(SHADES - 1)
}

/// Late is dark, as wet paper dries from where it was wetted first.
fn tone(shade: usize) -> f64 {
    (shade as f64 + 0.5) / SHADES as f64
}

/// A cell as a sector.
fn cell(
    path: &mut BezPath,
    angles: (f64, f64),
    along: (f64, f64),
    place: &dyn Fn(f64, f64) -> (f64, f64),
) {
    const SIDES: usize = 3;
    let at = |k: usize| angles.0 + (angles.1 - angles.0) * k as f64 / SIDES as f64;
    path.move_to(place(at(0), along.0));
    for k in 0..=SIDES {
        path.line_to(place(at(k), along.1));
    }
    for k in (0..=SIDES).rev() {
        path.line_to(place(at(k), along.0));
    }
    path.close_path();
}

/// The line of one time, between the middles of the cells.
fn line_of(rings: &[&FillRing], time: f64, place: &dyn Fn(f64, f64) -> (f64, f64)) -> BezPath {
    let mut path = BezPath::new();
    for pair in rings.windows(2) {
        let columns = pair[0].arrival_s.len();
        let step = 360.0 / columns.max(1) as f64;
        let corner = |ring: usize, column: usize| {
            let r = pair[ring];
            let middle = 0.5 * (r.from_mm + r.to_mm);
            (
                place(column as f64 * step, middle),
                r.arrival_s[column % columns],
            )
        };
        for column in 0..columns {
            let (a, b) = (corner(0, column), corner(0, column + 1));
            let (c, d) = (corner(1, column + 1), corner(1, column));
            for triangle in [[a, b, c], [a, c, d]] {
                if let Some((from, to)) = crossing(triangle, time) {
                    path.move_to(from);
                    path.line_to(to);
                }
            }
        }
    }
    path
}

/// The edges of the stretches on the disc, the mark, and the names.
fn rims(drawing: &mut Drawing, disc: &[&FillStretch], reach: f64) {
    for stretch in disc {
        let (Some(first), Some(last)) = (stretch.rings.first(), stretch.rings.last()) else {
            continue;
        };
        let ends = [first.from_mm.min(last.from_mm), first.to_mm.max(last.to_mm)];
        for end in ends {
            drawing.disc(
                MIDDLE,
                RADIUS * end / reach,
                None,
                Some(Stroke::line(RULE, 1.0)),
            );
        }
        let (x, y) = on_disc(250.0, 0.5 * (ends[0] + ends[1]) / reach);
        let style = Style::bold(LABEL - 1.0, INK);
        let wide = style.width(&stretch.name);
        drawing.fill(
            Rect::new(
                x - wide / 2.0 - 3.0,
                y - 11.0,
                x + wide / 2.0 + 3.0,
                y + 5.0,
            ),
            PAPER,
            0.8,
        );
        drawing.anchored(x, y, style, Anchor::Middle, &stretch.name);
    }
    let (x, y) = on_disc(0.0, 1.0);
    drawing.line((x, y), (x, y - 12.0), Stroke::line(INK, 1.6));
    let style = Style::bold(LABEL - 1.0, INK);
    drawing.anchored(x, y - 16.0, style, Anchor::Middle, "0° mark");
}

/// A side wall as a strip: angle across, way from its root upward.
fn strip(drawing: &mut Drawing, stretch: &FillStretch, scale: &Axis, times: &[f64], top: f64) {
    let ends = stretch.rings.iter().flat_map(|r| [r.from_mm, r.to_mm]);
    let along = ends.fold((f64::INFINITY, f64::NEG_INFINITY), |a, v| {
        (a.0.min(v), a.1.max(v))
    });
    let up = Axis::new(along.0, along.1, top + STRIP, top);
    let across = Axis::new(0.0, 360.0, STRIP_LEFT, STRIP_RIGHT);
    let place =
        |angle_deg: f64, along_mm: f64| (across.at(angle_deg.clamp(0.0, 360.0)), up.at(along_mm));
    patch(drawing, stretch, scale, &place);
    let rings: Vec<&FillRing> = stretch.rings.iter().collect();
    lines(drawing, &rings, times, &place);
    drawing.frame(
        Rect::new(STRIP_LEFT, top, STRIP_RIGHT, top + STRIP),
        Stroke::line(RULE, 1.0),
    );
    let style = Style::bold(LABEL - 1.0, INK);
    drawing.anchored(
        STRIP_LEFT - 8.0,
        top + STRIP / 2.0 + 5.0,
        style,
        Anchor::End,
        &stretch.name,
    );
    let style = Style::plain(LABEL - 1.0, PENCIL);
    for angle in [0.0, 90.0, 180.0, 270.0, 360.0] {
        let said = rounding::places(angle, 0, "°");
        drawing.anchored(
            across.at(angle),
            top + STRIP + 14.0,
            style,
            Anchor::Middle,
            &said,
        );
    }
}

/// An arrow head at each gate on the disc, a ring where it feeds all round.
fn gates(drawing: &mut Drawing, view: &FillView, reach: f64) {
    for gate in &view.gates {
        let stretch = view.stretches.get(gate.stretch).filter(|s| s.on_long_way);
        let Some(ring) = stretch.and_then(|s| s.rings.get(gate.ring)) else {
            continue;
        };
        let share = 0.5 * (ring.from_mm + ring.to_mm) / reach;
        let Some(angle_deg) = gate.angle_deg else {
            drawing.disc(MIDDLE, RADIUS * share, None, Some(Stroke::line(INK, 3.0)));
            continue;
        };
        let (x, y) = on_disc(angle_deg, share);
        drawing.disc(
            (x, y),
            6.0,
            Some((PAPER, 1.0)),
            Some(Stroke::line(INK, 2.2)),
        );
        drawing.disc((x, y), 2.2, Some((INK, 1.0)), None);
    }
}

/// The shades with their times, at the right of the disc.
fn key(drawing: &mut Drawing, scale: &Axis, times: &[f64]) {
    let (left, top, each) = (540.0, 92.0, 16.0);
    let style = Style::plain(LABEL - 1.0, PENCIL);
    drawing.text(left, top - 34.0, Style::plain(LABEL, INK), "front comes");
    drawing.text(left, top - 16.0, style, "s after the start");
    let foot = top + each * SHADES as f64;
    for shade in 0..SHADES {
        let y = foot - each * shade as f64;
        drawing.fill(
            Rect::new(left, y - each - 0.6, left + 20.0, y),
            one_hue(tone(shade)),
            1.0,
        );
    }
    drawing.frame(
        Rect::new(left, top, left + 20.0, foot),
        Stroke::line(RULE, 1.0),
    );
    let places = (0..3).find(|p| times.first().is_none_or(|t| *t * 10f64.powi(*p) >= 0.9));
    for time in times {
        let y = foot - scale.at(*time) * each * SHADES as f64;
        drawing.line((left, y), (left + 24.0, y), Stroke::line(INK, 1.0));
        let said = rounding::number(*time, places.unwrap_or(2) as usize);
        drawing.text(left + 30.0, y + 5.0, style, &said);
    }
    let lines = [
        "seen along the axle, the wall",
        "laid flat outward;",
        "ringed dot: the gate",
    ];
    for (n, line) in lines.iter().enumerate() {
        drawing.text(left - 34.0, foot + 36.0 + 18.0 * n as f64, style, line);
    }
}

fn description(view: &FillView) -> String {
    let last = |s: &FillStretch| {
        let times = s.rings.iter().flat_map(|r| &r.arrival_s);
        times.copied().filter(|t| t.is_finite()).fold(0.0, f64::max)
    };
    let said: Vec<String> = view
        .stretches
        .iter()
        .map(|s| format!("{} full at {}", s.name, rounding::figures(last(s), 2, "s")))
        .collect();
    format!("{}.", said.join("; "))
}
