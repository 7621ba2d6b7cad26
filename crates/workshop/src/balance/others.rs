//! What every other method tells: without phase, at rest, indexed, from a recording.

use super::at_rest::{at_rest, swung};
use super::correct_body::{AtRest, Method};
use super::found::Found;
use super::given::{
    CorrectGiven, EccentricityGiven, IndexedGiven, NoPhaseGiven, Refusal, RodsGiven,
};
use super::indexing::split;
use super::no_phase::without_phase;
use super::uncertainty::{Basis, Circles, circles, propagated_lines};
use super::vectors::{Vector, at_deg, vector};
use crate::shelf::balance_rules;

/// Mean of readings, the sum of squares about it, and how many.
fn mean(values: &[f64]) -> (f64, f64, usize) {
    let mean = values.iter().sum::<f64>() / values.len().max(1) as f64;
    let squares = values.iter().map(|v| (v - mean).powi(2)).sum();
    (mean, squares, values.len())
}

/// Circles for a reckoning from plain numbers: first order by differences of one standard deviation.
fn from_numbers(
    found: &[Vector],
    numbers: &[f64],
    sds: &[f64],
    basis: &Basis,
    reckon: impl Fn(&[f64]) -> Option<Vec<Vector>>,
) -> Option<Circles> {
    let moved = |n: usize, by: f64| {
        let mut all = numbers.to_vec();
        all[n] += by;
        reckon(&all)
    };
    let mut changes = Vec::new();
    for (n, sd) in sds.iter().enumerate().filter(|(_, sd)| **sd > 0.0) {
        // A tenth of a standard deviation either way: the slope, not the bend.
        let (up, down) = (moved(n, 0.1 * sd)?, moved(n, -0.1 * sd)?);
        changes.push(up.iter().zip(&down).map(|(u, d)| (u - d) * 5.0).collect());
    }
    let lines = propagated_lines(&changes, found.len());
    Some(circles(found, &lines, basis, |draw| {
        let shaken: Vec<f64> = numbers
            .iter()
            .zip(sds)
            .map(|(x, sd)| if *sd > 0.0 { x + sd * draw().re } else { *x })
            .collect();
        reckon(&shaken)
    }))
}

/// Standard deviations of means, pooled as a share of the mean, with the degrees of freedom.
fn pooled(all: &[&[f64]]) -> (Vec<f64>, f64, u32) {
    let parts: Vec<(f64, f64, usize)> = all.iter().map(|v| mean(v)).collect();
    let freedom: u32 = parts.iter().map(|p| p.2.saturating_sub(1) as u32).sum();
    let squares: f64 = parts
        .iter()
        .filter(|p| p.0 > 0.0)
        .map(|p| p.1 / (p.0 * p.0))
        .sum();
    let share = if freedom > 0 {
        (squares / f64::from(freedom)).sqrt()
    } else {
        0.0
    };
    let sds = parts
        .iter()
        .map(|p| share * p.0 / (p.2.max(1) as f64).sqrt())
        .collect();
    (sds, share, freedom)
}

/// Runs without phase.
pub(super) fn no_phase(given: &CorrectGiven, runs: &NoPhaseGiven) -> Result<Found, Refusal> {
    let radius = given.planes[0].radius_mm;
    let masses: Vec<Vector> = runs
        .trials
        .iter()
        .map(|t| at_deg(t.mass_g * radius, t.angle_deg))
        .collect();
    let lists: Vec<&[f64]> = std::iter::once(runs.first_values.as_slice())
        .chain(runs.trials.iter().map(|t| t.values.as_slice()))
        .collect();
    let numbers: Vec<f64> = lists.iter().map(|v| mean(v).0).collect();
    let reckon = |numbers: &[f64]| {
        let trials: Vec<(Vector, f64)> = masses
            .iter()
            .copied()
            .zip(numbers[1..].iter().copied())
            .collect();
        without_phase(numbers[0], &trials)
    };
    let solved = reckon(&numbers)?;
    let mut found = Found::new(Method::WithoutPhase, vec![solved.unbalance]);
    found.other = solved.other;
    let (sds, share, freedom) = pooled(&lists);
    if freedom > 0 {
        let basis = Basis {
            noise_share: share,
            freedom: Some(freedom),
            seed: given.seed,
        };
        // Of two answers the one near the found one is followed.
        let near = |numbers: &[f64]| {
            let again = reckon(numbers).ok()?;
            let all = std::iter::once(again.unbalance).chain(again.other);
            let off = |u: &Vector| (u - solved.unbalance).norm();
            all.min_by(|a, b| off(a).total_cmp(&off(b)))
                .map(|u| vec![u])
        };
        found.circles = from_numbers(&[solved.unbalance], &numbers, &sds, &basis, near);
    }
    if solved.other.is_some() {
        found.doubts.push(
            "two trial places leave two answers that fit alike: try one with a light mass, or run a third place".to_owned(),
        );
    }
    // A tenth is far above the scatter of a rig worth the name.
    if solved.misfit_share > 0.1 {
        found.doubts.push(format!(
            "the amplitudes do not fit one another: {:.0} % of the first is left over; measure again",
            100.0 * solved.misfit_share
        ));
        found.forbids = true;
    }
    Ok(found)
}

