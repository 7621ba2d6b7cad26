//! The cut through the axle. Always the same: axle level, gap in the middle, radius upward, the
//! right side mirrored on the left; above the axle hatched, below it faint.

use kurbo::{Affine, BezPath, Rect, Shape as _};
use whirlwright_workshop::design::{CutOutline, SectionBody};
use whirlwright_workshop::part::job::MaterialKind;

use super::pieces::{Piece, pieces};
use super::{LABEL, WIDTH};
use crate::font::{self, Weight};
use crate::ink::hatch::{self, Hatch};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, Colour, INK, PENCIL, RULE};
use crate::{rounding, words};

/// The space in which the cut is drawn; left of it stands the diameter, below it the width.
const AREA: Rect = Rect::new(78.0, 44.0, 452.0, 470.0);
/// Left edge of the legend.
const LEGEND: f64 = 486.0;
/// Height of a legend entry of two lines.
const ENTRY: f64 = 46.0;

/// The cut as SVG.
#[must_use]
pub fn cut(body: &SectionBody) -> String {
    cut_drawing(body).to_svg()
}

/// The cut.
#[must_use]
pub fn cut_drawing(body: &SectionBody) -> Drawing {
    let pieces = pieces(body);
    let title = format!("Cut through the axle of {}", body.name);
    let mut drawing = Drawing::new(WIDTH, 0.0, &title, &description(body, &pieces));
    let view = View::new(body);
    drawing.text(
        12.0,
        26.0,
        Style::bold(LABEL + 2.0, INK),
        "Cut through the axle",
    );
    for outline in &body.cut.outlines {
        let (colour, hatch) = look(&pieces, outline);
        draw_outline(&mut drawing, &view, outline, colour, hatch);
    }
    let bottom = draw_axle(&mut drawing, &view, body);
    draw_dimensions(&mut drawing, &view, body);
    draw_centre(&mut drawing, view.at(body.centre_of_mass_mm, 0.0));
    let legend = draw_legend(&mut drawing, body, &pieces);
    let bar = draw_scale_bar(&mut drawing, &view, bottom.max(legend - 30.0));
    drawing.height = bar.max(legend) + 14.0;
    drawing
}

/// From mm to the drawing.
struct View {
    scale: f64,
    centre: (f64, f64),
    reach_mm: f64,
    radius_mm: f64,
}

impl View {
    fn new(body: &SectionBody) -> Self {
        let known = |length: f64| {
            if length.is_finite() && length > 0.0 {
                length
            } else {
                1.0
            }
        };
        let (reach_mm, radius_mm) = (known(body.cut.reach_mm), known(body.cut.radius_mm));
        let scale = (AREA.width() / (2.0 * reach_mm)).min(AREA.height() / (2.0 * radius_mm));
        // What is flatter than the space is drawn at its top.
        let centre = (AREA.center().x, AREA.y0 + radius_mm * scale + 20.0);
        Self {
            scale,
            centre,
            reach_mm,
            radius_mm,
        }
    }

    fn at(&self, along_mm: f64, radius_mm: f64) -> (f64, f64) {
        (
            self.centre.0 + along_mm * self.scale,
            self.centre.1 - radius_mm * self.scale,
        )
    }

    fn affine(&self, upward: bool) -> Affine {
        let up = if upward { -self.scale } else { self.scale };
        Affine::new([self.scale, 0.0, 0.0, up, self.centre.0, self.centre.1])
    }
}

fn description(body: &SectionBody, pieces: &[Piece]) -> String {
    let names: Vec<String> = pieces
        .iter()
        .map(|piece| {
            format!(
                "{} ({}, {})",
                piece.name,
                words::material(piece.kind),
                mass(piece)
            )
        })
        .collect();
    format!(
        "{} across, {} wide, {}; centre of mass {} from the middle. Pieces: {}.",
        rounding::places(body.diameter_mm, 2, "mm"),
        rounding::places(body.width_mm, 2, "mm"),
        rounding::places(body.mass_g, 2, "g"),
        rounding::places(body.centre_of_mass_mm, 3, "mm"),
        names.join(", ")
    )
}

fn mass(piece: &Piece) -> String {
    let all = rounding::places(piece.mass_g, 2, "g");
    if piece.bodies > 1 {
        format!("{} together {all}", piece.bodies)
    } else {
        all
    }
}

