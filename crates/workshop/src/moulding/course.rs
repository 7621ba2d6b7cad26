//! What is written down while a shot runs: the course in time, and the temperature through the wall.

use super::body::{CoursePoint, WallPoint, WallProfile};
use super::cells::Hollow;
use super::melt::{Melt, Stuff};
use super::middle::Middle;
use super::scale::{MEGA, MILLI, celsius};

/// The most moments that are kept: then every second is dropped and the rest are written half as often.
const MOST_MOMENTS: usize = 600;

/// Writes the course down.
#[derive(Debug, Clone, Default)]
pub struct Recorder {
    /// What has been written.
    pub moments: Vec<CoursePoint>,
    every: usize,
    since: usize,
}

impl Recorder {
    /// Writes a moment down, if it is time for one.
    pub fn note(&mut self, moment: CoursePoint) {
        self.since += 1;
        if self.since < self.every {
            return;
        }
        self.since = 0;
        self.moments.push(moment);
        if self.moments.len() >= MOST_MOMENTS {
            let mut number = 0;
            self.moments.retain(|_| {
                number += 1;
                number % 2 == 1
            });
            self.every = 2 * self.every.max(1);
        }
    }
}

/// Pressure in a kind of cavity behind its first gate: the largest of the cells it opens into.
pub(super) fn behind_gate_pa(hollow: &Hollow, melt: &Melt, kind: usize) -> f64 {
    behind_gate(hollow, kind)
        .map(|cell| melt.p_pa[cell])
        .fold(0.0, f64::max)
}

/// The cells of a kind of cavity that its first gate opens into.
pub(super) fn behind_gate(hollow: &Hollow, kind: usize) -> impl Iterator<Item = usize> + '_ {
    let gate = hollow.kinds[kind].gates.first();
    let beside = gate.map_or(&[][..], |gate| &hollow.beside[*gate]);
    let cells = hollow.cells_of(kind);
    let others = beside.iter().map(|(link, end)| {
        let link = &hollow.links[*link];
        if *end == 0 { link.other } else { link.one }
    });
    others.filter(move |other| cells.contains(other))
}

/// The rings whose walls are written down, with the words for them: behind the gate, and the thickest.
pub(super) fn told_rings(hollow: &Hollow, middle: &Middle, kind: usize) -> Vec<(usize, String)> {
    let thick = |ring: &usize| middle.rings[*ring].thickness_mm;
    let rings = 0..middle.rings.len();
    let thickest = rings.max_by(|a, b| thick(a).total_cmp(&thick(b)));
    let first = hollow.kinds[kind].first;
    let at_gate = behind_gate(hollow, kind).next();
    let at_gate = at_gate.map(|cell| (cell - first) / hollow.grid[1]);
    let name = |ring: usize| {
        let stretch = middle.stretches.get(middle.rings[ring].stretch);
        stretch.map_or("wall", String::as_str)
    };
    let mut told: Vec<(usize, String)> = Vec::new();
    if let Some(ring) = at_gate {
        told.push((ring, format!("{}, at the gate", name(ring))));
    }
    if let Some(ring) = thickest.filter(|ring| Some(*ring) != at_gate) {
        told.push((ring, format!("{}, where it is thickest", name(ring))));
    }
    told
}

/// The temperature through the wall of some rings of a kind of cavity in the column of its gate.
pub(super) fn profiles(
    hollow: &Hollow,
    stuff: &Stuff,
    melt: &Melt,
    (kind, told): (usize, &[(usize, String)]),
    time_s: f64,
) -> Vec<WallProfile> {
    let count = stuff.count;
    let profile = |(ring, place): &(usize, String)| {
        let cell = hollow.kinds[kind].first + ring * hollow.grid[1];
        let step = hollow.cells.half_m[cell] / MILLI / count as f64;
        let t = Melt::of(&melt.t_k, cell, count);
        let point = |k: usize, side: f64| WallPoint {
            depth_mm: side * (k as f64 + 0.5) * step,
            temperature_degc: celsius(t[k]),
        };
        let below = (0..count).rev().map(|k| point(k, -1.0));
        WallProfile {
            place: place.clone(),
            time_s,
            points: below.chain((0..count).map(|k| point(k, 1.0))).collect(),
        }
    };
    told.iter().map(profile).collect()
}

/// Pressures of a list of cells in MPa (unit here), with no number where there is no melt.
pub(super) fn in_mpa(pa: &[f64], wet: impl Fn(usize) -> bool) -> Vec<f64> {
    let mpa = |(cell, pa): (usize, &f64)| if wet(cell) { pa / MEGA } else { f64::NAN };
    pa.iter().enumerate().map(mpa).collect()
}
