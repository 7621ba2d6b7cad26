//! One shot from the first melt at the nozzle to the half in the hand.

use super::body::{CoursePoint, WallProfile};
use super::cells::{Hollow, Owner};
use super::course::{Recorder, behind_gate_pa, in_mpa, profiles, told_rings};
use super::drops::drops;
use super::fill::{Drive, Fill};
use super::given::Given;
use super::hold::Holding;
use super::lift::{force_kn, projected_m2};
use super::melt::{Melt, Stuff};
use super::middle::Middle;
use super::net::hollow;
use super::plan::Plan;
use super::scale::{CM3, KILO, MEGA};
use super::shot::{CavityShot, Filling, Opening, Short, ShortWhy, Shot};
use super::store::Stores;
use super::tait::At;
use super::weigh::weigh;

/// The filling is given up when the flow has fallen to this share of what was asked.
const STALLED: f64 = 1e-3;
/// Or after so many times the time it was to take, or so many steps.
const PATIENCE: f64 = 200.0;
const MOST_STEPS: usize = 20_000;
/// Room that counts as filled, as a share.
const FULL: f64 = 1.0 - 1e-9;
/// Mass that must have run back out of the gates for it to count, as a share of what the cavities hold.
const RAN_BACK: f64 = 1e-4;

/// Reckons a shot. It always ends: one that comes short says why.
///
/// What comes in is taken as checked: see the checks of the station.
#[must_use]
pub fn shoot(given: &Given, middle: &Middle) -> Shot {
    let hollow = hollow(given, middle);
    let stuff = Stuff::of(given);
    let mut cycle = Cycle {
        given,
        middle,
        hollow: &hollow,
        stuff: &stuff,
        plan: Plan::of(given, &hollow),
        area_m2: projected_m2(given, middle, &hollow),
        at_melt: At::of(&given.resin.room, stuff.melt_k),
        recorder: Recorder::default(),
        walls: vec![Vec::new(); hollow.kinds.len()],
        switched_s: None,
        ran_back_kg: 0.0,
        shot: blank(given, &hollow),
    };
    let mut fill = Fill::new(&hollow, &stuff);
    let ended = cycle.fill(&mut fill);
    cycle.close_filling(&mut fill);
    let mass_kg = match ended {
        Ok(()) => cycle.hold(&fill),
        Err(why) => cycle.cut_short(&fill, why),
    };
    cycle.weigh(&mass_kg);
    cycle.shot.course = cycle.recorder.moments;
    cycle.shot
}

struct Cycle<'a> {
    given: &'a Given,
    middle: &'a Middle,
    hollow: &'a Hollow,
    stuff: &'a Stuff,
    plan: Plan,
    area_m2: Vec<f64>,
    at_melt: At,
    recorder: Recorder,
    /// By kind of cavity.
    walls: Vec<Vec<WallProfile>>,
    switched_s: Option<f64>,
    ran_back_kg: f64,
    shot: Shot,
}

fn blank(given: &Given, hollow: &Hollow) -> Shot {
    let mut cavities: Vec<CavityShot> = Vec::new();
    for (number, cavity) in given.mould.cavities.iter().enumerate() {
        let place = |kind: &super::cells::Kind| {
            let member = kind.members.iter().position(|m| *m == number)?;
            Some(kind.first_column_deg[member])
        };
        cavities.push(CavityShot {
            name: cavity.name.clone(),
            first_column_deg: hollow.kinds.iter().find_map(place).unwrap_or(0.0),
            columns_count: hollow.grid[1],
            ..CavityShot::default()
        });
    }
    Shot {
        fill: Filling::default(),
        full_s: None,
        opening: Opening::default(),
        most_cavity_mpa: 0.0,
        ran_back: false,
        cavities,
        course: Vec::new(),
        feed_mass_g: 0.0,
        melt_cm3: 0.0,
        short: None,
        volume_off_share: 0.0,
        mass_off_share: 0.0,
        closure_off_share: 0.0,
        steps_count: 0,
        end_s: 0.0,
        still_s: None,
    }
}