/// One tint a kind of material, one hatch a piece of it.
fn look(pieces: &[Piece], outline: &CutOutline) -> (Colour, Hatch) {
    let piece = pieces.iter().find(|piece| piece.name == outline.name);
    tint(outline.kind, piece.map_or(0, |piece| piece.nth_of_kind))
}

fn tint(kind: MaterialKind, nth: usize) -> (Colour, Hatch) {
    let (colour, first) = match kind {
        MaterialKind::Polymer => (CATEGORIES[0], 0),
        MaterialKind::Metal => (CATEGORIES[1], 1),
        MaterialKind::Elastomer => (CATEGORIES[2], 2),
        MaterialKind::Bought => (CATEGORIES[3], 3),
        MaterialKind::Unknown => (CATEGORIES[4], 4),
    };
    // Steps of two keep the angle within a material apart from its neighbours' for long.
    (colour, hatch::of_category(first + nth * 2 + nth / 3))
}

fn draw_outline(
    drawing: &mut Drawing,
    view: &View,
    outline: &CutOutline,
    colour: Colour,
    hatch: Hatch,
) {
    // A path that cannot be read is left out; the station that wrote it has tests for that.
    let Ok(path) = BezPath::from_svg(&outline.path) else {
        return;
    };
    let below = view.affine(false) * &path;
    drawing.path(below, Some((colour, 0.12)), Some(Stroke::line(RULE, 0.7)));
    let above = view.affine(true) * path;
    drawing.path(above.clone(), Some((colour, 0.30)), None);
    drawing.note(&format!(
        "{}, {}",
        outline.name,
        words::material(outline.kind)
    ));
    drawing.path(
        hatch::lines(&above, hatch),
        None,
        Some(Stroke::line(colour, 0.9)),
    );
    drawing.path(above, None, Some(Stroke::line(INK, 1.3)));
}

/// The axle's line, the middle of the gap and the two sides' names; gives the lowest line used.
fn draw_axle(drawing: &mut Drawing, view: &View, body: &SectionBody) -> f64 {
    let reach = view.reach_mm * view.scale;
    let (x, y) = view.centre;
    let dash = Stroke::dashed(PENCIL, 1.0, 12.0, 4.0);
    drawing.line((x - reach - 14.0, y), (x + reach + 14.0, y), dash);
    let top = y - view.radius_mm * view.scale;
    drawing.line(
        (x, top - 6.0),
        (x, 2.0 * y - top + 6.0),
        Stroke::dashed(RULE, 0.8, 4.0, 4.0),
    );
    let style = Style::plain(LABEL, PENCIL);
    drawing.anchored(x - reach / 2.0, top - 10.0, style, Anchor::Middle, "left");
    drawing.anchored(x + reach / 2.0, top - 10.0, style, Anchor::Middle, "right");
    drawing.text(x + reach + 18.0, y + 5.0, style, "axle");
    let bottom = 2.0 * y - top;
    let width = rounding::places(body.width_mm, 2, "mm");
    let half = body.width_mm / 2.0 * view.scale;
    dimension(
        drawing,
        (x - half, bottom + 20.0),
        (x + half, bottom + 20.0),
    );
    drawing.anchored(
        x,
        bottom + 38.0,
        Style::plain(LABEL, INK),
        Anchor::Middle,
        &width,
    );
    bottom + 44.0
}

fn draw_dimensions(drawing: &mut Drawing, view: &View, body: &SectionBody) {
    let (x, y) = view.centre;
    let half = body.diameter_mm / 2.0 * view.scale;
    let left = x - view.reach_mm * view.scale - 26.0;
    dimension(drawing, (left, y - half), (left, y + half));
    let said = format!("Ø {}", rounding::places(body.diameter_mm, 2, "mm"));
    drawing.upward(left - 8.0, y, Style::plain(LABEL, INK), &said);
}

/// A dimension line with an arrow at both ends.
fn dimension(drawing: &mut Drawing, from: (f64, f64), to: (f64, f64)) {
    drawing.line(from, to, Stroke::line(INK, 0.9));
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = dx.hypot(dy).max(1e-9);
    let (dx, dy) = (dx / length, dy / length);
    for (tip, sign) in [(from, 1.0), (to, -1.0)] {
        let mut arrow = BezPath::new();
        let back = (tip.0 + sign * dx * 9.0, tip.1 + sign * dy * 9.0);
        arrow.move_to(tip);
        arrow.line_to((back.0 - dy * 2.6, back.1 + dx * 2.6));
        arrow.line_to((back.0 + dy * 2.6, back.1 - dx * 2.6));
        arrow.close_path();
        drawing.path(arrow, Some((INK, 1.0)), None);
    }
}

