//! Holding and cooling: melt is pressed after what shrinks, until the gate, or the wall, is solid.
//!
//! The books are kept in mass. Pressure is sought so that each cell holds what the equation of Tait allows at it, or holds
//! less and stands at no pressure; such a cell takes melt up and gives none off.

use whirlwright_kit::network::{Network, NetworkError};

use super::cells::Hollow;
use super::fill::network;
use super::heat::{Filled, Sweep};
use super::melt::{Melt, Stuff};
use super::store::{Held, Stores};
use crate::part::resin::Room;

/// Newton's rounds at most in one step of time.
const ROUNDS: usize = 25;
/// The largest change of pressure in one round, in Pa, and the change that is good enough.
const LARGEST_STEP_PA: f64 = 2e7;
const CLOSE_ENOUGH_PA: f64 = 1e4;
/// A factor is made anew when a round moves the pressures by more than this share of what the round before did.
const WEARY: f64 = 0.2;
/// The change of the logarithm of a gradient that is good enough.
const CLOSE_ENOUGH: f64 = 0.05;

/// A full mould under the pressure of the press.
#[derive(Debug, Clone)]
pub struct Holding<'a> {
    hollow: &'a Hollow,
    stuff: &'a Stuff,
    room: &'a Room,
    /// The melt.
    pub melt: Melt,
    filled: Filled,
    /// Time since the first melt came.
    pub time_s: f64,
    /// Mass of each cell, all copies.
    pub mass_kg: Vec<f64>,
    /// Mass that has come in since the holding began, less what went back.
    pub entered_kg: f64,
    /// Mass at the beginning.
    pub began_kg: f64,
    /// What comes in, in kg/s (unit here).
    pub flow_factor: f64,
    /// What cells under pressure held more or less than the equation of Tait allows, all together, as a share of the mass:
    /// the worst step.
    pub closure_share: f64,
    /// Steps made, and rounds in all.
    pub steps_count: usize,
    /// Rounds of Newton in all.
    pub rounds_count: usize,
    network: Network,
    sweep: Sweep,
    stores: Stores,
    held: Vec<Held>,
    /// Whether a cell stands at no pressure.
    is_slack: Vec<bool>,
    /// Whether nothing flows any more, see [`Self::is_done`].
    is_still: bool,
    /// Whether the factor last made has served its time.
    is_stale: bool,
    /// Factors made.
    pub factors_count: usize,
    own: Vec<f64>,
    carries: Vec<f64>,
    right: Vec<f64>,
    /// Density of what each link and mouth carries.
    density: Vec<f64>,
    /// How much steeper than its pressure the flow of each link and mouth rises: the part beyond one.
    bend: Vec<f64>,
    /// Pressures before a round.
    before_pa: Vec<f64>,
}

impl<'a> Holding<'a> {
    /// Takes a full mould over: each cell holds what it can at the pressure it has filled at.
    #[must_use]
    pub fn of(
        hollow: &'a Hollow,
        stuff: &'a Stuff,
        room: &'a Room,
        melt: Melt,
        time_s: f64,
    ) -> Self {
        let cells = hollow.cells.count();
        let links = hollow.links.len() + hollow.mouths.len();
        let mut holding = Self {
            hollow,
            stuff,
            room,
            melt,
            filled: Filled::all(cells, 1.0),
            time_s,
            mass_kg: vec![0.0; cells],
            entered_kg: 0.0,
            began_kg: 0.0,
            flow_factor: 0.0,
            closure_share: 0.0,
            steps_count: 0,
            rounds_count: 0,
            network: network(hollow),
            sweep: Sweep::default(),
            stores: Stores::none(cells, stuff.count),
            held: vec![Held::default(); cells],
            is_slack: vec![false; cells],
            is_still: false,
            is_stale: true,
            factors_count: 0,
            own: vec![0.0; cells + 1],
            carries: vec![0.0; links],
            right: vec![0.0; cells + 1],
            density: vec![0.0; links],
            bend: vec![0.0; links],
            before_pa: vec![0.0; cells],
        };
        holding.melt.p_pa.iter_mut().for_each(|p| *p = p.max(0.0));
        holding.stores.take(room, &holding.melt.t_k);
        holding.hold_now();
        for cell in 0..cells {
            holding.mass_kg[cell] =
                holding.held[cell].density_kg_m3 * hollow.cells.whole_room_m3(cell);
        }
        holding.began_kg = holding.mass_kg.iter().sum();
        holding
    }

    /// What each cell can hold at its pressure.
    fn hold_now(&mut self) {
        for cell in 0..self.held.len() {
            let layers = self.stuff.layers(self.hollow.cells.form[cell]);
            self.held[cell] = self.stores.held(layers, cell, self.melt.p_pa[cell]);
        }
    }