/// At rest.
pub(super) fn rods(given: &CorrectGiven, rods: &RodsGiven) -> Result<Found, Refusal> {
    let mass_g = given.rotor.mass_g;
    let inertia = given.rotor.inertia.map(|i| i.polar_g_mm2);
    let (angle, half_spread) = at_rest(&rods.rest_angles_deg);
    let arm = rods
        .rolling_arm_um
        .unwrap_or(balance_rules().rolling_arm_um);
    let threshold = arm.map(|a| a * 1e-3 * mass_g);
    let lists: Vec<&[f64]> = rods.swings.iter().map(|s| s.periods_s.as_slice()).collect();
    let (size, found_inertia) = if lists.is_empty() {
        if half_spread <= 0.0 {
            return Err(Refusal::MissingRun {
                what: "neither a period nor angles at rest from both sides are given, so nothing tells how large the unbalance is".to_owned(),
                todo: "time a small swing, or let it come to rest from either side".to_owned(),
            });
        }
        // At the edge of standing still, U g sin ψ = arm m g.
        (threshold.likely / half_spread.to_radians().sin(), None)
    } else {
        let periods: Vec<f64> = lists.iter().map(|v| mean(v).0).collect();
        let solved = swung(rods, &periods, mass_g, inertia)?;
        (solved.unbalance_g_mm, solved.inertia_g_mm2)
    };
    let u = at_deg(size, angle);
    let mut found = Found::new(Method::AtRest, vec![u]);
    found.at_rest = Some(AtRest {
        polar_inertia_g_mm2: found_inertia,
        half_spread_deg: (rods.rest_angles_deg.len() > 1).then_some(half_spread),
        threshold_g_mm: Some(threshold),
    });
    found.circles = rods_circles(given, rods, u, &lists, half_spread);
    if size < threshold.likely {
        found.doubts.push(format!(
            "{size:.3} g·mm is less than rolling friction hides ({:.2} to {:.2} g·mm): the rods cannot see it",
            threshold.low, threshold.high
        ));
    }
    Ok(found)
}

fn rods_circles(
    given: &CorrectGiven,
    rods: &RodsGiven,
    u: Vector,
    lists: &[&[f64]],
    half_spread: f64,
) -> Option<Circles> {
    let mass_g = given.rotor.mass_g;
    let inertia = given.rotor.inertia.map(|i| i.polar_g_mm2);
    let angle = super::vectors::angle_deg(u);
    let arm = rods
        .rolling_arm_um
        .unwrap_or(balance_rules().rolling_arm_um);
    // The heavy spot may be anywhere between the angles at rest: half the spread as two deviations.
    let angle_sd = 0.5 * half_spread / (rods.rest_angles_deg.len().max(2) as f64 / 2.0).sqrt();
    let (mut numbers, mut sds) = (vec![angle], vec![angle_sd]);
    let (share, freedom) = if lists.is_empty() {
        numbers.push(arm.likely);
        // From low to high as four deviations.
        sds.push(0.25 * (arm.high - arm.low));
        (0.25 * (arm.high - arm.low) / arm.likely, None)
    } else {
        let (of_periods, share, freedom) = pooled(lists);
        if freedom == 0 {
            return None;
        }
        numbers.extend(lists.iter().map(|v| mean(v).0));
        sds.extend(of_periods);
        (share, Some(freedom))
    };
    let basis = Basis {
        noise_share: share,
        freedom,
        seed: given.seed,
    };
    from_numbers(&[u], &numbers, &sds, &basis, |numbers| {
        let size = if lists.is_empty() {
            numbers[1] * 1e-3 * mass_g / half_spread.to_radians().sin()
        } else {
            swung(rods, &numbers[1..], mass_g, inertia)
                .ok()?
                .unbalance_g_mm
        };
        Some(vec![at_deg(size, numbers[0])])
    })
}