/// The centre of mass as drawings mark it: a disc in quarters.
fn draw_centre(drawing: &mut Drawing, at: (f64, f64)) {
    const R: f64 = 8.0;
    drawing.disc(at, R, Some((crate::palette::PAPER, 1.0)), None);
    for (x, y) in [(1.0, -1.0), (-1.0, 1.0)] {
        let mut quarter = BezPath::new();
        quarter.move_to(at);
        let arc = kurbo::Arc::new(
            at,
            (R, R),
            f64::atan2(y, x) - std::f64::consts::FRAC_PI_4,
            std::f64::consts::FRAC_PI_2,
            0.0,
        );
        quarter.extend(arc.path_elements(0.01).map(|element| match element {
            kurbo::PathEl::MoveTo(p) => kurbo::PathEl::LineTo(p),
            other => other,
        }));
        quarter.close_path();
        drawing.path(quarter, Some((INK, 1.0)), None);
    }
    drawing.disc(at, R, None, Some(Stroke::line(INK, 1.3)));
}

/// Pieces with swatch, name, material and mass; gives the lowest line used.
fn draw_legend(drawing: &mut Drawing, body: &SectionBody, pieces: &[Piece]) -> f64 {
    let mut y = AREA.y0 + 20.0;
    let most = WIDTH - LEGEND - 46.0;
    for piece in pieces {
        let (colour, hatch) = tint(piece.kind, piece.nth_of_kind);
        let swatch = Rect::new(LEGEND, y - 13.0, LEGEND + 32.0, y + 13.0);
        drawing.fill(swatch, colour, 0.30);
        let lines = hatch::lines(&swatch.to_path(0.1), hatch);
        drawing.path(lines, None, Some(Stroke::line(colour, 0.9)));
        drawing.frame(swatch, Stroke::line(INK, 1.0));
        let cut = |text: &str, weight| font::fit(text, LABEL, weight, most);
        drawing.text(
            LEGEND + 42.0,
            y - 2.0,
            Style::bold(LABEL, INK),
            &cut(&piece.name, Weight::Bold),
        );
        let said = format!("{}, {}", words::material(piece.kind), mass(piece));
        let said = font::wrap(&said, LABEL - 1.0, Weight::Regular, most);
        for (n, line) in said.iter().enumerate() {
            let at = y + 15.0 + n as f64 * 17.0;
            drawing.text(LEGEND + 42.0, at, Style::plain(LABEL - 1.0, PENCIL), line);
        }
        y += ENTRY + (said.len() - 1) as f64 * 17.0;
    }
    draw_centre(drawing, (LEGEND + 16.0, y));
    let place = rounding::places(body.centre_of_mass_mm, 3, "mm");
    drawing.text(
        LEGEND + 42.0,
        y - 2.0,
        Style::bold(LABEL, INK),
        "centre of mass",
    );
    let said = format!("{place} from the middle");
    drawing.text(
        LEGEND + 42.0,
        y + 15.0,
        Style::plain(LABEL - 1.0, PENCIL),
        &said,
    );
    y + 22.0
}

/// A bar of a round length with its length in mm; gives the lowest line used.
fn draw_scale_bar(drawing: &mut Drawing, view: &View, y: f64) -> f64 {
    let longest = 140.0 / view.scale;
    let power = 10f64.powf(longest.log10().floor());
    let length = [5.0, 2.0, 1.0]
        .map(|n| n * power)
        .into_iter()
        .find(|l| *l <= longest);
    let length = length.unwrap_or(power);
    let (left, right) = (LEGEND, LEGEND + length * view.scale);
    let bar = Rect::new(left, y, right, y + 6.0);
    drawing.fill(Rect::new(left, y, (left + right) / 2.0, y + 6.0), INK, 1.0);
    drawing.frame(bar, Stroke::line(INK, 1.0));
    let style = Style::plain(LABEL - 1.0, INK);
    drawing.text(
        right + 10.0,
        y + 8.0,
        style,
        &rounding::figures(length, 1, "mm"),
    );
    y + 12.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_no_two_pieces_of_a_material_are_hatched_alike_at_first() {
        let looks: Vec<Hatch> = (0..3).map(|n| tint(MaterialKind::Metal, n).1).collect();
        assert!(looks[0] != looks[1] && looks[1] != looks[2] && looks[0] != looks[2]);
    }
}
