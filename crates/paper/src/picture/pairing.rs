//! Who with whom: each set as a point, left mass across and right mass up, beside the differences.

use kurbo::{BezPath, Rect};
use whirlwright_workshop::pairing::{PairBody, PairSet};
use whirlwright_workshop::part::LotPart;

use super::axis::Axis;
use super::{LABEL, WIDTH};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, INK, PENCIL, RULE, WASH};
use crate::{asked, rounding};

/// Side of the square with the sets.
const SIDE: f64 = 300.0;
const SQUARE: Rect = Rect::new(74.0, 56.0, 74.0 + SIDE, 56.0 + SIDE);
/// The differences stand to its right.
const BARS: Rect = Rect::new(452.0, 56.0, WIDTH - 20.0, 56.0 + SIDE);
const HEIGHT: f64 = 56.0 + SIDE + 84.0;

const PAIRED: usize = 0;
const ALONE: usize = 5;

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
    drawing.text(BARS.x0, 26.0, head, "Difference right − left, in g");
    draw_square(&mut drawing, body, &masses, &alone);
    draw_differences(&mut drawing, body, &masses);
    drawing
}

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

fn draw_square(drawing: &mut Drawing, body: &PairBody, masses: &[Masses], alone: &[(String, f64)]) {
    let all = || {
        masses
            .iter()
            .flat_map(|m| [m.left, m.right])
            .chain(alone.iter().map(|a| a.1))
    };
    let (low, high) = (
        all().fold(f64::INFINITY, f64::min),
        all().fold(f64::NEG_INFINITY, f64::max),
    );
    let room = ((high - low) * 0.06).max(0.01);
    let across = Axis::new(low - room, high + room, SQUARE.x0, SQUARE.x1);
    let up = Axis::new(low - room, high + room, SQUARE.y1, SQUARE.y0);
    if let Some(limit) = asked::mass_within_g(body) {
        drawing.path(band(&across, &up, limit), Some((CATEGORIES[2], 0.16)), None);
        drawing.note(&format!("within {}", rounding::figures(limit, 3, "g")));
    }
    draw_grid(drawing, &across, &up);
    draw_window(drawing, body, &across, &up);
    let hair = Stroke::dashed(RULE, 1.0, 5.0, 4.0);
    drawing.line((SQUARE.x0, SQUARE.y1), (SQUARE.x1, SQUARE.y0), hair);
    let size = if masses.len() > 400 { 2.2 } else { 3.4 };
    for m in masses {
        let at = (across.at(m.left), up.at(m.right));
        if m.within {
            drawing.disc(at, size, Some((CATEGORIES[PAIRED], 0.75)), None);
        } else {
            drawing.path(
                diamond(at, size + 2.0),
                Some((CATEGORIES[ALONE], 1.0)),
                None,
            );
        }
        let (left, right) = (
            rounding::places(m.left, 3, "g"),
            rounding::places(m.right, 3, "g"),
        );
        drawing.note(&format!("set {}: left {left}, right {right}", m.number));
    }
    for (serial, mass) in alone {
        let at = (across.at(*mass), up.at(*mass));
        drawing.disc(at, 4.5, None, Some(Stroke::line(CATEGORIES[ALONE], 1.6)));
        drawing.note(&format!(
            "{serial}: {}, no set",
            rounding::places(*mass, 3, "g")
        ));
    }
    drawing.frame(SQUARE, Stroke::line(RULE, 1.0));
    draw_words(drawing, body, masses, alone);
}

/// The strip about the diagonal in which the two sides differ by no more than the limit.
fn band(across: &Axis, up: &Axis, limit: f64) -> BezPath {
    let (low, high) = (across.from, across.to);
    // Corners of the strip, walked round: cut where it leaves the square.
    let limit = limit.min(high - low);
    let corners = [
        (low, low),
        (low + limit, low),
        (high, high - limit),
        (high, high),
        (high - limit, high),
        (low, low + limit),
    ];
    let mut path = BezPath::new();
    for (n, (left, right)) in corners.into_iter().enumerate() {
        let at = (across.at(left), up.at(right));
        if n == 0 {
            path.move_to(at)
        } else {
            path.line_to(at)
        }
    }
    path.close_path();
    path
}

