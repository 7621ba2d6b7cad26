//! The differences of mass, right less left, counted, with the limits.

use kurbo::Rect;
use whirlwright_workshop::pairing::PairBody;

use super::{FOOT, Masses, TOP, limit_dashes};
use crate::ink::{Anchor, Drawing, Stroke, Style};
use crate::palette::{CATEGORIES, PENCIL, RULE};
use crate::picture::axis::Axis;
use crate::picture::{LABEL, WIDTH};
use crate::{asked, rounding};

/// The field of the bars.
pub(super) const FIELD: Rect = Rect::new(452.0, TOP, WIDTH - 20.0, FOOT);
/// Most bars from the largest difference on one side to that on the other.
const MOST_BARS: f64 = 25.0;

/// Differences counted about nought.
struct Bars {
    /// Width of a bar in g; no finer than the readings.
    width_g: f64,
    /// How many bars stand on each side of the middle one.
    side: usize,
    counts: Vec<usize>,
    /// Figures behind the point that show a difference whole.
    figures: usize,
}

impl Bars {
    fn count(differences: &[f64], limit_g: Option<f64>) -> Self {
        let figures = rounding::shared_places(differences.iter().copied(), 4);
        let worst = differences.iter().map(|d| d.abs()).fold(0.0, f64::max);
        let reach = worst.max(limit_g.unwrap_or(0.0)).max(1e-6);
        let step = 10f64.powi(-(figures as i32));
        let width_g = step * (2.0 * reach / step / MOST_BARS).ceil().max(1.0);
        // An odd number of bars, so that equal masses fall into the middle one.
        let side = (reach / width_g).ceil() as usize + 1;
        let mut counts = vec![0usize; 2 * side + 1];
        for difference in differences {
            let n = (difference / width_g).round() as i64 + side as i64;
            if let Some(count) = usize::try_from(n).ok().and_then(|n| counts.get_mut(n)) {
                *count += 1;
            }
        }
        Self {
            width_g,
            side,
            counts,
            figures,
        }
    }

    fn middle_g(&self, n: usize) -> f64 {
        (n as f64 - self.side as f64) * self.width_g
    }

    fn highest(&self) -> usize {
        self.counts.iter().copied().max().unwrap_or(1).max(1)
    }
}

/// Draws the bars and the limits.
pub(super) fn draw(drawing: &mut Drawing, body: &PairBody, masses: &[Masses]) {
    let limit = asked::mass_within_g(body);
    let differences: Vec<f64> = masses.iter().map(|m| m.right - m.left).collect();
    let bars = Bars::count(&differences, limit);
    let half = (bars.side as f64 + 0.5) * bars.width_g;
    let across = Axis::new(-half, half, FIELD.x0, FIELD.x1);
    let up = Axis::new(0.0, bars.highest() as f64 * 1.08, FIELD.y1, FIELD.y0);
    for (n, count) in bars
        .counts
        .iter()
        .enumerate()
        .filter(|(_, count)| **count > 0)
    {
        let middle = bars.middle_g(n);
        let (left, right) = (
            across.at(middle - bars.width_g / 2.0),
            across.at(middle + bars.width_g / 2.0),
        );
        let bar = Rect::new(left + 0.6, up.at(*count as f64), right - 0.6, FIELD.y1);
        // A millionth of a bar of grace: a difference of just the limit is inside.
        let outside = limit.is_some_and(|limit| middle.abs() > limit + bars.width_g * 1e-6);
        drawing.fill(bar, CATEGORIES[if outside { 5 } else { 0 }], 0.75);
        let sets = rounding::count(*count, "set", "sets");
        drawing.note(&format!(
            "{sets} at {} g",
            rounding::signed(middle, bars.figures)
        ));
    }
    draw_scale(drawing, &across);
    let top = up.at(bars.highest() as f64);
    let most = rounding::count(bars.highest(), "set", "sets");
    let style = Style::plain(LABEL - 1.0, PENCIL);
    drawing.anchored(FIELD.x0 - 8.0, top + 5.0, style, Anchor::End, &most);
    draw_limits(drawing, &across, limit);
}

fn draw_scale(drawing: &mut Drawing, across: &Axis) {
    let style = Style::plain(LABEL - 1.0, PENCIL);
    drawing.line(
        (FIELD.x0, FIELD.y1),
        (FIELD.x1, FIELD.y1),
        Stroke::line(RULE, 1.0),
    );
    let (ticks, places) = across.ticks(4);
    for tick in ticks {
        let x = across.at(tick);
        drawing.line((x, FIELD.y1), (x, FIELD.y1 + 5.0), Stroke::line(RULE, 1.0));
        let label = rounding::signed(tick, places);
        drawing.anchored(x, FIELD.y1 + 18.0, style, Anchor::Middle, &label);
    }
    let middle = FIELD.center().x;
    drawing.anchored(
        middle,
        FIELD.y1 + 38.0,
        style,
        Anchor::Middle,
        "right − left, g",
    );
}

fn draw_limits(drawing: &mut Drawing, across: &Axis, limit: Option<f64>) {
    let style = Style::plain(LABEL - 1.0, PENCIL);
    for edge in limit.into_iter().flat_map(|limit| [-limit, limit]) {
        let x = across.at(edge);
        drawing.line((x, FIELD.y0 - 4.0), (x, FIELD.y1), limit_dashes());
        let figures = rounding::shared_places([edge], 3);
        let label = format!("{} g", rounding::signed(edge, figures));
        drawing.anchored(x, FIELD.y0 - 9.0, style, Anchor::Middle, &label);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_every_set_stands_in_a_bar_and_equal_masses_in_the_middle() {
        for differences in [
            vec![0.0],
            vec![0.01, -0.02, 0.14],
            vec![3.5, -0.001, 12.0],
            vec![],
        ] {
            let bars = Bars::count(&differences, Some(0.1));
            assert_eq!(bars.counts.iter().sum::<usize>(), differences.len());
            assert_eq!(bars.counts.len(), 2 * bars.side + 1);
            assert!(bars.counts.len() as f64 <= MOST_BARS + 4.0);
            assert_eq!(bars.middle_g(bars.side), 0.0);
        }
    }
}
