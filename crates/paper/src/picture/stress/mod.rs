//! The stress in the cut of body and ring as they are drawn, and the pressure along their seat.

mod bands;

use kurbo::{BezPath, Rect};
use whirlwright_workshop::fitting::{SectionBound, SectionFitBody, SectionPeak, StressPicture};

use super::axis::Axis;
use super::plot::{LinePlot, Scale, Series};
use super::{LABEL, WIDTH};
use crate::font::{self, Weight};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{Colour, INK, PAPER, PENCIL, RULE, ramp};
use crate::rounding;

/// The space the cut is drawn in.
const AREA: Rect = Rect::new(70.0, 48.0, 440.0, 452.0);
/// Left edge of the scale of stress.
const SCALE: f64 = 486.0;
/// Width of the scale's bar.
const BAR: f64 = 22.0;
/// Steps of the ramp: fine enough that no step is seen, few enough for a small file.
const STEPS: u32 = 24;
/// The ramp ends where this share of the area is below; sharp corners would leave the rest dark.
const BELOW_SHARE: f64 = 0.995;

/// Stress and pressure as SVG.
#[must_use]
pub fn stress(section: &SectionFitBody, field: &StressPicture) -> String {
    stress_drawing(section, field).to_svg()
}

/// The cut with its equivalent stress, and the pressure along the seat under it.
#[must_use]
pub fn stress_drawing(section: &SectionFitBody, field: &StressPicture) -> Drawing {
    let (ring, body) = (&section.ring, &section.body);
    let peaks = [
        (ring, section.slip.ring_peak),
        (body, section.slip.body_peak),
    ];
    let said: Vec<String> = peaks.iter().map(|(n, p)| told(n, *p)).collect();
    let description = format!(
        "Cut of {ring} on {body} with its equivalent stress, the seat sliding freely. Peaks: {}. The mean pressure along the seat is {} with free sliding and {} held fast.",
        said.join("; "),
        rounding::places(section.slip.mean_pressure_mpa, 2, "MPa"),
        rounding::places(section.stick.mean_pressure_mpa, 2, "MPa"),
    );
    let title = format!("Stress of {ring} on {body}");
    let mut drawing = Drawing::new(WIDTH, AREA.y1 + 44.0, &title, &description);
    let heading = Style::bold(LABEL + 2.0, INK);
    drawing.text(
        12.0,
        26.0,
        heading,
        "Equivalent stress in the cut, new and at rest",
    );
    let view = View::new(field);
    let top_mpa = top(field);
    fill(&mut drawing, &view, field, top_mpa);
    view.rule(&mut drawing);
    // The ring lies outside the body: its label goes out and up, the body's in and down.
    for ((_, peak), out) in peaks.iter().zip([true, false]) {
        mark(&mut drawing, &view, *peak, out);
    }
    legend(&mut drawing, top_mpa, &peaks);
    let plot = pressure(section).drawing();
    let y = drawing.height;
    drawing.height += drawing.put(0.0, y, WIDTH, &plot);
    drawing
}

fn told(name: &str, peak: SectionPeak) -> String {
    format!(
        "{name} {} at {} along the axle and {} away from it",
        rounding::places(peak.equivalent_mpa, 1, "MPa"),
        rounding::places(peak.x_mm, 2, "mm"),
        rounding::places(peak.radius_mm, 2, "mm")
    )
}

/// From mm to the drawing: axle level, radius upward, with room to the middle of the gap where it is near.
struct View {
    along: Axis,
    away: Axis,
}

impl View {
    fn new(field: &StressPicture) -> Self {
        let xs = field.places_mm.iter().map(|p| p[0]);
        let ys = field.places_mm.iter().map(|p| p[1]);
        let low = xs.clone().fold(0.0, f64::min);
        let high = xs.fold(0.0, f64::max);
        let radius = ys.fold(1.0, f64::max);
        let scale = (AREA.width() / (high - low).max(1.0)).min(AREA.height() / radius);
        let wide = (high - low) * scale;
        let left = AREA.center().x - 0.5 * wide;
        Self {
            along: Axis::new(low, high, left, left + wide),
            away: Axis::new(0.0, radius, AREA.y1, AREA.y1 - radius * scale),
        }
    }

    fn at(&self, (x, y): (f64, f64)) -> (f64, f64) {
        (self.along.at(x), self.away.at(y))
    }

