//! The piece seen from the side of the rim, with holes, pockets and pins at their angles.

mod cut;
mod marks;

use kurbo::{BezPath, Circle, Rect, Shape as _};
use whirlwright_workshop::part::job::FeatureShape;

use super::polar::Turn;
use super::{LABEL, WIDTH};
use crate::font::{self, Weight};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, INK, PAPER, PENCIL, RULE, WASH};
use crate::rounding;

pub use cut::{CutWork, cut_works_drawing};

/// Radius at which the largest circle is drawn.
const RADIUS: f64 = 150.0;
/// The middle of the view from its upper left corner.
const MIDDLE: (f64, f64) = (206.0, 250.0);
/// Left edge of the list beside the view.
const LIST: f64 = 424.0;

/// A circle about the axle: an edge of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// Its radius in mm.
    pub radius_mm: f64,
    /// Whose edge it is.
    pub what: String,
}

/// What is done at one place.
#[derive(Debug, Clone, PartialEq)]
pub struct Work {
    /// Its number on the list.
    pub number: usize,
    /// Shape and place.
    pub shape: FeatureShape,
    /// Whether material comes off (a hole, a pocket) or on (a pin).
    pub comes_off: bool,
    /// What to do, in words.
    pub words: String,
}

/// The piece from one end.
#[derive(Debug, Clone, PartialEq)]
pub struct RimView {
    /// Which side or plane.
    pub heading: String,
    /// From which end it is seen, in words.
    pub seen_from: String,
    /// What stands at 0°.
    pub mark: String,
    /// Which way the angles grow on the picture.
    pub grows: Turn,
    /// Edges of pieces, as circles.
    pub edges: Vec<Edge>,
    /// Radius in mm at which places are allowed, and how many of them round the axle, the first at
    /// the stated angle in degrees; faint on the picture.
    pub places: Option<(f64, u32, f64)>,
    /// What is done.
    pub works: Vec<Work>,
}

/// The view with its list.
#[must_use]
pub fn rim_view_drawing(view: &RimView) -> Drawing {
    let title = format!("{} with its corrections", view.heading);
    let said: Vec<String> = view
        .works
        .iter()
        .map(|work| format!("{}: {}.", work.number, work.words))
        .collect();
    let description = format!("{}. {}", view.seen_from, said.join(" "));
    let mut drawing = Drawing::new(WIDTH, 0.0, &title, &description);
    let bold = Style::bold(LABEL + 2.0, INK);
    drawing.text(12.0, 26.0, bold, &view.heading);
    let plain = Style::plain(LABEL - 1.0, PENCIL);
    let grows = format!("{}; angles grow {}", view.seen_from, view.grows.word());
    drawing.text(12.0, 46.0, plain, &grows);
    let scale = Scale::new(view);
    edges(&mut drawing, view, &scale);
    angles(&mut drawing, view);
    places(&mut drawing, view, &scale);
    for work in &view.works {
        marks::draw(&mut drawing, view.grows, &scale, work);
    }
    let low = list(&mut drawing, view);
    drawing.height = low.max(MIDDLE.1 + RADIUS + 44.0);
    drawing
}

/// From mm to the drawing.
pub(super) struct Scale {
    per_mm: f64,
}

impl Scale {
    fn new(view: &RimView) -> Self {
        let radii = view.edges.iter().map(|edge| edge.radius_mm);
        let most = radii.filter(|r| r.is_finite()).fold(0.0, f64::max);
        let per_mm = if most > 0.0 { RADIUS / most } else { 1.0 };
        Self { per_mm }
    }

    pub(super) fn length(&self, mm: f64) -> f64 {
        mm * self.per_mm
    }

    pub(super) fn at(&self, grows: Turn, radius_mm: f64, angle_deg: f64) -> (f64, f64) {
        let (across, down) = grows.direction(angle_deg);
        let r = self.length(radius_mm);
        (MIDDLE.0 + across * r, MIDDLE.1 + down * r)
    }
}

fn edges(drawing: &mut Drawing, view: &RimView, scale: &Scale) {
    let mut edges: Vec<&Edge> = view.edges.iter().filter(|e| e.radius_mm > 0.0).collect();
    edges.sort_by(|a, b| b.radius_mm.total_cmp(&a.radius_mm));
    for (n, edge) in edges.iter().enumerate() {
        let ring = scale.length(edge.radius_mm);
        let stroke = if n == 0 {
            Stroke::line(INK, 1.6)
        } else {
            Stroke::line(RULE, 1.0)
        };
        let fill = (n == 0).then_some((WASH, 0.35));
        drawing.disc(MIDDLE, ring, fill, Some(stroke));
        let radius = rounding::places(edge.radius_mm, 2, "mm");
        drawing.note(&format!("{}, radius {radius}", edge.what));
    }
    for (from, to) in [((-8.0, 0.0), (8.0, 0.0)), ((0.0, -8.0), (0.0, 8.0))] {
        let at = |(dx, dy): (f64, f64)| (MIDDLE.0 + dx, MIDDLE.1 + dy);
        drawing.line(at(from), at(to), Stroke::line(PENCIL, 1.0));
    }
}