    /// One step of time with that pressure at the nozzle at its end.
    ///
    /// # Errors
    /// See [`Network::factor`]; what a cell takes up under pressure keeps it from happening.
    pub fn advance(&mut self, step_s: f64, nozzle_pa: f64) -> Result<(), NetworkError> {
        let (hollow, stuff) = (self.hollow, self.stuff);
        self.sweep
            .warm(hollow, stuff, &mut self.melt, &self.filled, step_s);
        if self.is_still {
            // Nothing can move any more: from here on it only cools, and freezes.
            self.melt.carried.fill(0.0);
            self.melt.entering.fill(0.0);
            self.melt.rest_again(stuff, |_| true);
            self.melt.mobilities(hollow, stuff, |_| true);
            self.time_s += step_s;
            self.steps_count += 1;
            return Ok(());
        }
        self.stores.take(self.room, &self.melt.t_k);
        self.melt.rest_again(stuff, |_| true);
        let mut before = f64::INFINITY;
        for round in 0..ROUNDS {
            self.melt.mobilities(hollow, stuff, |_| true);
            self.links_now();
            self.hold_now();
            let (moved, turned) = self.newton(step_s, nozzle_pa)?;
            // The factor serves as long as it brings the pressures nearer.
            self.is_stale = turned || moved > WEARY * before;
            before = moved;
            self.carry(nozzle_pa);
            let change = self.melt.gradients(hollow, |_| true, |_| false);
            self.rounds_count += 1;
            let is_close = moved < CLOSE_ENOUGH_PA && !turned;
            if is_close && (change < CLOSE_ENOUGH || round + 2 >= ROUNDS) {
                break;
            }
        }
        self.book(step_s);
        self.time_s += step_s;
        self.steps_count += 1;
        self.is_still = self.is_done();
        Ok(())
    }

    /// What links and mouths carry for a pressure of one, in m³/(s·Pa), and the density of it.
    fn links_now(&mut self) {
        let (cells, links) = (&self.hollow.cells, self.hollow.links.len());
        let density = |cell: usize| self.mass_kg[cell] / cells.whole_room_m3(cell);
        for (number, link) in self.hollow.links.iter().enumerate() {
            (self.carries[number], self.bend[number]) =
                self.melt.carries_and_bends(self.hollow, number);
            self.density[number] = 0.5 * (density(link.one) + density(link.other));
        }
        for (number, mouth) in self.hollow.mouths.iter().enumerate() {
            self.carries[links + number] = self.melt.mobility[mouth.cell] * mouth.factor;
            self.bend[links + number] = self.melt.bend[mouth.cell];
            self.density[links + number] = density(mouth.cell);
        }
    }

    /// One round of Newton; gives the largest change of pressure and whether a cell came to stand at no pressure or left it.
    fn newton(&mut self, step_s: f64, nozzle_pa: f64) -> Result<(f64, bool), NetworkError> {
        let (cells, links) = (self.hollow.cells.count(), self.hollow.links.len());
        self.balance(step_s, nozzle_pa);
        let mut turned = false;
        for cell in 0..cells {
            // A slack cell that gets more than it can hold without pressure comes under pressure.
            if self.is_slack[cell] && self.right[cell] > 0.0 {
                self.is_slack[cell] = false;
                turned = true;
            }
        }
        for (number, link) in self.hollow.links.iter().enumerate() {
            let steeper = 1.0 + self.bend[number];
            let carries = self.carries[number] * self.density[number] * steeper;
            let (one, other) = (self.is_slack[link.one], self.is_slack[link.other]);
            self.carries[number] = if one || other { 0.0 } else { carries };
            if one && !other {
                self.own[link.other] += carries;
            }
            if other && !one {
                self.own[link.one] += carries;
            }
        }
        for (number, mouth) in self.hollow.mouths.iter().enumerate() {
            let steeper = 1.0 + self.bend[links + number];
            self.own[mouth.cell] +=
                self.carries[links + number] * self.density[links + number] * steeper;
            self.carries[links + number] = 0.0;
        }
        for cell in (0..cells).filter(|cell| self.is_slack[*cell]) {
            self.own[cell] = 1.0;
            self.right[cell] = 0.0;
        }
        self.own[cells] = 1.0;
        self.right[cells] = 0.0;
        if self.is_stale || turned {
            self.network.factor(&self.own, &self.carries)?;
            self.factors_count += 1;
        }
        self.network.solve(&mut self.right);
        let mut moved = 0.0_f64;
        self.before_pa.copy_from_slice(&self.melt.p_pa);
        for cell in 0..cells {
            if self.is_slack[cell] {
                continue;
            }
            let p = &mut self.melt.p_pa[cell];
            let step = self.right[cell].clamp(-LARGEST_STEP_PA, LARGEST_STEP_PA);
            let to = *p + step;
            if to <= 0.0 {
                turned = true;
                self.is_slack[cell] = true;
            }
            moved = moved.max((to.max(0.0) - *p).abs());
            *p = to.max(0.0);
        }
        self.links_now();
        Ok((moved, turned))
    }