    /// The axle, and a rule along it and upward in mm.
    fn rule(&self, drawing: &mut Drawing) {
        let (left, right) = (self.along.start - 12.0, self.along.end + 12.0);
        let dash = Stroke::dashed(PENCIL, 1.0, 12.0, 4.0);
        drawing.line((left, AREA.y1), (right, AREA.y1), dash);
        let style = Style::plain(LABEL - 1.0, PENCIL);
        let tick = Stroke::line(RULE, 1.0);
        for value in self.along.ticks(5).0 {
            let x = self.along.at(value);
            drawing.line((x, AREA.y1), (x, AREA.y1 + 5.0), tick);
            let label = rounding::number(value, 0);
            drawing.anchored(x, AREA.y1 + 20.0, style, Anchor::Middle, &label);
        }
        for value in self.away.ticks(6).0 {
            let y = self.away.at(value);
            drawing.line((left - 5.0, y), (left, y), tick);
            let label = rounding::number(value, 0);
            drawing.anchored(left - 9.0, y + 5.0, style, Anchor::End, &label);
        }
        drawing.line((left, AREA.y1), (left, self.away.end), tick);
        let middle = 0.5 * (AREA.y1 + self.away.end);
        drawing.upward(left - 40.0, middle, style, "radius, mm");
        let middle = 0.5 * (self.along.start + self.along.end);
        drawing.anchored(
            middle,
            AREA.y1 + 38.0,
            style,
            Anchor::Middle,
            "along the axle from the middle of the gap, mm",
        );
    }
}

