//! What the press's own scatter makes of weight and pull, from shot to shot.

use whirlwright_kit::describe::moments;

use super::body::HalfScatter;
use super::cycle::shoot;
use super::given::{Given, Process};
use super::ready::Ready;
use super::shot::{CavityShot, Shot};
use super::study_plan::{first_mpa, with_pressure};

/// Steps by which the slopes are taken: large against the grid's own jumps, small against what a moulder changes.
const STEP_MPA: f64 = 5.0;
const STEP_K: f64 = 5.0;

/// Static unbalance toward the gate, negative on the far side; toward the half's mark for a ring gate.
#[must_use]
pub fn toward_gate_g_mm(given: &Given, number: usize, cavity: &CavityShot) -> f64 {
    along_gate(given, number, cavity.unbalance.components_g_mm())
}

/// Couple toward the gate, likewise.
pub(super) fn couple_toward_gate_g_mm2(given: &Given, number: usize, cavity: &CavityShot) -> f64 {
    along_gate(given, number, cavity.couple.components_g_mm2())
}

fn along_gate(given: &Given, number: usize, (toward, across): (f64, f64)) -> f64 {
    let angle_deg = gate_deg(given, number).unwrap_or(0.0);
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    toward * cos + across * sin
}

/// Angle of a cavity's first gate; none for a ring gate.
pub(super) fn gate_deg(given: &Given, number: usize) -> Option<f64> {
    let cavity = given.mould.cavities.get(number)?;
    cavity.gates.first()?.angle_deg
}

/// The largest pull of all cavities, toward its gate.
pub(super) fn worst_pull_g_mm(given: &Given, shot: &Shot) -> f64 {
    let size = |c: &CavityShot| c.unbalance.mass_distance_g_mm;
    let numbered = shot.cavities.iter().enumerate();
    let worst = numbered.max_by(|(_, a), (_, b)| size(a).total_cmp(&size(b)));
    worst.map_or(0.0, |(n, c)| toward_gate_g_mm(given, n, c))
}

/// Weight and pull with their scatter: the shot's own values, slopes of three more shots against `quick_shot`, all of the
/// question `quick`.
pub(super) fn handed_on(
    given: &Given,
    shot_made: &Shot,
    quick: &Ready,
    quick_shot: &Shot,
) -> HalfScatter {
    let told = |made: &Shot| {
        let first = made.cavities.first();
        let pull = first.map_or(0.0, |c| toward_gate_g_mm(&quick.given, 0, c));
        (made.mean_mass_g(), pull)
    };
    let at = |process: Process| {
        let asked = quick.with(process);
        told(&shoot(&asked.given, &asked.middle))
    };
    let p = &given.process;
    let base = told(quick_shot);
    let press = &given.press;
    let changed = [
        (at(raised(p)), press.hold_sd_mpa / STEP_MPA),
        (
            at(Process {
                melt_degc: p.melt_degc + STEP_K,
                ..p.clone()
            }),
            press.melt_sd_k / STEP_K,
        ),
        (
            at(Process {
                wall_degc: p.wall_degc + STEP_K,
                ..p.clone()
            }),
            press.wall_sd_k / STEP_K,
        ),
    ];
    let root_sum = |of: fn((f64, f64)) -> f64| {
        let parts = changed.iter().map(|(c, steps)| (of(*c) - of(base)) * steps);
        parts
            .filter(|x| x.is_finite())
            .map(|x| x * x)
            .sum::<f64>()
            .sqrt()
    };
    let first = shot_made.cavities.first();
    HalfScatter {
        mass_g: shot_made.mean_mass_g(),
        shot_sd_g: root_sum(|(mass, _)| mass),
        cavity_sd_g: cavity_sd_g(shot_made),
        toward_gate_g_mm: first.map_or(0.0, |c| toward_gate_g_mm(given, 0, c)),
        toward_gate_sd_g_mm: root_sum(|(_, pull)| pull),
        couple_g_mm2: first.map_or(0.0, |c| couple_toward_gate_g_mm2(given, 0, c)),
    }
}

/// The same hold, its first step this much higher and the others in proportion; no hold stays none.
fn raised(process: &Process) -> Process {
    let first = first_mpa(process);
    if first > 0.0 {
        with_pressure(process, 1.0 + STEP_MPA / first)
    } else {
        process.clone()
    }
}

/// Between the cavities; 0 for one.
fn cavity_sd_g(shot: &Shot) -> f64 {
    let masses: Vec<f64> = shot.cavities.iter().map(|c| c.mass_g).collect();
    moments(&masses).and_then(|m| m.sd).unwrap_or(0.0)
}