/// The mark, and an angle every 30 degrees round the outside.
fn angles(drawing: &mut Drawing, view: &RimView) {
    for angle in (0..360).step_by(30) {
        let (across, down) = view.grows.direction(f64::from(angle));
        let at = |r: f64| (MIDDLE.0 + across * r, MIDDLE.1 + down * r);
        drawing.line(at(RADIUS), at(RADIUS + 6.0), Stroke::line(PENCIL, 1.0));
        if angle == 0 {
            let mut notch = BezPath::new();
            notch.move_to((MIDDLE.0, MIDDLE.1 - RADIUS - 1.0));
            notch.line_to((MIDDLE.0 - 7.0, MIDDLE.1 - RADIUS - 14.0));
            notch.line_to((MIDDLE.0 + 7.0, MIDDLE.1 - RADIUS - 14.0));
            notch.close_path();
            drawing.path(notch, Some((INK, 1.0)), None);
            let style = Style::bold(LABEL - 1.0, INK);
            let said = format!("0° {}", view.mark);
            let y = MIDDLE.1 - RADIUS - 19.0;
            drawing.anchored(MIDDLE.0, y, style, Anchor::Middle, &said);
            continue;
        }
        let anchor = match across {
            a if a > 0.2 => Anchor::Start,
            a if a < -0.2 => Anchor::End,
            _ => Anchor::Middle,
        };
        let (x, y) = at(RADIUS + 10.0);
        let style = Style::plain(LABEL - 1.0, PENCIL);
        drawing.anchored(x, y + 5.0 + 6.0 * down, style, anchor, &format!("{angle}°"));
    }
}

/// The allowed places as small faint rings; those too many to be told apart as their circle.
fn places(drawing: &mut Drawing, view: &RimView, scale: &Scale) {
    const MOST: u32 = 64;
    let Some((radius_mm, count, first_deg)) = view.places else {
        return;
    };
    if count > MOST {
        let stroke = Stroke::dashed(RULE, 0.9, 3.0, 3.0);
        drawing.disc(MIDDLE, scale.length(radius_mm), None, Some(stroke));
        return;
    }
    for n in 0..count {
        let angle = first_deg + 360.0 * f64::from(n) / f64::from(count);
        let at = scale.at(view.grows, radius_mm, angle);
        drawing.disc(at, 3.0, Some((PAPER, 1.0)), Some(Stroke::line(RULE, 0.9)));
    }
}

/// The list of what to do; gives the lowest line used.
fn list(drawing: &mut Drawing, view: &RimView) -> f64 {
    let mut y = 92.0;
    if view.works.is_empty() {
        drawing.text(
            LIST,
            y,
            Style::plain(LABEL, PENCIL),
            "Nothing to do on this side.",
        );
        return y + 14.0;
    }
    for work in &view.works {
        badge(drawing, (LIST + 11.0, y - 5.0), work);
        let lines = font::wrap(&work.words, LABEL, Weight::Regular, WIDTH - LIST - 40.0);
        for line in &lines {
            drawing.text(LIST + 30.0, y, Style::plain(LABEL, INK), line);
            y += 20.0;
        }
        y += 8.0;
    }
    y
}

/// The number of a work: in a ring where material comes off, in a box where it comes on.
fn badge(drawing: &mut Drawing, at: (f64, f64), work: &Work) {
    let colour = if work.comes_off {
        CATEGORIES[5]
    } else {
        CATEGORIES[0]
    };
    let stroke = Some(Stroke::line(colour, 1.6));
    let shape = if work.comes_off {
        Circle::new(at, 11.0).to_path(0.01)
    } else {
        Rect::from_center_size(at, (21.0, 21.0)).to_path(0.01)
    };
    drawing.path(shape, Some((PAPER, 1.0)), stroke);
    let style = Style::bold(LABEL - 1.0, INK);
    drawing.anchored(
        at.0,
        at.1 + 5.0,
        style,
        Anchor::Middle,
        &work.number.to_string(),
    );
}

#[cfg(test)]
mod tests;
