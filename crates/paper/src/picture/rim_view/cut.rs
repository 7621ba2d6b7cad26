//! The piece cut through a hole: how deep it goes, and what wall it leaves.

use kurbo::{Affine, BezPath, Rect, Shape as _};
use whirlwright_workshop::part::job::FeatureShape;

use super::super::{LABEL, WIDTH};
use crate::font::{self, Weight};
use crate::ink::hatch::{self, Hatch};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, INK, PAPER, PENCIL};
use crate::rounding;

/// Room of one cut.
const CELL: (f64, f64) = (230.0, 250.0);
/// Room of the drawn outline in it.
const ROOM: (f64, f64) = (124.0, 120.0);
/// Longest stretch of a piece that is drawn, in times of the work's own size.
const AROUND: f64 = 2.5;

/// A work in the cut through its middle.
#[derive(Debug, Clone, PartialEq)]
pub struct CutWork {
    /// Which numbers of the list it is, in words.
    pub heading: String,
    /// The outline of the piece as SVG path data in mm: x along the axle, y the radius.
    pub outline: String,
    /// Shape and place.
    pub shape: FeatureShape,
    /// Size and depth, in words.
    pub words: String,
}

/// Works in the cut, three beside each other.
#[must_use]
pub fn cut_works_drawing(works: &[CutWork]) -> Drawing {
    let rows = works.len().div_ceil(3).max(1);
    let said: Vec<String> = works
        .iter()
        .map(|work| format!("{}: {}.", work.heading, work.words))
        .collect();
    let height = 34.0 + rows as f64 * CELL.1;
    let mut drawing = Drawing::new(WIDTH, height, "In the cut", &said.join(" "));
    let heading = "In the cut: axle level, radius upward";
    drawing.text(12.0, 26.0, Style::bold(LABEL + 2.0, INK), heading);
    for (n, work) in works.iter().enumerate() {
        let left = 12.0 + (n % 3) as f64 * (CELL.0 + 6.0);
        let top = 40.0 + (n / 3) as f64 * CELL.1;
        draw(&mut drawing, work, (left, top));
    }
    drawing
}

/// The rectangle of a work in the cut, in mm: along the axle and by the radius.
fn section(shape: &FeatureShape) -> Rect {
    match *shape {
        FeatureShape::AxialCylinder {
            diameter_mm: d,
            radius_mm: r,
            x_mm,
            ..
        } => Rect::new(x_mm.0, r - d / 2.0, x_mm.1, r + d / 2.0),
        FeatureShape::RadialCylinder {
            diameter_mm: d,
            x_mm: x,
            radius_mm,
            ..
        } => Rect::new(x - d / 2.0, radius_mm.0, x + d / 2.0, radius_mm.1),
        FeatureShape::RingSector {
            radius_mm, x_mm, ..
        }
        | FeatureShape::Box {
            radius_mm, x_mm, ..
        } => Rect::new(x_mm.0, radius_mm.0, x_mm.1, radius_mm.1),
        FeatureShape::Ball {
            diameter_mm: d,
            x_mm: x,
            radius_mm: r,
            ..
        } => Rect::new(x - d / 2.0, r - d / 2.0, x + d / 2.0, r + d / 2.0),
        FeatureShape::Point {
            x_mm: x,
            radius_mm: r,
            ..
        } => Rect::new(x, r, x, r),
    }
    .abs()
}

fn draw(drawing: &mut Drawing, work: &CutWork, (left, top): (f64, f64)) {
    let bold = Style::bold(LABEL, INK);
    let heading = font::fit(&work.heading, LABEL, Weight::Bold, CELL.0 - 10.0);
    drawing.text(left, top + 18.0, bold, &heading);
    let mut y = top + 38.0;
    let plain = Style::plain(LABEL - 1.0, PENCIL);
    for line in font::wrap(&work.words, LABEL - 1.0, Weight::Regular, CELL.0 - 10.0) {
        drawing.text(left, y, plain, &line);
        y += 18.0;
    }
    let hole = section(&work.shape);
    let Some((path, seen)) = window(&work.outline, hole) else {
        return;
    };
    let scale = (ROOM.0 / seen.width()).min(ROOM.1 / seen.height());
    let origin = (left + 26.0 - seen.x0 * scale, y + 8.0 + seen.y1 * scale);
    let view = Affine::new([scale, 0.0, 0.0, -scale, origin.0, origin.1]);
    let solid = view * path;
    drawing.path(solid.clone(), Some((CATEGORIES[1], 0.20)), None);
    let lines = hatch::lines(
        &solid,
        Hatch {
            angle_deg: 45.0,
            spacing: 7.0,
        },
    );
    drawing.path(lines, None, Some(Stroke::line(CATEGORIES[1], 0.9)));
    drawing.path(solid, None, Some(Stroke::line(INK, 1.3)));
    let drawn = (view * hole.to_path(0.1)).bounding_box();
    drawing.fill(drawn, PAPER, 1.0);
    drawing.path(drawn.to_path(0.1), None, Some(Stroke::line(INK, 1.5)));
    dimensions(drawing, hole, drawn, view.transform_rect_bbox(seen));
}

