//! The tolerance each dimension may have so that the piece keeps its mass.

use super::body::{DimensionLine, ToleranceSum};
use super::dimension::Surface;
use super::given::Given;
use crate::shelf::{GRADES, size_step, sizes_mm};

/// µm in a mm.
const UM: f64 = 1000.0;
/// The grade at which dimensions are compared: in the middle of the table, and common in turning.
const COMMON_GRADE: u32 = 9;
/// A dimension that brings less than this share of the limit at the coarsest grade may be let go.
const LITTLE_SHARE: f64 = 0.25;

/// Fills the tolerances in and gives their sums.
///
/// - **What it finds:** tolerances `tᵢ` whose masses `|sᵢ| tᵢ` sum to the limit (worst case), or whose
///   squares do (statistical), cheapest if the price of a tolerance goes with `cᵢ/tᵢ`, where `cᵢ` is
///   how hard the size is by ISO 286 (the width of one grade at that size): `tᵢ ∝ √(cᵢ/|sᵢ|)` and
///   `tᵢ ∝ ∛(cᵢ/sᵢ²)` (both by Lagrange's rule).
/// - **What must hold:** limits that stand already are counted first; what they leave is shared out.
pub(super) fn tolerances(given: &Given, lines: &mut [DimensionLine]) -> ToleranceSum {
    let limit_g = given.mass_within_g;
    let mut held_g = 0.0;
    let mut held_squares = 0.0;
    for line in lines.iter_mut() {
        let Some(limits) = held(given, line) else {
            continue;
        };
        line.held = Some(limits.0);
        let brings = line.mass_g_per_mm.abs() * limits.1;
        held_g += brings;
        held_squares += brings * brings;
        line.worst_mm = Some(limits.1);
        line.statistical_mm = Some(limits.1);
    }
    let open: Vec<usize> = (0..lines.len())
        .filter(|n| lines[*n].held.is_none() && !lines[*n].datum && lines[*n].mass_g_per_mm != 0.0)
        .collect();
    let weight = |line: &DimensionLine| (hardness_um(line), line.mass_g_per_mm.abs());
    let worst_left = (limit_g - held_g).max(0.0);
    let statistical_left = (limit_g * limit_g - held_squares).max(0.0).sqrt();
    let worst_of = |line: &DimensionLine| {
        let (hard, s) = weight(line);
        (hard / s).sqrt()
    };
    let statistical_of = |line: &DimensionLine| {
        let (hard, s) = weight(line);
        (hard / (s * s)).cbrt()
    };
    let worst_sum: f64 = open
        .iter()
        .map(|n| worst_of(&lines[*n]) * weight(&lines[*n]).1)
        .sum();
    let squares: f64 = open
        .iter()
        .map(|n| (statistical_of(&lines[*n]) * weight(&lines[*n]).1).powi(2))
        .sum();
    for n in open {
        let line = &mut lines[n];
        let worst = worst_left * worst_of(line) / worst_sum;
        let statistical = statistical_left * statistical_of(line) / squares.sqrt();
        line.worst_mm = Some(worst);
        line.statistical_mm = Some(statistical);
        line.worst_grade = grade(line, worst);
        line.statistical_grade = grade(line, statistical);
    }
    shares(lines);
    sums(lines, held_g)
}

/// The text and half the width, in mm, of limits that stand already.
fn held(given: &Given, line: &DimensionLine) -> Option<(String, f64)> {
    let of_name = |name: &str| {
        name == line.name || (line.fit && name.starts_with("bore") && line.surface == Surface::Bore)
    };
    let (_, limits) = given.held.iter().find(|(name, _)| of_name(name))?;
    Some((limits.text.clone(), 0.5 * limits.width_um() / UM))
}

/// Width of the common grade at the size; sizes beside the table are taken into it.
fn hardness_um(line: &DimensionLine) -> f64 {
    let (least, most) = sizes_mm();
    let size = line.size_mm.unwrap_or(0.0).clamp(least + 1.0 / UM, most);
    size_step(size)
        .and_then(|step| step.grade_um(COMMON_GRADE))
        .unwrap_or(1.0)
}

/// The coarsest grade that stays within a tolerance either way.
fn grade(line: &DimensionLine, either_way_mm: f64) -> Option<String> {
    let step = size_step(line.size_mm?)?;
    let fits = |g: &u32| {
        step.grade_um(*g)
            .is_some_and(|um| um <= 2.0 * either_way_mm * UM)
    };
    GRADES.rev().find(fits).map(|g| format!("IT{g}"))
}

/// Half the width of a grade in mm.
fn half_mm(line: &DimensionLine, grade: &str) -> Option<f64> {
    let step = size_step(line.size_mm?)?;
    let number = grade.trim_start_matches("IT").parse().ok()?;
    Some(0.5 * step.grade_um(number)? / UM)
}

/// What each brings at one grade for all.
fn shares(lines: &mut [DimensionLine]) {
    let mass = |l: &DimensionLine| {
        if l.datum {
            0.0
        } else {
            l.mass_g_per_mm.abs() * 0.5 * hardness_um(l) / UM
        }
    };
    let all: f64 = lines.iter().map(mass).sum();
    for line in lines.iter_mut() {
        line.mass_share = if all > 0.0 { mass(line) / all } else { 0.0 };
    }
}

fn sums(lines: &[DimensionLine], held_g: f64) -> ToleranceSum {
    let brings = |l: &DimensionLine, grade: &Option<String>, plain: Option<f64>| {
        let by_grade = grade.as_deref().and_then(|g| half_mm(l, g));
        l.mass_g_per_mm.abs() * by_grade.or(plain).unwrap_or(0.0)
    };
    let worst = lines.iter().map(|l| brings(l, &l.worst_grade, l.worst_mm));
    let statistical = lines
        .iter()
        .map(|l| brings(l, &l.statistical_grade, l.statistical_mm).powi(2));
    ToleranceSum {
        worst_g: worst.sum(),
        statistical_g: statistical.sum::<f64>().sqrt(),
        held_g,
    }
}

/// The dimension to hold, and those that may be let go.
pub(super) fn hold_and_let_go(
    given: &Given,
    lines: &[DimensionLine],
) -> (Option<String>, Vec<String>) {
    let free = || lines.iter().filter(|l| !l.datum);
    let hold = free().max_by(|a, b| a.mass_share.total_cmp(&b.mass_share));
    let coarsest = format!("IT{}", GRADES.end());
    let little = |l: &&DimensionLine| {
        let tolerance = half_mm(l, &coarsest);
        !l.fit
            && l.held.is_none()
            && tolerance
                .is_some_and(|mm| l.mass_g_per_mm.abs() * mm < LITTLE_SHARE * given.mass_within_g)
    };
    let let_go = free().filter(little).map(|l| l.name.clone()).collect();
    (hold.map(|l| l.name.clone()), let_go)
}
