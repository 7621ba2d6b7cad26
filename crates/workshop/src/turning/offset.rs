//! Offset advice: where the next piece will be, from those made since the last offset.

use super::body::{Offset, OffsetAdvice};
use super::dimension::{Dimension, Surface};
use super::given::Given;
use super::sensitivity::Piece;

/// Pieces needed before anything is said: a line has two unknowns, and its spread one more.
const LEAST_PIECES: usize = 5;
/// The level must be off by so many of its own standard deviations.
const SURE_SIGMAS: f64 = 2.0;

/// What to offset for the pieces to come; none while nothing is sure or it is less than half a step.
///
/// A straight line through the masses in the order they were made (least squares) is followed to the
/// next piece. The advice is one number off one line: give it once, and start counting again after it,
/// or the same drift is corrected twice.
#[must_use]
pub(super) fn offset(
    given: &Given,
    piece: &Piece,
    allowed: &[&Dimension],
    wanted_g: f64,
    masses_g: &[f64],
) -> Option<OffsetAdvice> {
    let count = masses_g.len();
    if count < LEAST_PIECES {
        return None;
    }
    let line = Line::through(masses_g);
    let level_g = line.next - wanted_g;
    let level_sd_g = line.next_sd.hypot(given.scale_sd_g / (count as f64).sqrt());
    if level_g.abs() <= SURE_SIGMAS * level_sd_g {
        return None;
    }
    let offsets: Vec<Offset> = allowed
        .iter()
        .filter_map(|of| {
            let size = -level_g / piece.gram_per_mm(of);
            let steps = (size / given.step_mm).round();
            (steps != 0.0).then(|| Offset {
                name: of.name.clone(),
                size_mm: steps * given.step_mm,
            })
        })
        .collect();
    if offsets.is_empty() {
        return None;
    }
    let per_hundred_g = 100.0 * line.slope;
    let tools: Vec<String> = offsets.iter().map(|o| told(o, allowed)).collect();
    let words = format!(
        "offset {}: the next piece is expected {:+.3} g off (± {:.3} g), drifting {per_hundred_g:+.3} g a hundred; give it once, then weigh new pieces before you ask again",
        tools.join(", or "),
        level_g,
        level_sd_g
    );
    Some(OffsetAdvice {
        pieces_count: count,
        level_g,
        level_sd_g,
        per_hundred_g,
        offsets,
        words,
    })
}

fn told(offset: &Offset, allowed: &[&Dimension]) -> String {
    let of = allowed.iter().find(|d| d.name == offset.name);
    let on = match of.map(|d| d.surface) {
        Some(Surface::Outside | Surface::Bore) => " on the diameter",
        _ => "",
    };
    let sign = if offset.size_mm < 0.0 { '−' } else { '+' };
    format!("{} {sign}{:.3} mm{on}", offset.name, offset.size_mm.abs())
}

/// A straight line by least squares over 0, 1, 2, …
struct Line {
    slope: f64,
    /// Its value one beyond the last, and the standard deviation of that.
    next: f64,
    next_sd: f64,
}

impl Line {
    fn through(values: &[f64]) -> Self {
        let n = values.len() as f64;
        let middle = 0.5 * (n - 1.0);
        let mean = values.iter().sum::<f64>() / n;
        let away = |k: usize| k as f64 - middle;
        // The sum of squares of equally spaced places.
        let spread = n * (n * n - 1.0) / 12.0;
        let product: f64 = values
            .iter()
            .enumerate()
            .map(|(k, v)| away(k) * (v - mean))
            .sum();
        let slope = product / spread;
        let rest = |(k, v): (usize, &f64)| v - mean - slope * away(k);
        let squares: f64 = values.iter().enumerate().map(|p| rest(p).powi(2)).sum();
        let sd = (squares / (n - 2.0)).sqrt();
        let ahead = n - middle;
        Self {
            slope,
            next: mean + slope * ahead,
            next_sd: sd * (1.0 / n + ahead * ahead / spread).sqrt(),
        }
    }
}
