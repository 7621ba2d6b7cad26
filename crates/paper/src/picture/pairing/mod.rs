//! Who with whom: each set as a point, left mass across and right mass up, beside the differences.

mod differences;
mod sides;

use kurbo::BezPath;
use whirlwright_workshop::pairing::{PairBody, PairSet};
use whirlwright_workshop::part::LotPart;

use super::{LABEL, WIDTH};
use crate::ink::{Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, INK, PENCIL};
use crate::rounding;

/// Upper edge of both fields.
const TOP: f64 = 56.0;
/// Lower edge of both fields.
const FOOT: f64 = TOP + 300.0;
const HEIGHT: f64 = FOOT + 84.0;

/// Who with whom as SVG.
#[must_use]
pub fn pairing(body: &PairBody) -> String {
    pairing_drawing(body, &[]).to_svg()
}

/// Who with whom, with the parts that were asked about: those left over are marked where they
/// would lie beside an equal partner.
#[must_use]
pub fn pairing_drawing(body: &PairBody, parts: &[LotPart]) -> Drawing {
    let masses = masses(&body.sets);
    let alone = alone(body, parts);
    let mut drawing = Drawing::new(WIDTH, HEIGHT, "Who with whom", &description(body, &masses));
    let head = Style::bold(LABEL + 2.0, INK);
    drawing.text(12.0, 26.0, head, "Mass of the two sides, in g");
    if masses.is_empty() {
        let style = Style::plain(LABEL, PENCIL);
        drawing.text(12.0, 56.0, style, "No set with a mass on both sides.");
        drawing.height = 80.0;
        return drawing;
    }
    drawing.text(
        differences::FIELD.x0,
        26.0,
        head,
        "Difference right − left, in g",
    );
    sides::draw(&mut drawing, body, &masses, &alone);
    differences::draw(&mut drawing, body, &masses);
    drawing
}

/// The two masses of a set, in g.
struct Masses {
    number: u32,
    left: f64,
    right: f64,
    within: bool,
}

fn masses(sets: &[PairSet]) -> Vec<Masses> {
    let both = |set: &PairSet| {
        let (left, right) = (set.left_mass_g?, set.right_mass_g?);
        let known = left.is_finite() && right.is_finite();
        known.then_some(Masses {
            number: set.number,
            left,
            right,
            within: set.within_limits,
        })
    };
    sets.iter().filter_map(both).collect()
}

/// Masses of whole sides that found no partner; a half or a rim alone is no side.
fn alone(body: &PairBody, parts: &[LotPart]) -> Vec<(String, f64)> {
    use whirlwright_workshop::part::Kind;
    let left: std::collections::BTreeSet<&str> = body.unpaired.iter().map(String::as_str).collect();
    parts
        .iter()
        .filter(|p| {
            matches!(p.kind, Kind::Dressed | Kind::Other) && left.contains(p.serial.as_str())
        })
        .filter_map(|p| Some((p.serial.clone(), p.mass_g?.to_f64())))
        .collect()
}

fn description(body: &PairBody, masses: &[Masses]) -> String {
    let worst = masses
        .iter()
        .map(|m| (m.right - m.left).abs())
        .fold(0.0, f64::max);
    format!(
        "{}, {} without a set; the largest difference of mass in a set is {}.",
        rounding::count(body.set_count, "set", "sets"),
        rounding::count(body.unpaired.len(), "part", "parts"),
        rounding::places(worst, 3, "g")
    )
}

/// A set inside its limits.
fn mark_good(drawing: &mut Drawing, at: (f64, f64), size: f64) {
    drawing.disc(at, size, Some((CATEGORIES[0], 0.75)), None);
}

/// A set outside a limit: another shape, so that the colour only repeats it.
fn mark_outside(drawing: &mut Drawing, at: (f64, f64), size: f64) {
    drawing.path(diamond(at, size + 2.0), Some((CATEGORIES[5], 1.0)), None);
}

/// A part without a set: an empty ring.
fn mark_alone(drawing: &mut Drawing, at: (f64, f64)) {
    drawing.disc(at, 4.5, None, Some(limit_line()));
}

/// The line by which limits are drawn.
fn limit_dashes() -> Stroke {
    Stroke::dashed(CATEGORIES[5], 1.5, 6.0, 4.0)
}

fn limit_line() -> Stroke {
    Stroke::line(CATEGORIES[5], 1.6)
}

fn diamond(at: (f64, f64), r: f64) -> BezPath {
    let mut path = BezPath::new();
    path.move_to((at.0, at.1 - r));
    path.line_to((at.0 + r, at.1));
    path.line_to((at.0, at.1 + r));
    path.line_to((at.0 - r, at.1));
    path.close_path();
    path
}
