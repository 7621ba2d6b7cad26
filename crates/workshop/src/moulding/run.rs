//! One set-up, from the question to the answer.

use super::body::{Books, HalfLine, HoldLine, HoldSetting, MiddlePoint, MouldBody, Setting};
use super::conditions::conditions;
use super::cooling::{CoolingAsked, HalfCooling, cool};
use super::cycle::shoot;
use super::faults::Refusal;
use super::given::{Grid, Process};
use super::laid_flat::laid_flat;
use super::lines;
use super::ready::Ready;
use super::ring_gate::with_ring_gate;
use super::scatter::handed_on;
use super::shot::Shot;
use super::study_plan::hold_s;
use super::view::MouldView;
use super::words;
use crate::part::Answer;
use crate::part::answer::ANSWER_FORMAT;
use crate::shelf::known;

/// What a set-up does: one shot on the asked grid, five on the quick one for the scatter and the ring gate, the section's cooling on two meshes.
///
/// # Errors
/// See [`Refusal`]; a shot that stays short is no error, it is told in the answer.
pub fn mould(ready: &Ready) -> Result<(Answer<MouldBody>, MouldView), Refusal> {
    let (given, middle) = (&ready.given, &ready.middle);
    let shot = shoot(given, middle);
    let asked = CoolingAsked {
        pressed_s: hold_s(&given.process),
        size_mm: None,
        is_refined: true,
    };
    let cooled = cool(given, &ready.section, middle, &asked)?;
    let mut body = body(ready, &shot, &cooled)?;
    body.conditions = conditions(&body, given);
    let view = MouldView {
        outline: ready.outline.clone(),
        fill: laid_flat(given, middle, &shot),
    };
    let answer = Answer {
        whirlwright: ANSWER_FORMAT,
        station: "moulding".to_owned(),
        verdict: words::verdict(&body),
        headline: words::headline(&body),
        decided_by: words::decided_by(&body),
        trust: words::trust(&body, given),
        cautions: words::cautions(&body, given),
        next: words::next(&body),
        body,
    };
    Ok((answer, view))
}

fn body(ready: &Ready, shot: &Shot, cooled: &HalfCooling) -> Result<MouldBody, Refusal> {
    let given = &ready.given;
    // What is told by differences is reckoned on the quick grid, all of it against one shot.
    let quick = ready.on(Grid::quick())?.alike();
    let quick_shot = shoot(&quick.given, &quick.middle);
    let cavities = lines::cavities(ready, shot);
    let cycle = lines::cycle(given, shot);
    Ok(MouldBody {
        piece: given.piece.clone(),
        resin: given.resin.id.clone(),
        cavities_count: given.mould.cavities.len(),
        setting: setting(&given.process),
        half: half(ready, shot),
        fill: lines::fill(given, shot),
        hold: hold(&given.process, shot),
        clamp: lines::clamp(given, shot),
        shot: lines::shot(given, shot, cycle.cycle_s),
        cooling: lines::cooling(given, cooled),
        shrinkage: lines::shrinkage(ready, shot),
        handling: lines::handling(given),
        conditions: Vec::new(),
        ring_gate: with_ring_gate(&quick, &quick_shot),
        handed_on: handed_on(given, shot, &quick, &quick_shot),
        course: shot.course.clone(),
        walls: lines::walls(cooled, shot),
        middle: middle_points(ready, shot),
        books: Books {
            volume_off_share: shot.volume_off_share,
            mass_off_share: shot.mass_off_share,
            middle_off_share: ready.middle.volume_off_share,
            steps_count: shot.steps_count,
        },
        cavities,
        cycle,
    })
}

/// The set-up in a moulder's words.
pub(super) fn setting(process: &Process) -> Setting {
    let step = |s: &super::given::HoldStep| HoldSetting {
        pressure_mpa: s.pressure_mpa,
        time_s: s.time_s,
    };
    Setting {
        melt_degc: process.melt_degc,
        wall_degc: process.wall_degc,
        fill_s: process.fill_s,
        switch_share: process.switch_share,
        hold: process.hold.iter().map(step).collect(),
        cooling_s: process.cooling_s,
    }
}

fn half(ready: &Ready, shot: &Shot) -> HalfLine {
    let masses = shot.cavities.iter().map(|c| c.mass_g);
    let most = masses.clone().fold(f64::NEG_INFINITY, f64::max);
    let least = masses.fold(f64::INFINITY, f64::min);
    let pulls = shot.cavities.iter().map(|c| c.unbalance.mass_distance_g_mm);
    let mass_g = shot.mean_mass_g();
    HalfLine {
        mass_g,
        mass_doubt_g: mass_g * known("mould_study.card_doubt").value * PERCENT,
        drawn_mass_g: ready.drawn_mass_g,
        between_cavities_g: (most - least).max(0.0),
        unbalance_g_mm: pulls.fold(0.0, f64::max),
    }
}

/// A percent as a share.
const PERCENT: f64 = 0.01;

fn hold(process: &Process, shot: &Shot) -> HoldLine {
    let began_s = shot.fill.switch_s;
    let (time_s, frozen_s) = (hold_s(process), shot.gate_freeze_s());
    let needed_s = frozen_s.map(|at| (at - began_s).max(0.0));
    HoldLine {
        time_s,
        most_cavity_mpa: shot.most_cavity_mpa,
        gate_freeze_s: frozen_s,
        needed_s,
        ran_back: shot.ran_back,
    }
}

fn middle_points(ready: &Ready, shot: &Shot) -> Vec<MiddlePoint> {
    let shrinks = shot.cavities.first().map(|c| &c.ring_shrinkage_share);
    let point = |(number, ring): (usize, &super::middle::Ring)| MiddlePoint {
        stretch: ready
            .middle
            .stretches
            .get(ring.stretch)
            .cloned()
            .unwrap_or_default(),
        axial_mm: ring.axial_mm,
        radius_mm: ring.radius_mm,
        wall_mm: ring.thickness_mm,
        volume_shrinkage_percent: shrinks
            .and_then(|s| s.get(number))
            .map_or(0.0, |s| s / PERCENT),
    };
    ready.middle.rings.iter().enumerate().map(point).collect()
}
