//! Where a rim over its mass is cut: its section with what comes off, larger than life.

use kurbo::{Affine, BezPath, Rect, Shape as _};
use whirlwright_workshop::turning::{CutLine, RecutBody, Surface};

use super::{LABEL, WIDTH};
use crate::ink::hatch;
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, INK, PENCIL, WASH};
use crate::rounding;

/// The space the section is drawn in.
const AREA: Rect = Rect::new(190.0, 84.0, 470.0, 164.0);
/// How thick a cut is drawn: a true hundredth would not be seen.
const THICK: f64 = 9.0;
/// A place this far inside a border tells on which side the material lies.
const INSIDE_MM: f64 = 0.02;

/// The section with its cuts as SVG; `outline` is the rim's outline as an SVG path in mm.
#[must_use]
pub fn recut(body: &RecutBody, outline: &str) -> String {
    recut_drawing(body, outline).to_svg()
}

/// The section with its cuts.
#[must_use]
pub fn recut_drawing(body: &RecutBody, outline: &str) -> Drawing {
    let cuts: Vec<&CutLine> = body.cuts.iter().filter(|cut| cut.allowed).collect();
    let said: Vec<String> = cuts.iter().map(|cut| cut.words.clone()).collect();
    let title = format!("Where {} is cut", body.piece);
    let mut drawing = Drawing::new(WIDTH, AREA.y1 + 46.0, &title, &said.join("; or "));
    let heading = Style::bold(LABEL + 2.0, INK);
    drawing.text(
        12.0,
        26.0,
        heading,
        "What comes off (one of these; thickness not to scale)",
    );
    let Ok(path) = BezPath::from_svg(outline) else {
        return drawing;
    };
    let bounds = path.bounding_box();
    let scale =
        (AREA.width() / bounds.width().max(1e-6)).min(AREA.height() / bounds.height().max(1e-6));
    let at = Affine::translate((AREA.center().x, AREA.center().y))
        * Affine::scale_non_uniform(scale, -scale)
        * Affine::translate(-bounds.center().to_vec2());
    let drawn = at * path.clone();
    drawing.path(drawn.clone(), Some((WASH, 1.0)), None);
    let lines = hatch::lines(&drawn, hatch::of_category(1));
    drawing.path(lines, None, Some(Stroke::line(PENCIL, 0.7)));
    for cut in &cuts {
        strip(&mut drawing, cut, &path, at);
    }
    drawing.path(drawn.clone(), None, Some(Stroke::line(INK, 1.4)));
    let y = drawn.bounding_box().y1 + 30.0;
    let dash = Stroke::dashed(PENCIL, 1.0, 12.0, 4.0);
    drawing.line((AREA.x0 - 60.0, y), (AREA.x1 + 60.0, y), dash);
    drawing.text(
        AREA.x1 + 68.0,
        y + 5.0,
        Style::plain(LABEL - 1.0, PENCIL),
        "toward the axle",
    );
    drawing
}

/// What one cut takes: a strip along the surface, an arrow into it, and its size.
fn strip(drawing: &mut Drawing, cut: &CutLine, path: &BezPath, at: Affine) {
    let (Some(from), Some(to)) = (cut.border_mm.first(), cut.border_mm.last()) else {
        return;
    };
    let along = cut.surface == Surface::Face;
    let middle = kurbo::Point::new(0.5 * (from[0] + to[0]), 0.5 * (from[1] + to[1]));
    let probe = if along {
        kurbo::Vec2::new(INSIDE_MM, 0.0)
    } else {
        kurbo::Vec2::new(0.0, INSIDE_MM)
    };
    // Drawn upside down: radius upward is y downward.
    let sign = if path.contains(middle + probe) {
        1.0
    } else {
        -1.0
    };
    let inward = if along {
        kurbo::Vec2::new(sign, 0.0)
    } else {
        kurbo::Vec2::new(0.0, -sign)
    };
    let (a, b) = (
        at * kurbo::Point::new(from[0], from[1]),
        at * kurbo::Point::new(to[0], to[1]),
    );
    let mut off = BezPath::new();
    off.move_to(a);
    off.line_to(b);
    off.line_to(b + inward * THICK);
    off.line_to(a + inward * THICK);
    off.close_path();
    drawing.path(off, Some((CATEGORIES[5], 0.85)), None);
    drawing.note(&cut.words);
    let tip = at * middle - inward * 3.0;
    let tail = tip - inward * 26.0;
    drawing.line((tail.x, tail.y), (tip.x, tip.y), Stroke::line(INK, 1.4));
    let side = kurbo::Vec2::new(-inward.y, inward.x);
    let (left, right) = (
        tip - inward * 8.0 + side * 4.0,
        tip - inward * 8.0 - side * 4.0,
    );
    let mut head = BezPath::new();
    head.move_to(tip);
    head.line_to(left);
    head.line_to(right);
    head.close_path();
    drawing.path(head, Some((INK, 1.0)), None);
    let words = format!("{} −{}", cut.name, rounding::places(cut.set_mm, 3, "mm"));
    let style = Style::bold(LABEL, INK);
    let end = tail - inward * 8.0;
    let (x, y, anchor) = match (along, inward.x > 0.0, inward.y > 0.0) {
        (true, true, _) => (end.x, end.y + 5.0, Anchor::End),
        (true, false, _) => (end.x, end.y + 5.0, Anchor::Start),
        (false, _, true) => (end.x, end.y, Anchor::Middle),
        (false, _, false) => (end.x, end.y + 14.0, Anchor::Middle),
    };
    let words = if along {
        words
    } else {
        format!("{words} on the diameter")
    };
    drawing.anchored(x, y, style, anchor, &words);
}