    /// Fills `right` with what flows in less what the cell takes up, and `own` with what it takes up for a pressure of one.
    fn balance(&mut self, step_s: f64, nozzle_pa: f64) {
        let (hollow, p) = (self.hollow, &self.melt.p_pa);
        for cell in 0..hollow.cells.count() {
            let room = hollow.cells.whole_room_m3(cell) / step_s;
            let held = self.held[cell];
            self.right[cell] = self.mass_kg[cell] / step_s - held.density_kg_m3 * room;
            self.own[cell] = held.growth_factor * room;
        }
        for (number, link) in hollow.links.iter().enumerate() {
            let carries = self.carries[number] * self.density[number];
            let flow = carries * (p[link.one] - p[link.other]);
            self.right[link.one] -= flow;
            self.right[link.other] += flow;
        }
        let links = hollow.links.len();
        for (number, mouth) in hollow.mouths.iter().enumerate() {
            let carries = self.carries[links + number] * self.density[links + number];
            self.right[mouth.cell] += carries * (nozzle_pa - p[mouth.cell]);
        }
    }

    /// What is carried at these pressures, on the slope that the round was made with.
    fn carry(&mut self, nozzle_pa: f64) {
        let (p, before) = (&self.melt.p_pa, &self.before_pa);
        for (number, link) in self.hollow.links.iter().enumerate() {
            let fall = p[link.one] - p[link.other];
            let more = fall - (before[link.one] - before[link.other]);
            self.melt.carried[number] = self.carries[number] * (fall + self.bend[number] * more);
        }
        let links = self.hollow.links.len();
        for (number, mouth) in self.hollow.mouths.iter().enumerate() {
            let at = links + number;
            let fall = nozzle_pa - p[mouth.cell];
            let more = before[mouth.cell] - p[mouth.cell];
            self.melt.entering[number] = self.carries[at] * (fall + self.bend[at] * more);
        }
    }

    /// Books what was carried: every gram that leaves a cell comes to another.
    fn book(&mut self, step_s: f64) {
        let links = self.hollow.links.len();
        for (number, link) in self.hollow.links.iter().enumerate() {
            let mass = self.melt.carried[number] * self.density[number] * step_s;
            self.mass_kg[link.one] -= mass;
            self.mass_kg[link.other] += mass;
        }
        self.flow_factor = 0.0;
        for (number, mouth) in self.hollow.mouths.iter().enumerate() {
            let flow = self.melt.entering[number] * self.density[links + number];
            self.mass_kg[mouth.cell] += flow * step_s;
            self.flow_factor += flow;
        }
        self.entered_kg += self.flow_factor * step_s;
        self.hold_now();
        let (mut off, mut all) = (0.0, 0.0);
        for cell in 0..self.held.len() {
            let can = self.held[cell].density_kg_m3 * self.hollow.cells.whole_room_m3(cell);
            all += self.mass_kg[cell];
            if !self.is_slack[cell] {
                off += (self.mass_kg[cell] - can).abs();
            }
        }
        self.closure_share = self.closure_share.max(off / all);
    }

    /// By how much the mass of all cells is off what began and entered, as a share.
    #[must_use]
    pub fn drift_share(&self) -> f64 {
        let now: f64 = self.mass_kg.iter().sum();
        (now - self.began_kg - self.entered_kg).abs() / now
    }

    /// What runs back into a gate from its cavity, in kg/s; 0 when it flows the right way.
    #[must_use]
    pub(super) fn back_kg_per_s(&self, gate: usize) -> f64 {
        let links = self.hollow.beside[gate].iter();
        // A gate is the one end of its links into the cavity, and the other of the one it is fed by.
        let into = links.filter(|(_, end)| *end == 0);
        let flow = into.map(|(link, _)| self.melt.carried[*link] * self.density[*link]);
        (-flow.sum::<f64>()).max(0.0)
    }

    /// Whether nothing can pass a cell any more.
    #[must_use]
    pub fn is_frozen(&self, cell: usize) -> bool {
        self.melt.mobility[cell] <= 0.0
    }

    /// Whether nothing flows anywhere any more: all is solid, or nothing is under pressure.
    #[must_use]
    pub fn is_done(&self) -> bool {
        (0..self.held.len()).all(|cell| self.is_frozen(cell) || self.is_slack[cell])
    }
}
