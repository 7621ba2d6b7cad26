//! The middle line on the half's section, as thick as the wall it stands for.

use kurbo::{Affine, BezPath};
use whirlwright_workshop::moulding::{MiddlePoint, MouldBody, MouldView};

use crate::ink::{Drawing, Stroke, Style};
use crate::palette::{INK, PENCIL, RULE, WASH, category};
use crate::picture::{LABEL, WIDTH};
use crate::rounding;

/// Edges of the section.
const LEFT: f64 = 60.0;
const TOP: f64 = 48.0;
const TALL: f64 = 380.0;
const WIDE: f64 = 420.0;

/// The section with its middle line.
#[must_use]
pub fn middle_drawing(body: &MouldBody, view: &MouldView) -> Drawing {
    let title = "The wall as it is reckoned";
    let mut drawing = Drawing::new(WIDTH, TOP + TALL + 46.0, title, &description(body));
    drawing.text(12.0, 26.0, Style::bold(LABEL + 2.0, INK), title);
    let Some(place) = Place::of(&body.middle) else {
        return drawing;
    };
    if let Ok(outline) = BezPath::from_svg(&view.outline) {
        let affine = Affine::new([place.scale, 0.0, 0.0, -place.scale, place.x, place.y]);
        drawing.path(
            affine * &outline,
            Some((WASH, 1.0)),
            Some(Stroke::line(RULE, 1.2)),
        );
    }
    let mut names: Vec<&str> = Vec::new();
    for point in &body.middle {
        if !names.contains(&point.stretch.as_str()) {
            names.push(&point.stretch);
        }
        let look = names.iter().position(|n| *n == point.stretch).unwrap_or(0);
        let at = place.at(point);
        let radius = 0.5 * point.wall_mm * place.scale;
        drawing.disc(at, radius, None, Some(Stroke::line(category(look), 0.9)));
        drawing.disc(at, 2.4, Some((category(look), 1.0)), None);
        drawing.note(&format!(
            "wall {}",
            rounding::places(point.wall_mm, 2, "mm")
        ));
    }
    list(&mut drawing, body, &names);
    drawing.line(
        (LEFT, place.y),
        (LEFT + WIDE, place.y),
        Stroke::dashed(PENCIL, 1.0, 12.0, 4.0),
    );
    drawing.text(
        LEFT,
        place.y + 18.0,
        Style::plain(LABEL - 1.0, PENCIL),
        "axle",
    );
    drawing
}

struct Place {
    scale: f64,
    x: f64,
    y: f64,
}

impl Place {
    fn of(points: &[MiddlePoint]) -> Option<Self> {
        let reach = points
            .iter()
            .map(|p| p.radius_mm + 0.5 * p.wall_mm)
            .reduce(f64::max)?;
        let from = points
            .iter()
            .map(|p| p.axial_mm - 0.5 * p.wall_mm)
            .reduce(f64::min)?;
        let to = points
            .iter()
            .map(|p| p.axial_mm + 0.5 * p.wall_mm)
            .reduce(f64::max)?;
        let scale = (TALL / reach).min(WIDE / (to - from));
        scale.is_finite().then_some(Self {
            scale,
            x: LEFT - from * scale + 0.5 * (WIDE - (to - from) * scale),
            y: TOP + TALL,
        })
    }

    fn at(&self, point: &MiddlePoint) -> (f64, f64) {
        (
            self.x + point.axial_mm * self.scale,
            self.y - point.radius_mm * self.scale,
        )
    }
}

/// The stretches with their walls, at the right.
fn list(drawing: &mut Drawing, body: &MouldBody, names: &[&str]) {
    let left = LEFT + WIDE + 24.0;
    for (n, name) in names.iter().enumerate() {
        let y = TOP + 24.0 + 46.0 * n as f64;
        let of = body
            .middle
            .iter()
            .filter(|p| p.stretch == **name)
            .map(|p| p.wall_mm);
        let (least, most) = of.fold((f64::INFINITY, 0.0), |(a, b): (f64, f64), w| {
            (a.min(w), b.max(w))
        });
        drawing.disc(
            (left, y - 5.0),
            6.0,
            Some((category(n), 1.0)),
            Some(Stroke::line(INK, 0.8)),
        );
        drawing.text(left + 14.0, y, Style::bold(LABEL, INK), name);
        let said = format!(
            "wall {} to {}",
            rounding::places(least, 2, "mm"),
            rounding::places(most, 2, "mm")
        );
        drawing.text(
            left + 14.0,
            y + 18.0,
            Style::plain(LABEL - 1.0, PENCIL),
            &said,
        );
    }
}

fn description(body: &MouldBody) -> String {
    format!(
        "{} points of the middle line; walls from {} to {}.",
        body.middle.len(),
        rounding::places(
            body.middle
                .iter()
                .map(|p| p.wall_mm)
                .fold(f64::INFINITY, f64::min),
            2,
            "mm"
        ),
        rounding::places(
            body.middle.iter().map(|p| p.wall_mm).fold(0.0, f64::max),
            2,
            "mm"
        )
    )
}