/// Where the two sides together leave the window for the piece: two falling lines.
fn draw_window(drawing: &mut Drawing, body: &PairBody, across: &Axis, up: &Axis) {
    let Some((least, most)) = asked::piece_window_g(body) else {
        return;
    };
    for sum in [least, most] {
        // left + right = sum, as far as it runs through the square.
        let from = (sum - across.to).max(across.from);
        let to = (sum - across.from).min(across.to);
        if from < to {
            let ends = [from, to].map(|left| (across.at(left), up.at(sum - left)));
            drawing.line(
                ends[0],
                ends[1],
                Stroke::dashed(CATEGORIES[ALONE], 1.5, 6.0, 4.0),
            );
            let said = rounding::places(sum, rounding::shared_places([sum], 3), "g");
            drawing.note(&format!("the two sides together {said}"));
        }
    }
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

fn draw_grid(drawing: &mut Drawing, across: &Axis, up: &Axis) {
    let style = Style::plain(LABEL - 1.0, PENCIL);
    let (ticks, places) = across.ticks(4);
    for tick in ticks {
        let (x, y) = (across.at(tick), up.at(tick));
        drawing.line((x, SQUARE.y0), (x, SQUARE.y1), Stroke::line(WASH, 1.0));
        drawing.line((SQUARE.x0, y), (SQUARE.x1, y), Stroke::line(WASH, 1.0));
        let label = rounding::number(tick, places);
        drawing.anchored(x, SQUARE.y1 + 18.0, style, Anchor::Middle, &label);
        drawing.anchored(SQUARE.x0 - 6.0, y + 5.0, style, Anchor::End, &label);
    }
    let middle = SQUARE.center();
    drawing.anchored(
        middle.x,
        SQUARE.y1 + 38.0,
        style,
        Anchor::Middle,
        "left side, g",
    );
    drawing.upward(18.0, middle.y, style, "right side, g");
}

/// The legend in words, under the square.
fn draw_words(drawing: &mut Drawing, body: &PairBody, masses: &[Masses], alone: &[(String, f64)]) {
    let style = Style::plain(LABEL - 1.0, INK);
    let y = SQUARE.y1 + 64.0;
    let mut x = SQUARE.x0;
    let mut entry = |drawing: &mut Drawing, text: &str, mark: &dyn Fn(&mut Drawing, (f64, f64))| {
        mark(drawing, (x + 6.0, y - 5.0));
        drawing.text(x + 18.0, y, style, text);
        x += 18.0 + style.width(text) + 22.0;
    };
    entry(drawing, "a set", &|d, at| {
        d.disc(at, 4.0, Some((CATEGORIES[PAIRED], 0.75)), None)
    });
    if masses.iter().any(|m| !m.within) {
        entry(drawing, "a set outside a limit", &|d, at| {
            d.path(diamond(at, 5.5), Some((CATEGORIES[ALONE], 1.0)), None);
        });
    }
    if !alone.is_empty() {
        entry(drawing, "no set", &|d, at| {
            d.disc(at, 4.5, None, Some(Stroke::line(CATEGORIES[ALONE], 1.6)));
        });
    }
    if let Some(limit) = asked::mass_within_g(body) {
        let text = format!("within {}", rounding::figures(limit, 2, "g"));
        entry(drawing, &text, &|d, at| {
            let swatch = Rect::new(at.0 - 7.0, at.1 - 5.0, at.0 + 7.0, at.1 + 5.0);
            d.fill(swatch, CATEGORIES[2], 0.3);
        });
    }
}

/// The differences counted in bins no finer than the readings, with the limits.
fn draw_differences(drawing: &mut Drawing, body: &PairBody, masses: &[Masses]) {
    let limit = asked::mass_within_g(body);
    let differences: Vec<f64> = masses.iter().map(|m| m.right - m.left).collect();
    let figures = rounding::shared_places(differences.iter().copied(), 4);
    let worst = differences.iter().map(|d| d.abs()).fold(0.0, f64::max);
    let reach = worst.max(limit.unwrap_or(0.0)).max(1e-6);
    let step = 10f64.powi(-(figures as i32));
    // An odd number of bins, so that equal masses fall into the middle one.
    let bin = step * ((2.0 * reach / step / 25.0).ceil()).max(1.0);
    let side = (reach / bin).ceil() as usize + 1;
    let mut counts = vec![0usize; 2 * side + 1];
    for difference in &differences {
        let n = (difference / bin).round() as i64 + side as i64;
        if let Some(count) = usize::try_from(n).ok().and_then(|n| counts.get_mut(n)) {
            *count += 1;
        }
    }
    let half = (side as f64 + 0.5) * bin;
    let across = Axis::new(-half, half, BARS.x0, BARS.x1);
    let highest = counts.iter().copied().max().unwrap_or(1).max(1);
    let up = Axis::new(0.0, highest as f64 * 1.08, BARS.y1, BARS.y0);
    for (n, count) in counts.iter().enumerate().filter(|(_, count)| **count > 0) {
        let middle = (n as f64 - side as f64) * bin;
        let bar = Rect::new(
            across.at(middle - bin / 2.0) + 0.6,
            up.at(*count as f64),
            across.at(middle + bin / 2.0) - 0.6,
            BARS.y1,
        );
        drawing.fill(bar, CATEGORIES[PAIRED], 0.75);
        let sets = rounding::count(*count, "set", "sets");
        drawing.note(&format!(
            "{sets} at {} g",
            rounding::signed(middle, figures)
        ));
    }
    draw_bars_frame(drawing, &across, &up, limit, highest);
}

fn draw_bars_frame(
    drawing: &mut Drawing,
    across: &Axis,
    up: &Axis,
    limit: Option<f64>,
    highest: usize,
) {
    let style = Style::plain(LABEL - 1.0, PENCIL);
    drawing.line(
        (BARS.x0, BARS.y1),
        (BARS.x1, BARS.y1),
        Stroke::line(RULE, 1.0),
    );
    let (ticks, places) = across.ticks(4);
    for tick in ticks {
        let x = across.at(tick);
        drawing.line((x, BARS.y1), (x, BARS.y1 + 5.0), Stroke::line(RULE, 1.0));
        let label = rounding::signed(tick, places);
        drawing.anchored(x, BARS.y1 + 18.0, style, Anchor::Middle, &label);
    }
    drawing.anchored(
        (BARS.x0 + BARS.x1) / 2.0,
        BARS.y1 + 38.0,
        style,
        Anchor::Middle,
        "right − left, g",
    );
    let top = up.at(highest as f64);
    let most = rounding::count(highest, "set", "sets");
    drawing.anchored(BARS.x0 - 8.0, top + 5.0, style, Anchor::End, &most);
    for edge in limit.into_iter().flat_map(|limit| [-limit, limit]) {
        let x = across.at(edge);
        drawing.line(
            (x, BARS.y0 - 4.0),
            (x, BARS.y1),
            Stroke::dashed(CATEGORIES[ALONE], 1.5, 6.0, 4.0),
        );
        let label = format!(
            "{} g",
            rounding::signed(edge, rounding::shared_places([edge], 3))
        );
        drawing.anchored(x, BARS.y0 - 9.0, style, Anchor::Middle, &label);
    }
}
