//! What was found against what the job allows.

use super::body::{LimitLine, OverlapLine, PieceLine};
use crate::part::job::{Job, MaterialKind, PieceLimits, Wanted};

/// The whole's numbers that can be limited.
pub(super) struct Whole {
    pub mass_g: f64,
    pub diameter_mm: f64,
    pub width_mm: f64,
    pub polar_g_mm2: f64,
    pub inertia_ratio: f64,
    pub gap_mm: Option<f64>,
}

/// Every limit with what was found.
pub(super) fn limits(
    job: &Job,
    whole: &Whole,
    pieces: &[PieceLine],
    overlaps: &[OverlapLine],
) -> Vec<LimitLine> {
    let said = &job.limits;
    let mut lines = of_whole(said, whole);
    for piece in pieces {
        let drawn = job.pieces.iter().find(|p| p.name == piece.name);
        let own = drawn.and_then(|p| p.least_wall_mm);
        // Nobody here makes the wall of a bought part; its own limit still counts.
        let bought = drawn.is_some_and(|p| p.material.kind == MaterialKind::Bought);
        if let Some(least) = own.or(said.least_wall_mm.filter(|_| !bought)) {
            lines.extend(wall(piece, least));
        }
    }
    lines.extend(overlaps.iter().map(overlap));
    lines
}

fn of_whole(said: &PieceLimits, whole: &Whole) -> Vec<LimitLine> {
    let band = |wanted: Option<Wanted>, number: &str, found: f64, unit: &str| {
        wanted.map(|w| {
            line(
                number,
                found,
                Some(w.value - w.within),
                Some(w.value + w.within),
                unit,
            )
        })
    };
    let ratio = said.inertia_ratio_at_most;
    let gap = said.least_gap_mm.zip(whole.gap_mm);
    [
        band(said.mass_g, "mass_g", whole.mass_g, "g"),
        band(said.diameter_mm, "diameter_mm", whole.diameter_mm, "mm"),
        band(said.width_mm, "width_mm", whole.width_mm, "mm"),
        band(
            said.polar_inertia_g_mm2,
            "polar_inertia_g_mm2",
            whole.polar_g_mm2,
            "g·mm²",
        ),
        ratio.map(|most| line("inertia_ratio", whole.inertia_ratio, None, Some(most), "")),
        gap.map(|(least, found)| line("gap_mm", found, Some(least), None, "mm")),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Roundings of the sums behind a found value; a limit met exactly is met.
const ROUNDING: f64 = 1e-12;

fn line(
    number: &str,
    found: f64,
    at_least: Option<f64>,
    at_most: Option<f64>,
    unit: &str,
) -> LimitLine {
    let slack = ROUNDING * found.abs();
    let inside =
        at_least.is_none_or(|l| found >= l - slack) && at_most.is_none_or(|m| found <= m + slack);
    let name = number
        .trim_end_matches("_g_mm2")
        .trim_end_matches("_mm")
        .trim_end_matches("_g");
    let name = name.replace('_', " ");
    let unit = if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    };
    let limit = match (at_least, at_most) {
        (Some(l), Some(m)) => format!("{l:.3} to {m:.3}{unit} wanted"),
        (Some(l), None) => format!("at least {l:.3}{unit} wanted"),
        (None, Some(m)) => format!("at most {m:.3}{unit} wanted"),
        (None, None) => String::new(),
    };
    let off = at_least
        .map_or(0.0, |l| (l - found).max(0.0))
        .max(at_most.map_or(0.0, |m| (found - m).max(0.0)));
    let verdict = if inside {
        "inside".to_owned()
    } else {
        format!("outside by {off:.3}{unit}")
    };
    let words = format!("{name} {found:.3}{unit}, {limit}: {verdict}");
    LimitLine {
        number: number.to_owned(),
        piece: None,
        found,
        at_least,
        at_most,
        inside,
        words,
    }
}

fn wall(piece: &PieceLine, least: f64) -> Option<LimitLine> {
    let (found, at) = piece.least_wall_mm.zip(piece.least_wall_at_mm)?;
    let mut line = line("least_wall_mm", found, Some(least), None, "mm");
    let (name, side) = (&piece.name, piece.side.word());
    line.words = format!(
        "{name} ({side}): {} (x {:.2}, radius {:.2} mm)",
        line.words, at.0, at.1
    );
    line.piece = Some(name.clone());
    Some(line)
}

fn overlap(found: &OverlapLine) -> LimitLine {
    let mut line = line(
        "overlap_mm",
        found.depth_mm,
        None,
        Some(found.allowed_mm),
        "mm",
    );
    line.words = format!(
        "{} and {}: {} (x {:.2}, radius {:.2} mm)",
        found.first, found.second, line.words, found.at_mm.0, found.at_mm.1
    );
    line.piece = Some(found.first.clone());
    line
}
