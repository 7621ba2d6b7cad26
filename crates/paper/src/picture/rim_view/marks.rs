//! Holes, pockets and pins as they are seen along the axle.

use kurbo::{Arc, BezPath, Point, Shape as _};
use whirlwright_workshop::part::job::FeatureShape;

use super::super::polar::Turn;
use super::{MIDDLE, Scale, Work, badge};
use crate::ink::hatch::{self, Hatch};
use crate::ink::{Drawing, Stroke};
use crate::palette::{CATEGORIES, INK, PAPER};

/// Draws one work and its number beside it.
pub(super) fn draw(drawing: &mut Drawing, grows: Turn, scale: &Scale, work: &Work) {
    let (outline, radius_mm, angle_deg) = outline(grows, scale, &work.shape);
    if !(radius_mm.is_finite() && angle_deg.is_finite()) {
        return;
    }
    let colour = if work.comes_off {
        CATEGORIES[5]
    } else {
        CATEGORIES[0]
    };
    drawing.path(outline.clone(), Some((PAPER, 1.0)), None);
    // What comes off is empty with a cross of lines; what comes on is hatched full.
    let hatch = Hatch {
        angle_deg: if work.comes_off { 45.0 } else { 90.0 },
        spacing: if work.comes_off { 5.0 } else { 2.5 },
    };
    drawing.path(
        hatch::lines(&outline, hatch),
        None,
        Some(Stroke::line(colour, 1.0)),
    );
    drawing.path(outline, None, Some(Stroke::line(INK, 1.4)));
    drawing.note(&work.words);
    // The number stands inside the rim, where no angle is written.
    let reach = scale.length(radius_mm) - 30.0;
    let (across, down) = grows.direction(angle_deg);
    let at = (MIDDLE.0 + across * reach, MIDDLE.1 + down * reach);
    badge(drawing, at, work);
}

/// The outline along the axle, with the radius of its inner edge and its angle.
fn outline(grows: Turn, scale: &Scale, shape: &FeatureShape) -> (BezPath, f64, f64) {
    let disc = |diameter_mm: f64, radius_mm: f64, angle_deg: f64| {
        let at = scale.at(grows, radius_mm, angle_deg);
        // A pin of a hair's breadth still shows.
        let r = (scale.length(diameter_mm) / 2.0).max(2.5);
        let path = kurbo::Circle::new(at, r).to_path(0.01);
        (path, radius_mm - diameter_mm / 2.0, angle_deg)
    };
    match *shape {
        FeatureShape::AxialCylinder {
            diameter_mm,
            radius_mm,
            angle_deg,
            ..
        }
        | FeatureShape::Ball {
            diameter_mm,
            radius_mm,
            angle_deg,
            ..
        } => disc(diameter_mm, radius_mm, angle_deg),
        FeatureShape::Point {
            radius_mm,
            angle_deg,
            ..
        } => disc(0.0, radius_mm, angle_deg),
        FeatureShape::RadialCylinder {
            diameter_mm: wide,
            radius_mm,
            angle_deg,
            ..
        }
        | FeatureShape::Box {
            width_mm: wide,
            radius_mm,
            angle_deg,
            ..
        } => {
            let path = bar(grows, scale, radius_mm, wide, angle_deg);
            (path, radius_mm.0.min(radius_mm.1), angle_deg)
        }
        FeatureShape::RingSector {
            radius_mm,
            angle_deg,
            span_deg,
            ..
        } => {
            let path = sector(grows, scale, radius_mm, angle_deg, span_deg);
            (path, radius_mm.0.min(radius_mm.1), angle_deg)
        }
    }
}

/// A bar along the radius.
fn bar(grows: Turn, scale: &Scale, radii: (f64, f64), wide: f64, angle_deg: f64) -> BezPath {
    let (across, down) = grows.direction(angle_deg);
    let half = scale.length(wide) / 2.0;
    let corner = |radius: f64, side: f64| {
        let r = scale.length(radius);
        let x = MIDDLE.0 + across * r - down * side * half;
        let y = MIDDLE.1 + down * r + across * side * half;
        Point::new(x, y)
    };
    let mut path = BezPath::new();
    path.move_to(corner(radii.0, -1.0));
    path.line_to(corner(radii.1, -1.0));
    path.line_to(corner(radii.1, 1.0));
    path.line_to(corner(radii.0, 1.0));
    path.close_path();
    path
}

/// A part of a ring.
fn sector(
    grows: Turn,
    scale: &Scale,
    radii: (f64, f64),
    middle_deg: f64,
    span_deg: f64,
) -> BezPath {
    let sense = match grows {
        Turn::Clockwise => 1.0,
        Turn::Counterclockwise => -1.0,
    };
    // Kurbo's angles start to the right and grow downward, which is clockwise on the picture.
    let start = (sense * (middle_deg - span_deg / 2.0) - 90.0).to_radians();
    let sweep = (sense * span_deg).to_radians();
    let arc = |radius: f64, start: f64, sweep: f64| {
        let r = scale.length(radius);
        Arc::new(MIDDLE, (r, r), start, sweep, 0.0).to_path(0.02)
    };
    let mut path = arc(radii.1, start, sweep);
    let back = arc(radii.0, start + sweep, -sweep);
    path.extend(back.into_iter().map(|element| match element {
        kurbo::PathEl::MoveTo(p) => kurbo::PathEl::LineTo(p),
        other => other,
    }));
    path.close_path();
    path
}