impl Cycle<'_> {
    /// Fills the mould, first by speed and then by pressure.
    fn fill(&mut self, fill: &mut Fill<'_>) -> Result<(), ShortWhy> {
        let cavities = self.hollow.cavities_room_m3();
        let whole = self.hollow.room_m3();
        loop {
            let done = fill.cavities_share() * cavities;
            if self.switched_s.is_none() && done >= self.plan.switch_m3 * FULL {
                self.switch_over(fill);
            }
            if fill.filled.is_all_full() {
                return Ok(());
            }
            let drive = match self.switched_s {
                None => self.plan.speed,
                Some(at) => self.plan.pressing(fill.time_s - at),
            };
            if drive.most_pa <= 0.0 {
                return Err(ShortWhy::HoldEnded { at_s: fill.time_s });
            }
            let found = fill.find(&drive);
            let stalled = fill.flow_factor < STALLED * self.plan.speed.flow_factor;
            let late = fill.time_s > PATIENCE * self.given.process.fill_s;
            if found.is_err() || stalled || late || fill.steps_count > MOST_STEPS {
                return Err(self.why_short(fill, &drive));
            }
            self.note_filling(fill);
            let left = match self.switched_s {
                None => (self.plan.switch_m3 - done).max((1.0 - FULL) * whole),
                Some(_) => (whole - fill.filled_m3()).max((1.0 - FULL) * whole),
            };
            fill.advance(fill.step_s(&self.plan.speed, left));
            self.note_full(fill);
        }
    }

    fn note_filling(&mut self, fill: &Fill<'_>) {
        if self.switched_s.is_none() {
            let most = &mut self.shot.fill.most_nozzle_mpa;
            *most = most.max(fill.nozzle_pa / MEGA);
            let asked = self.plan.speed.flow_factor;
            self.shot.fill.limited |= fill.flow_factor < asked * FULL;
        }
        self.note_opening(&fill.melt, fill.time_s);
        let cavity = self.hollow.cells_of(0).map(|cell| {
            let held = 1.0 / self.at_melt.volume(fill.melt.p_pa[cell]).m3_per_kg;
            fill.filled.share[cell] * self.hollow.cells.room_m3[cell] * held
        });
        let now = (fill.time_s, fill.nozzle_pa, fill.flow_factor);
        let mass_kg = cavity.sum();
        self.note_course(&fill.melt, now, mass_kg);
    }

    fn note_course(
        &mut self,
        melt: &Melt,
        (time_s, nozzle_pa, flow_m3_s): (f64, f64, f64),
        mass_kg: f64,
    ) {
        self.recorder.note(CoursePoint {
            time_s,
            nozzle_mpa: nozzle_pa / MEGA,
            gate_mpa: behind_gate_pa(self.hollow, melt, 0) / MEGA,
            flow_cm3_per_s: flow_m3_s / CM3,
            mass_g: mass_kg * KILO,
        });
    }

    fn note_opening(&mut self, melt: &Melt, time_s: f64) {
        let [most_kn, cavities_kn, feed_kn] = force_kn(self.hollow, &self.area_m2, &melt.p_pa);
        if most_kn > self.shot.opening.most_kn {
            self.shot.opening = Opening {
                most_kn,
                cavities_kn,
                feed_kn,
                time_s,
            };
        }
        for (kind, of_kind) in self.hollow.kinds.iter().enumerate() {
            let mpa = behind_gate_pa(self.hollow, melt, kind) / MEGA;
            self.shot.most_cavity_mpa = self.shot.most_cavity_mpa.max(mpa);
            for member in &of_kind.members {
                let cavity = &mut self.shot.cavities[*member];
                cavity.most_mpa = cavity.most_mpa.max(mpa);
            }
        }
    }

    /// Notes which cavities are full.
    fn note_full(&mut self, fill: &Fill<'_>) {
        for (kind, of_kind) in self.hollow.kinds.iter().enumerate() {
            let mut cells = self.hollow.cells_of(kind);
            let is_full = cells.all(|cell| fill.filled.is_full(cell));
            for member in &of_kind.members {
                let full_s = &mut self.shot.cavities[*member].full_s;
                if is_full && full_s.is_none() {
                    *full_s = Some(fill.time_s);
                }
            }
        }
    }

    /// Writes down how things stand when speed gives over to pressure.
    fn switch_over(&mut self, fill: &mut Fill<'_>) {
        // The pressure that holds the speed with the front where it now is.
        if !fill.filled.is_all_full() && fill.find(&self.plan.speed).is_ok() {
            self.note_filling(fill);
        }
        self.switched_s = Some(fill.time_s);
        self.note_switch(fill);
        self.note_walls(&fill.melt, fill.time_s);
    }

    fn note_switch(&mut self, fill: &Fill<'_>) {
        let (hollow, melt) = (self.hollow, &fill.melt);
        let of = &mut self.shot.fill;
        of.switch_s = fill.time_s;
        of.switch_mpa = fill.nozzle_pa / MEGA;
        of.flow_cm3_per_s = self.plan.speed.flow_factor / CM3;
        of.filled_share = fill.cavities_share();
        of.drops = drops(self.given, hollow, melt, fill.nozzle_pa);
        for (kind, of_kind) in hollow.kinds.iter().enumerate() {
            let cells = hollow.cells_of(kind);
            let share = fill.share_of(kind);
            let first = cells.start;
            let wet = |cell: usize| fill.filled.is_wet(first + cell);
            let mpa = in_mpa(&melt.p_pa[cells], wet);
            for member in &of_kind.members {
                let cavity = &mut self.shot.cavities[*member];
                cavity.switch_share = share;
                cavity.switch_cell_mpa.clone_from(&mpa);
            }
        }
    }

    fn note_walls(&mut self, melt: &Melt, time_s: f64) {
        for kind in 0..self.hollow.kinds.len() {
            let told = told_rings(self.hollow, self.middle, kind);
            let more = profiles(self.hollow, self.stuff, melt, (kind, &told), time_s);
            self.walls[kind].extend(more);
        }
    }

    fn close_filling(&mut self, fill: &mut Fill<'_>) {
        if self.switched_s.is_none() {
            self.note_switch(fill);
        }
        let off = fill.filled_m3() / fill.let_in_m3 - 1.0;
        self.shot.volume_off_share = off.abs();
        self.shot.fill.steps_count = fill.steps_count;
        self.shot.steps_count = fill.steps_count;
        self.shot.end_s = fill.time_s;
        for (kind, of_kind) in self.hollow.kinds.iter().enumerate() {
            let arrival = fill.arrival_s[self.hollow.cells_of(kind)].iter();
            let arrival: Vec<f64> = arrival.map(|at| at.unwrap_or(f64::NAN)).collect();
            let share = fill.share_of(kind);
            for member in &of_kind.members {
                let cavity = &mut self.shot.cavities[*member];
                cavity.filled_share = share;
                cavity.arrival_s.clone_from(&arrival);
            }
        }
    }

    /// Holds and cools to the opening of the mould; gives the mass of all cells.
    fn hold(&mut self, fill: &Fill<'_>) -> Vec<f64> {
        let began_s = self.switched_s.unwrap_or(fill.time_s);
        self.shot.full_s = Some(fill.time_s);
        let room = &self.given.resin.room;
        let mut holding = Holding::of(
            self.hollow,
            self.stuff,
            room,
            fill.melt.clone(),
            fill.time_s,
        );
        self.note_walls(&holding.melt, holding.time_s);
        let end = self.plan.end_s();
        let (mut before, mut shown) = (None, 1);
        loop {
            let after = holding.time_s - began_s;
            if after >= end - 1e-9 {
                break;
            }
            let step = self.plan.step_s(after, before);
            let nozzle = self.plan.nozzle_pa(after + step);
            if holding.advance(step, nozzle).is_err() {
                break;
            }
            before = Some(step);
            self.note_holding(&holding, nozzle, step);
            if after + step >= end * f64::from(shown) / 3.0 - 1e-9 {
                shown += 1;
                self.note_walls(&holding.melt, holding.time_s);
            }
        }
        self.shot.mass_off_share = holding.drift_share();
        self.shot.closure_off_share = holding.closure_share;
        self.shot.steps_count += holding.steps_count;
        self.shot.end_s = holding.time_s;
        holding.mass_kg
    }

    fn note_holding(&mut self, holding: &Holding<'_>, nozzle_pa: f64, step_s: f64) {
        self.note_opening(&holding.melt, holding.time_s);
        let cells = self.hollow.cells_of(0);
        let cavity = cells.map(|c| holding.mass_kg[c] / self.hollow.cells.copies[c]);
        let mass_kg = cavity.sum();
        let flow_m3_s = holding.melt.entering.iter().sum::<f64>();
        let now = (holding.time_s, nozzle_pa, flow_m3_s);
        self.note_course(&holding.melt, now, mass_kg);
        for of_kind in &self.hollow.kinds {
            let is_frozen = of_kind.gates.iter().all(|gate| holding.is_frozen(*gate));
            for member in &of_kind.members {
                let freeze = &mut self.shot.cavities[*member].gate_freeze_s;
                if is_frozen && freeze.is_none() {
                    *freeze = Some(holding.time_s);
                }
            }
            for gate in &of_kind.gates {
                self.ran_back_kg += holding.back_kg_per_s(*gate) * step_s;
            }
        }
        if self.shot.still_s.is_none() && holding.is_done() {
            self.shot.still_s = Some(holding.time_s);
        }
    }

    /// Why the filling came no further.
    fn why_short(&self, fill: &Fill<'_>, drive: &Drive) -> ShortWhy {
        let at_s = fill.time_s;
        let needed = self.needed_pa(fill);
        if let Some(needed) = needed.filter(|needed| *needed > drive.most_pa) {
            return ShortWhy::PressureTooSmall {
                needed_mpa: needed / MEGA,
                had_mpa: drive.most_pa / MEGA,
                is_hold: self.switched_s.is_some(),
            };
        }
        let kinds = 0..self.hollow.kinds.len();
        match kinds
            .filter(|kind| fill.share_of(*kind) < FULL)
            .find(|kind| self.is_shut_off(fill, *kind))
        {
            Some(kind) => ShortWhy::GateFrozen {
                cavity: self.shot.cavities[self.hollow.kinds[kind].members[0]]
                    .name
                    .clone(),
                at_s,
            },
            None => ShortWhy::TooCold { at_s },
        }
    }

    /// Whether it is the feed or the gate that keeps melt from a kind of cavity: one of them is solid, or most of the pressure
    /// is lost before the cavity.
    fn is_shut_off(&self, fill: &Fill<'_>, kind: usize) -> bool {
        let way = &self.hollow.kinds[kind].way;
        let on_way = |cell: usize| match self.hollow.cells.owner[cell] {
            Owner::Feed(branch) => way.contains(&branch),
            Owner::Gate(of, _) => of == kind,
            Owner::Cavity(_) => false,
        };
        let is_frozen = |cell: usize| fill.filled.is_wet(cell) && fill.melt.mobility[cell] <= 0.0;
        (0..self.hollow.cells.count()).any(|cell| on_way(cell) && is_frozen(cell))
            || behind_gate_pa(self.hollow, &fill.melt, kind) < 0.5 * fill.nozzle_pa
    }

    /// The pressure that the same front would ask for at the speed of the set-up with melt as hot as it left the nozzle.
    fn needed_pa(&self, fill: &Fill<'_>) -> Option<f64> {
        let mut hot = fill.clone();
        hot.melt.t_k.fill(self.stuff.melt_k);
        let asked = Drive {
            most_pa: f64::INFINITY,
            ..self.plan.speed
        };
        for _ in 0..HOT_ROUNDS {
            hot.find(&asked).ok()?;
        }
        Some(hot.nozzle_pa)
    }

    /// What lies in the mould when the filling came no further.
    fn cut_short(&mut self, fill: &Fill<'_>, why: ShortWhy) -> Vec<f64> {
        self.shot.short = Some(Short {
            filled_share: fill.cavities_share(),
            why,
        });
        let cells = self.hollow.cells.count();
        let mut stores = Stores::none(cells, self.stuff.count);
        stores.take(&self.given.resin.room, &fill.melt.t_k);
        let held = |cell: usize| {
            let layers = self.stuff.layers(self.hollow.cells.form[cell]);
            let held = stores.held(layers, cell, fill.melt.p_pa[cell].max(0.0));
            let room = self.hollow.cells.whole_room_m3(cell);
            held.density_kg_m3 * fill.filled.share[cell] * room
        };
        (0..cells).map(held).collect()
    }

    fn weigh(&mut self, mass_kg: &[f64]) {
        let room = &self.given.resin.room;
        let is_short = self.shot.short.is_some();
        for (kind, of_kind) in self.hollow.kinds.iter().enumerate() {
            for cavity in &of_kind.members {
                let piece = &mut self.shot.cavities[*cavity];
                weigh(self.hollow, self.middle, room, mass_kg, kind, piece);
                piece.walls.clone_from(&self.walls[kind]);
                if is_short {
                    // It is no half that could be balanced.
                    piece.unbalance = crate::part::Unbalance::default();
                    piece.couple = crate::part::Couple::default();
                    piece.eccentricity_um = 0.0;
                }
            }
        }
        let in_cavity = |cell: usize| matches!(self.hollow.cells.owner[cell], Owner::Cavity(_));
        let all: f64 = mass_kg.iter().sum();
        let held = (0..mass_kg.len()).filter(|cell| in_cavity(*cell));
        let held: f64 = held.map(|cell| mass_kg[cell]).sum();
        self.shot.feed_mass_g = (all - held) * KILO;
        self.shot.melt_cm3 = all * self.at_melt.volume(0.0).m3_per_kg / CM3;
        self.shot.ran_back = self.ran_back_kg > RAN_BACK * held;
    }
}

/// Rounds in which pressure and fluidity of a hot melt settle, each of several.
const HOT_ROUNDS: usize = 10;