/// Turned on the fixture.
pub(super) fn indexed(given: &CorrectGiven, indexed: &IndexedGiven) -> Result<Found, Refusal> {
    let planes = given.planes.len();
    let positions = &indexed.positions;
    let means = |plane: usize| -> Vec<(f64, Vector)> {
        positions
            .iter()
            .map(|p| {
                let all: Vec<Vector> = p.readings[plane].iter().map(|r| vector(*r)).collect();
                (p.index_deg, all.iter().sum::<Vector>() / all.len() as f64)
            })
            .collect()
    };
    let all: Vec<Vec<(f64, Vector)>> = (0..planes).map(means).collect();
    let (mut part, mut fixture, mut left) = (Vec::new(), Vec::new(), 0.0);
    for readings in &all {
        let (f, p, squares) = split(readings)?;
        fixture.push(f);
        part.push(p);
        left += squares;
    }
    let (mut squares, mut freedom) = (0.0, 0u32);
    for position in positions {
        for (plane, repeats) in position.readings.iter().enumerate() {
            let vectors: Vec<Vector> = repeats.iter().map(|r| vector(*r)).collect();
            let mean = all[plane]
                .iter()
                .find(|(index, _)| *index == position.index_deg)
                .map_or(Vector::default(), |(_, m)| *m);
            squares += vectors.iter().map(|v| (v - mean).norm_sqr()).sum::<f64>();
            freedom += 2 * (repeats.len() as u32 - 1);
        }
    }
    // Without repeats, what more than two positions leave.
    if freedom == 0 && positions.len() > 2 {
        (squares, freedom) = (left, 2 * planes as u32 * (positions.len() as u32 - 2));
    }
    let mut found = Found::new(Method::Indexing, part.clone());
    found.fixture = fixture;
    if freedom > 0 {
        let sd = (squares / f64::from(freedom)).sqrt();
        let count = |n: usize| (positions[n].readings[0].len() as f64).sqrt();
        let flat: Vec<Vector> = all.iter().flatten().map(|(_, v)| *v).collect();
        let numbers: Vec<f64> = flat.iter().flat_map(|v| [v.re, v.im]).collect();
        let sds: Vec<f64> = (0..numbers.len())
            .map(|n| sd / count(n / 2 % positions.len()))
            .collect();
        let largest = flat.iter().map(|v| v.norm()).fold(0.0, f64::max);
        let basis = Basis {
            noise_share: if largest > 0.0 { sd / largest } else { 0.0 },
            freedom: Some(freedom),
            seed: given.seed,
        };
        found.circles = from_numbers(&part, &numbers, &sds, &basis, |numbers| {
            let mut out = Vec::with_capacity(planes);
            for (plane, readings) in all.iter().enumerate() {
                let again: Vec<(f64, Vector)> = readings
                    .iter()
                    .enumerate()
                    .map(|(n, (index, _))| {
                        let at = 2 * (plane * readings.len() + n);
                        (*index, Vector::new(numbers[at], numbers[at + 1]))
                    })
                    .collect();
                out.push(split(&again).ok()?.1);
            }
            Some(out)
        });
    }
    Ok(found)
}

/// From a recording: the seat's eccentricity times the mass.
pub(super) fn eccentricity(given: &CorrectGiven, e: &EccentricityGiven) -> Found {
    let per_um = given.rotor.mass_g * 1e-3;
    let u = at_deg(e.eccentricity_um * per_um, e.angle_deg);
    let mut found = Found::new(Method::Recording, vec![u]);
    if let Some(sd) = e.uncertainty_um.filter(|sd| *sd > 0.0) {
        let sd = sd * per_um;
        let basis = Basis {
            noise_share: if u.norm() > 0.0 { sd / u.norm() } else { 0.0 },
            freedom: None,
            seed: given.seed,
        };
        found.circles = from_numbers(&[u], &[u.re, u.im], &[sd, sd], &basis, |numbers| {
            Some(vec![Vector::new(numbers[0], numbers[1])])
        });
    }
    found
}
