//! The field of a plot: two scales, a faint grid, ticks, and labels that bear the units.

use kurbo::{BezPath, Rect};

use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{PENCIL, RULE, WASH};
use crate::picture::LABEL;
use crate::picture::axis::Axis;
use crate::rounding;

/// What runs along one side of a plot.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    /// What is shown, with its unit: `time, in s`.
    pub label: String,
    /// Where the scale starts.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

impl Scale {
    /// A scale over the finite ones of these values.
    #[must_use]
    pub fn over(label: &str, values: impl IntoIterator<Item = f64>) -> Self {
        let (mut from, mut to) = (f64::INFINITY, f64::NEG_INFINITY);
        for value in values.into_iter().filter(|value| value.is_finite()) {
            (from, to) = (from.min(value), to.max(value));
        }
        let label = label.to_owned();
        if from > to {
            return Self {
                label,
                from: 0.0,
                to: 1.0,
            };
        }
        Self { label, from, to }
    }

    /// The same scale, widened to begin at nought.
    #[must_use]
    pub fn from_nought(self) -> Self {
        Self {
            from: self.from.min(0.0),
            to: self.to.max(0.0),
            ..self
        }
    }

    /// The same scale with a share of its length added at both ends, so that no mark lies on the frame.
    #[must_use]
    pub fn with_room(self, share: f64) -> Self {
        let room = (self.to - self.from) * share;
        Self {
            from: self.from - room,
            to: self.to + room,
            ..self
        }
    }

    /// The same scale with room at its upper end only.
    #[must_use]
    pub fn with_head_room(self, share: f64) -> Self {
        let to = self.to + (self.to - self.from) * share;
        Self { to, ..self }
    }
}

/// Size of tick labels.
const TICK: f64 = LABEL - 1.0;
/// From one tick to the next across, at least: three figures and a sign with air about them.
const TICK_EVERY: f64 = 66.0;
/// From one tick to the next upward.
const TICK_UP: f64 = 40.0;
/// Height under the field that tick labels and the scale's own label take.
const UNDER: f64 = 44.0;
/// Room kept for the labels of the scale up, so that fields above each other begin at one place.
const LEAST_LABEL: f64 = 36.0;
/// Width the upward label takes at the left.
const UPWARD: f64 = 26.0;

/// A field with scales across and up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frame {
    /// The field itself, without its labels.
    pub rect: Rect,
    /// The scale across.
    pub across: Axis,
    /// The scale up.
    pub up: Axis,
}

impl Frame {
    /// Draws grid, ticks and labels inside a room and gives the field that is left.
    pub fn draw(drawing: &mut Drawing, room: Rect, across: &Scale, up: &Scale) -> Self {
        let (top, foot) = (room.y0 + 8.0, room.y1 - UNDER);
        let up_axis = Axis::new(up.from, up.to, foot, top);
        let style = Style::plain(TICK, PENCIL);
        let (up_ticks, up_places) = up_axis.ticks(count(foot - top, TICK_UP));
        let up_labels: Vec<String> = up_ticks
            .iter()
            .map(|tick| rounding::number(*tick, up_places))
            .collect();
        let widest = up_labels
            .iter()
            .map(|label| style.width(label))
            .fold(LEAST_LABEL, f64::max);
        let left = room.x0 + UPWARD + widest + 8.0;
        // The last label across may stick out by half its width.
        let right = room.x1 - 18.0;
        let rect = Rect::new(left, top, right, foot);
        let across_axis = Axis::new(across.from, across.to, left, right);
        let (ticks, places) = across_axis.ticks(count(right - left, TICK_EVERY));
        for tick in ticks {
            let x = across_axis.at(tick);
            drawing.line((x, top), (x, foot), Stroke::line(WASH, 1.0));
            let label = rounding::number(tick, places);
            drawing.anchored(x, foot + 17.0, style, Anchor::Middle, &label);
        }
        for (tick, label) in up_ticks.iter().zip(&up_labels) {
            let y = up_axis.at(*tick);
            drawing.line((left, y), (right, y), Stroke::line(WASH, 1.0));
            drawing.anchored(left - 6.0, y + 5.0, style, Anchor::End, label);
        }
        let middle = rect.center();
        drawing.anchored(middle.x, foot + 36.0, style, Anchor::Middle, &across.label);
        drawing.upward(room.x0 + 15.0, middle.y, style, &up.label);
        Self {
            rect,
            across: across_axis,
            up: up_axis,
        }
    }

    /// Closes the field with its frame; drawn last, over what lies in it.
    pub fn close(&self, drawing: &mut Drawing) {
        drawing.frame(self.rect, Stroke::line(RULE, 1.0));
    }

    /// Where a point lies on the drawing.
    #[must_use]
    pub fn at(&self, point: (f64, f64)) -> (f64, f64) {
        (self.across.at(point.0), self.up.at(point.1))
    }

    /// Whether a point lies in the field.
    #[must_use]
    pub fn holds(&self, point: (f64, f64)) -> bool {
        let (x, y) = self.at(point);
        // What lies on the frame is in it, whatever rounding does to the last digit.
        let r = self.rect.inflate(1e-6, 1e-6);
        x >= r.x0 && x <= r.x1 && y >= r.y0 && y <= r.y1
    }

    /// A line through points, cut where it leaves the field and broken at what is no number.
    #[must_use]
    pub fn line(&self, points: &[(f64, f64)]) -> BezPath {
        let mut path = BezPath::new();
        let mut end: Option<(f64, f64)> = None;
        for pair in thinned(points, self).windows(2) {
            let Some((from, to)) = clipped(self.at(pair[0]), self.at(pair[1]), self.rect) else {
                end = None;
                continue;
            };
            if end != Some(from) {
                path.move_to(from);
            }
            path.line_to(to);
            end = Some(to);
        }
        path
    }