/// The end of the ramp: a round stress that nearly all of the area stays below.
fn top(field: &StressPicture) -> f64 {
    let of = |(nodes, values): (&[u32; 3], &[f64; 3])| {
        let [a, b, c] = nodes.map(|n| field.places_mm[n as usize]);
        let twice = (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
        (values.iter().sum::<f64>() / 3.0, 0.5 * twice.abs())
    };
    let mut parts: Vec<(f64, f64)> = field
        .triangles
        .iter()
        .zip(&field.equivalent_mpa)
        .map(of)
        .collect();
    parts.sort_by(|a, b| a.0.total_cmp(&b.0));
    let whole: f64 = parts.iter().map(|p| p.1).sum();
    let mut below = 0.0;
    let end = parts.iter().find(|(_, area)| {
        below += area;
        below >= BELOW_SHARE * whole
    });
    let end = end.map_or(0.0, |p| p.0).max(1e-3);
    // Half a tick's worth of rounding up keeps the labels short.
    let (ticks, _) = Axis::new(0.0, end, 0.0, 1.0).ticks(8);
    let step = ticks.get(1).copied().unwrap_or(end);
    (end / step).ceil() * step
}

fn fill(drawing: &mut Drawing, view: &View, field: &StressPicture, top_mpa: f64) {
    for ring in [false, true] {
        let border = path(view, &bands::at_least(field, ring, None));
        drawing.path(border.clone(), Some((ramp(0.0), 1.0)), None);
        for step in 1..STEPS {
            let share = f64::from(step) / f64::from(STEPS);
            let band = path(view, &bands::at_least(field, ring, Some(share * top_mpa)));
            if !band.elements().is_empty() {
                drawing.path(band, Some((colour(step), 1.0)), None);
            }
        }
        drawing.path(border, None, Some(Stroke::line(INK, 1.0)));
    }
}

/// The colour of a step: the ramp's whole length over the steps there are.
fn colour(step: u32) -> Colour {
    ramp(f64::from(step) / f64::from(STEPS - 1))
}

fn path(view: &View, loops: &[Vec<(f64, f64)>]) -> BezPath {
    let mut path = BezPath::new();
    for round in loops {
        for (n, place) in round.iter().enumerate() {
            if n == 0 {
                path.move_to(view.at(*place));
            } else {
                path.line_to(view.at(*place));
            }
        }
        path.close_path();
    }
    path
}

/// A peak: a ring round its place, and its value at the end of a line.
fn mark(drawing: &mut Drawing, view: &View, peak: SectionPeak, out: bool) {
    let (x, y) = view.at((peak.x_mm, peak.radius_mm));
    let (across, up, anchor) = if out {
        (-34.0, -62.0, Anchor::End)
    } else {
        (34.0, 48.0, Anchor::Start)
    };
    let end = (x + across, y + up);
    drawing.line((x, y), end, Stroke::line(INK, 1.2));
    let value = rounding::places(peak.equivalent_mpa, 1, "MPa");
    let beside = if out { -5.0 } else { 5.0 };
    drawing.anchored(
        end.0 + beside,
        end.1 + 5.0,
        Style::bold(LABEL, INK),
        anchor,
        &value,
    );
    drawing.disc((x, y), 6.0, None, Some(Stroke::line(PAPER, 4.0)));
    drawing.disc((x, y), 6.0, None, Some(Stroke::line(INK, 1.6)));
}

fn legend(drawing: &mut Drawing, top_mpa: f64, peaks: &[(&String, SectionPeak); 2]) {
    let (foot, head) = (300.0, 84.0);
    let axis = Axis::new(0.0, top_mpa, foot, head);
    for step in 0..STEPS {
        let at = |n: u32| axis.at(top_mpa * f64::from(n) / f64::from(STEPS));
        // A hair of overlap hides the seams.
        let low = if step == 0 { foot } else { at(step) + 0.4 };
        let rect = Rect::new(SCALE, at(step + 1), SCALE + BAR, low);
        drawing.fill(rect, colour(step), 1.0);
    }
    drawing.frame(
        Rect::new(SCALE, head, SCALE + BAR, foot),
        Stroke::line(INK, 1.0),
    );
    let style = Style::plain(LABEL - 1.0, INK);
    let (ticks, places) = axis.ticks(6);
    for value in ticks {
        let y = axis.at(value);
        drawing.line(
            (SCALE + BAR, y),
            (SCALE + BAR + 5.0, y),
            Stroke::line(INK, 1.0),
        );
        let more = if value >= top_mpa { " and more" } else { "" };
        let label = format!("{}{more}", rounding::number(value, places));
        drawing.text(SCALE + BAR + 10.0, y + 5.0, style, &label);
    }
    drawing.text(
        SCALE,
        head - 16.0,
        Style::bold(LABEL, INK),
        "MPa (von Mises)",
    );
    let room = WIDTH - SCALE - 16.0;
    let mut y = foot + 34.0;
    for (name, peak) in peaks {
        drawing.disc(
            (SCALE + 7.0, y - 5.0),
            6.0,
            None,
            Some(Stroke::line(INK, 1.6)),
        );
        let value = format!(
            "{name}: {}",
            rounding::places(peak.equivalent_mpa, 1, "MPa")
        );
        let value = font::fit(&value, LABEL, Weight::Bold, room - 22.0);
        drawing.text(SCALE + 22.0, y, Style::bold(LABEL, INK), &value);
        let places = [("at x", peak.x_mm), ("radius", peak.radius_mm)];
        for (n, (what, mm)) in places.into_iter().enumerate() {
            let at = y + 18.0 * (n + 1) as f64;
            let line = format!("{what} {}", rounding::places(mm, 2, "mm"));
            drawing.text(SCALE + 22.0, at, Style::plain(LABEL - 1.0, PENCIL), &line);
        }
        y += 66.0;
    }
}

/// The pressure along the seat, between free sliding and no sliding.
fn pressure(section: &SectionFitBody) -> LinePlot {
    let points = |bound: &SectionBound| -> Vec<(f64, f64)> {
        let line = bound.line.iter();
        line.map(|p| (p.x_mm, p.pressure_mpa)).collect()
    };
    // The ends are cut off by the scale: the legend tells how high they go.
    let named = |name: &str, bound: &SectionBound| {
        let most = rounding::places(bound.most_pressure_mpa, 1, "MPa");
        (format!("{name}, at its ends up to {most}"), points(bound))
    };
    let bounds = [
        named("sliding freely", &section.slip),
        named("held fast", &section.stick),
    ];
    let across = bounds.iter().flat_map(|(_, p)| p.iter().map(|p| p.0));
    // The ends of a seat press without bound: the scale ends where nearly all of the line is below.
    let mut heights: Vec<f64> = bounds
        .iter()
        .flat_map(|(_, p)| p.iter().map(|p| p.1))
        .collect();
    heights.sort_by(f64::total_cmp);
    let most = heights.last().copied().unwrap_or(0.0);
    let usual = heights.get(heights.len() * 9 / 10).copied().unwrap_or(most);
    let end = most.min(3.0 * usual.max(section.mean_pressure_mpa.likely));
    let mut plot = LinePlot::new(
        "Pressure along the seat",
        Scale::over("along the axle from the middle of the gap, mm", across),
        Scale::over("pressure, MPa", [0.0, end]).with_head_room(0.06),
    );
    for (n, (name, points)) in bounds.iter().enumerate() {
        plot.series.push(Series::line(name, n, points.clone()));
    }
    let mean = section.mean_pressure_mpa.likely;
    let ends = [section.seat_from_mm, section.seat_to_mm];
    plot.series.push(Series::line(
        "mean",
        2,
        ends.iter().map(|x| (*x, mean)).collect(),
    ));
    plot.description = format!(
        "Pressure along the seat from {} to {}; its ends press hardest.",
        rounding::places(section.seat_from_mm, 2, "mm"),
        rounding::places(section.seat_to_mm, 2, "mm")
    );
    plot
}