/// The outline cut down to what surrounds the work, where the piece is much larger; with its extent.
fn window(outline: &str, hole: Rect) -> Option<(BezPath, Rect)> {
    let path = BezPath::from_svg(outline).ok()?;
    let whole = path.bounding_box();
    let finite = [whole, hole]
        .iter()
        .all(|r| [r.x0, r.y0, r.x1, r.y1].iter().all(|v| v.is_finite()));
    if !finite || whole.width() <= 0.0 || whole.height() <= 0.0 {
        return None;
    }
    let most = AROUND * hole.width().max(hole.height()).max(1.0);
    let around = hole.inflate(most, most).intersect(whole);
    // A piece hardly larger than its surroundings is shown whole.
    if around.area() > 0.5 * whole.area() {
        return Some((path, whole.union(hole)));
    }
    Some((clipped(&path, around), around.union(hole)))
}

/// The part of an outline inside a rectangle, as level strips: exact enough for a picture.
fn clipped(path: &BezPath, to: Rect) -> BezPath {
    const STRIPS: usize = 160;
    let strips = Hatch {
        angle_deg: 0.0,
        spacing: to.height() / STRIPS as f64,
    };
    let lines = hatch::lines(path, strips);
    let mut out = BezPath::new();
    for segment in lines.segments() {
        let (a, b) = (
            kurbo::ParamCurve::start(&segment),
            kurbo::ParamCurve::end(&segment),
        );
        let (x0, x1) = (a.x.min(b.x).max(to.x0), a.x.max(b.x).min(to.x1));
        let half = strips.spacing / 2.0;
        if x1 > x0 && a.y > to.y0 && a.y < to.y1 {
            out.extend(Rect::new(x0, a.y - half, x1, a.y + half).to_path(0.1));
        }
    }
    out
}

/// Depth along the axle and across, each beside the hole.
fn dimensions(drawing: &mut Drawing, hole: Rect, drawn: Rect, seen: Rect) {
    let style = Style::plain(LABEL - 1.0, INK);
    let line = Stroke::line(INK, 0.9);
    let y = seen.y1 + 12.0;
    for x in [drawn.x0, drawn.x1] {
        drawing.line((x, drawn.y1), (x, y + 4.0), Stroke::line(PENCIL, 0.6));
    }
    drawing.line((drawn.x0, y), (drawn.x1, y), line);
    let along = rounding::places(hole.width(), 2, "mm");
    let middle = (drawn.x0 + drawn.x1) / 2.0;
    drawing.anchored(middle, y + 17.0, style, Anchor::Middle, &along);
    let x = seen.x1 + 12.0;
    for y in [drawn.y0, drawn.y1] {
        drawing.line((drawn.x1, y), (x + 4.0, y), Stroke::line(PENCIL, 0.6));
    }
    drawing.line((x, drawn.y0), (x, drawn.y1), line);
    let high = rounding::places(hole.height(), 2, "mm");
    let middle = (drawn.y0 + drawn.y1) / 2.0;
    drawing.text(x + 7.0, middle + 5.0, style, &high);
}

#[cfg(test)]
mod tests {
    use super::*;

    const RING: &str = "M 13.5 24 L 21.5 24 L 21.5 29 L 13.5 29 Z";

    #[test]
    fn law_a_hole_keeps_its_place_in_the_cut() {
        let hole = section(&FeatureShape::AxialCylinder {
            diameter_mm: 2.0,
            radius_mm: 26.5,
            angle_deg: 30.0,
            x_mm: (21.5, 18.0),
        });
        assert_eq!(hole, Rect::new(18.0, 25.5, 21.5, 27.5));
        let (_, seen) = window(RING, hole).expect("a ring");
        assert_eq!(seen, Rect::new(13.5, 24.0, 21.5, 29.0));
    }

    #[test]
    fn law_a_large_piece_is_shown_near_the_hole_alone() {
        let plate = "M 0 0 L 100 0 L 100 100 L 0 100 Z";
        let hole = Rect::new(97.0, 50.0, 100.0, 52.0);
        let (path, seen) = window(plate, hole).expect("a plate");
        assert!(seen.width() < 12.0 && seen.height() < 20.0, "{seen:?}");
        // The strips fill the window to within one of them.
        let filled: f64 = kurbo::Shape::area(&path).abs();
        assert!((filled / seen.area() - 1.0).abs() < 2.0 / 160.0, "{filled}");
    }

    #[test]
    fn law_what_is_no_outline_is_left_out() {
        assert!(window("M 0 0", Rect::new(0.0, 0.0, 1.0, 1.0)).is_none());
        assert!(window("nonsense", Rect::ZERO).is_none());
    }
}