    /// The area between two lines over the same places, held inside the field.
    #[must_use]
    pub fn area(&self, low: &[(f64, f64)], high: &[(f64, f64)]) -> BezPath {
        let mut path = BezPath::new();
        let held = |point: &(f64, f64)| {
            let (x, y) = self.at(*point);
            let r = self.rect;
            (x.clamp(r.x0, r.x1), y.clamp(r.y0, r.y1))
        };
        let (low, high) = (thinned(low, self), thinned(high, self));
        let finite = |p: &&(f64, f64)| p.0.is_finite() && p.1.is_finite();
        let round = low.iter().chain(high.iter().rev()).filter(finite);
        for (n, point) in round.enumerate() {
            if n == 0 {
                path.move_to(held(point));
            } else {
                path.line_to(held(point));
            }
        }
        if !path.elements().is_empty() {
            path.close_path();
        }
        path
    }
}

fn count(length: f64, every: f64) -> usize {
    ((length / every) as usize).clamp(3, 10)
}

/// At most four points a point of width: the first, the lowest, the highest and the last that fall
/// there, so that no swing is lost and a long series stays a small file.
fn thinned(points: &[(f64, f64)], frame: &Frame) -> Vec<(f64, f64)> {
    let columns = frame.rect.width().max(1.0);
    if points.len() as f64 <= 4.0 * columns {
        return points.to_vec();
    }
    let column = |point: &(f64, f64)| frame.across.at(point.0).floor();
    let same = |a: &(f64, f64), b: &(f64, f64)| column(a) == column(b);
    let mut kept = Vec::new();
    for chunk in points.chunk_by(same) {
        let by_height = |a: &&(f64, f64), b: &&(f64, f64)| a.1.total_cmp(&b.1);
        let lowest = chunk.iter().min_by(by_height);
        let highest = chunk.iter().max_by(by_height);
        let mut of_it: Vec<(f64, f64)> = [chunk.first(), lowest, highest, chunk.last()]
            .into_iter()
            .flatten()
            .copied()
            .collect();
        of_it.sort_by(|a, b| a.0.total_cmp(&b.0));
        of_it.dedup();
        kept.extend(of_it);
    }
    kept
}

/// The part of a stretch inside a rectangle (Liang and Barsky), if there is one.
fn clipped(from: (f64, f64), to: (f64, f64), rect: Rect) -> Option<((f64, f64), (f64, f64))> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    if !(dx.is_finite() && dy.is_finite()) {
        return None;
    }
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let sides = [
        (-dx, from.0 - rect.x0),
        (dx, rect.x1 - from.0),
        (-dy, from.1 - rect.y0),
        (dy, rect.y1 - from.1),
    ];
    for (step, room) in sides {
        if step == 0.0 {
            if room < 0.0 {
                return None;
            }
        } else if step < 0.0 {
            enter = enter.max(room / step);
        } else {
            leave = leave.min(room / step);
        }
    }
    let at = |share: f64| (from.0 + share * dx, from.1 + share * dy);
    (enter <= leave).then(|| {
        let start = if enter > 0.0 { at(enter) } else { from };
        let end = if leave < 1.0 { at(leave) } else { to };
        (start, end)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape as _;

    fn frame() -> Frame {
        let rect = Rect::new(0.0, 0.0, 100.0, 50.0);
        Frame {
            rect,
            across: Axis::new(0.0, 10.0, 0.0, 100.0),
            up: Axis::new(0.0, 5.0, 50.0, 0.0),
        }
    }

    #[test]
    fn law_a_line_never_leaves_its_field() {
        let wild = [(-5.0, 2.0), (5.0, 3.0), (7.0, -4.0), (12.0, 6.0)];
        let path = frame().line(&wild);
        let bounds = path.bounding_box();
        let room = frame().rect.inflate(1e-9, 1e-9);
        assert!(room.contains_rect(bounds), "{bounds:?}");
        assert!(path.elements().len() >= 4);
    }

    #[test]
    fn law_a_line_is_broken_at_what_is_no_number() {
        let broken = [
            (1.0, 1.0),
            (2.0, 1.0),
            (3.0, f64::NAN),
            (4.0, 1.0),
            (5.0, 1.0),
        ];
        let starts = frame()
            .line(&broken)
            .elements()
            .iter()
            .filter(|e| matches!(e, kurbo::PathEl::MoveTo(_)))
            .count();
        assert_eq!(starts, 2);
    }

    #[test]
    fn law_a_thinned_line_keeps_every_swing() {
        let many: Vec<(f64, f64)> = (0..100_000)
            .map(|n| (f64::from(n) / 10_000.0, if n == 54_321 { 4.5 } else { 1.0 }))
            .collect();
        let path = frame().line(&many);
        assert!(path.elements().len() < 2_000);
        // 4.5 of 5 up is 5 from the top of a field that is 50 high.
        assert!((path.bounding_box().y0 - 5.0).abs() < 1e-9);
    }

    #[test]
    fn closed_form_an_area_between_two_level_lines_is_a_rectangle() {
        let (low, high) = ([(0.0, 1.0), (10.0, 1.0)], [(0.0, 3.0), (10.0, 3.0)]);
        let area = frame().area(&low, &high).area().abs();
        assert!((area - 100.0 * 20.0).abs() < 1e-9);
    }
}
