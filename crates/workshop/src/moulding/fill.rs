//! Filling: the front goes from cell to cell, as fast as the press is told and as its pressure allows.

use whirlwright_kit::network::{Network, NetworkError};

use super::cells::Hollow;
use super::heat::{Filled, Sweep};
use super::melt::{Melt, Stuff, in_series};

/// What the press does while the mould fills.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drive {
    /// Flow that is asked for, in m³/s (unit here).
    pub flow_factor: f64,
    /// Most pressure at the nozzle.
    pub most_pa: f64,
}

/// Steps of time in which the whole mould fills, at most this many when each fills its share.
const STEPS: f64 = 250.0;
/// No step is longer than this share of the time to fill as asked.
const LONGEST_STEP: f64 = 0.05;
/// Rounds of pressure and fluidity in one step, and in the first steps, and the change of a logarithm that is good enough.
const ROUNDS: usize = 4;
const FIRST_ROUNDS: usize = 12;
const CLOSE_ENOUGH: f64 = 0.03;
/// A front is taken to stand at least this far in its cell.
const LEAST_FRONT: f64 = 0.02;
/// What each node carries off by itself, as a share of its links: it keeps a part that hangs on frozen melt only from having
/// any pressure it likes, and is far below what the books of the volume are held to.
const LEAK: f64 = 1e-13;

/// A mould being filled.
#[derive(Debug, Clone)]
pub struct Fill<'a> {
    hollow: &'a Hollow,
    stuff: &'a Stuff,
    /// The melt.
    pub melt: Melt,
    /// How full the cells are.
    pub filled: Filled,
    /// Time since the first melt came.
    pub time_s: f64,
    /// What has been let in.
    pub let_in_m3: f64,
    /// Pressure at the nozzle.
    pub nozzle_pa: f64,
    /// What flows in, in m³/s (unit here).
    pub flow_factor: f64,
    /// When the front passed the middle of each cell.
    pub arrival_s: Vec<Option<f64>>,
    /// Steps made.
    pub steps_count: usize,
    network: Network,
    sweep: Sweep,
    /// By node, the last is the nozzle; by link, the last are the mouths.
    own: Vec<f64>,
    carries: Vec<f64>,
    level: Vec<f64>,
    /// What each cell gets, in m³/s.
    gets: Vec<f64>,
}

/// The network of the cells with the nozzle as its last node.
pub(super) fn network(hollow: &Hollow) -> Network {
    let nozzle = hollow.cells.count() as u32;
    let links = hollow.links.iter().map(|l| (l.one as u32, l.other as u32));
    let mouths = hollow.mouths.iter().map(|m| (nozzle, m.cell as u32));
    let all: Vec<(u32, u32)> = links.chain(mouths).collect();
    Network::of(nozzle as usize + 1, &all)
}

impl<'a> Fill<'a> {
    /// An empty mould.
    #[must_use]
    pub fn new(hollow: &'a Hollow, stuff: &'a Stuff) -> Self {
        let cells = hollow.cells.count();
        let links = hollow.links.len() + hollow.mouths.len();
        Self {
            hollow,
            stuff,
            melt: Melt::none(hollow, stuff),
            filled: Filled::all(cells, 0.0),
            time_s: 0.0,
            let_in_m3: 0.0,
            nozzle_pa: 0.0,
            flow_factor: 0.0,
            arrival_s: vec![None; cells],
            steps_count: 0,
            network: network(hollow),
            sweep: Sweep::default(),
            own: vec![0.0; cells + 1],
            carries: vec![0.0; links],
            level: vec![0.0; cells + 1],
            gets: vec![0.0; cells],
        }
    }

    /// Room that is filled.
    #[must_use]
    pub fn filled_m3(&self) -> f64 {
        let cells = &self.hollow.cells;
        (0..cells.count())
            .map(|cell| self.filled.share[cell] * cells.whole_room_m3(cell))
            .sum()
    }

    /// The share of the cavities' room that is filled.
    #[must_use]
    pub fn cavities_share(&self) -> f64 {
        let kinds = 0..self.hollow.kinds.len();
        let filled = kinds.map(|kind| {
            let room = self.hollow.cells_of(kind);
            let room: f64 = room.map(|cell| self.hollow.cells.whole_room_m3(cell)).sum();
            self.share_of(kind) * room
        });
        filled.sum::<f64>() / self.hollow.cavities_room_m3()
    }

    /// The share of the room of a kind of cavity that is filled.
    pub(super) fn share_of(&self, kind: usize) -> f64 {
        let (mut filled, mut all) = (0.0, 0.0);
        for cell in self.hollow.cells_of(kind) {
            let room = self.hollow.cells.room_m3[cell];
            filled += self.filled.share[cell] * room;
            all += room;
        }
        filled / all
    }

    /// Finds pressures and flows as they are now: rounds of pressure for a fluidity and fluidity for a flow.
    ///
    /// # Errors
    /// See [`Network::factor`]; the leak keeps it from happening.
    pub fn find(&mut self, drive: &Drive) -> Result<(), NetworkError> {
        let (hollow, stuff) = (self.hollow, self.stuff);
        let rounds = if self.steps_count < 3 {
            FIRST_ROUNDS
        } else {
            ROUNDS
        };
        let filled = &self.filled;
        let mouth = |cell: usize| hollow.mouths.iter().any(|m| m.cell == cell);
        let is_reached: Vec<bool> = (0..hollow.cells.count())
            .map(|cell| filled.is_wet(cell) || mouth(cell))
            .collect();
        let is_front: Vec<bool> = (0..hollow.cells.count())
            .map(|cell| !filled.is_full(cell))
            .collect();
        self.melt.rest_again(stuff, |cell| is_reached[cell]);
        for _ in 0..rounds {
            self.melt.mobilities(hollow, stuff, |cell| is_reached[cell]);
            self.solve(drive, &is_reached)?;
            let change =
                self.melt
                    .gradients(hollow, |cell| is_reached[cell], |cell| is_front[cell]);
            if change < CLOSE_ENOUGH {
                break;
            }
        }
        Ok(())
    }

    /// What a link carries now, and whether it leads to a front: 0 none, 1 its one end, 2 its other.
    fn carries_now(&self, number: usize, is_reached: &[bool]) -> (f64, u8) {
        let link = &self.hollow.links[number];
        let (one, other) = (
            self.filled.is_full(link.one),
            self.filled.is_full(link.other),
        );
        match (one, other) {
            (true, true) => (self.melt.carries(self.hollow, number), 0),
            (false, false) => (0.0, 0),
            (true, false) => (
                self.to_front(link.one, link.other, link.factors, is_reached),
                2,
            ),
            (false, true) => {
                let factors = [link.factors[1], link.factors[0]];
                (self.to_front(link.other, link.one, factors, is_reached), 1)
            }
        }
    }

    /// From a full cell to the front in the next: the way in that grows as it fills.
    fn to_front(&self, full: usize, front: usize, factors: [f64; 2], is_reached: &[bool]) -> f64 {
        let mobility = &self.melt.mobility;
        let beyond = if is_reached[front] {
            mobility[front]
        } else {
            mobility[full]
        };
        let way = 2.0 * self.filled.share[front].max(LEAST_FRONT);
        in_series(mobility[full] * factors[0], beyond * factors[1] / way)
    }

    /// Pressures for the fluidity there is. All fronts stand at no pressure, so all flows grow as the pressure at the nozzle.
    fn solve(&mut self, drive: &Drive, is_reached: &[bool]) -> Result<(), NetworkError> {
        let (cells, links) = (self.hollow.cells.count(), self.hollow.links.len());
        self.own.fill(0.0);
        let mut largest = 0.0_f64;
        for number in 0..links {
            let (carries, front) = self.carries_now(number, is_reached);
            largest = largest.max(carries);
            let link = &self.hollow.links[number];
            self.carries[number] = if front == 0 { carries } else { 0.0 };
            match front {
                1 => self.own[link.other] += carries,
                2 => self.own[link.one] += carries,
                _ => {}
            }
        }
        for (number, mouth) in self.hollow.mouths.iter().enumerate() {
            let through = self.melt.mobility[mouth.cell] * mouth.factor;
            let is_full = self.filled.is_full(mouth.cell);
            let way = 2.0 * self.filled.share[mouth.cell].max(LEAST_FRONT);
            self.carries[links + number] = if is_full { through } else { 0.0 };
            if !is_full {
                self.own[cells] += through / way;
            }
            largest = largest.max(through);
        }
        self.leak(largest);
        self.level.fill(0.0);
        self.level[cells] = drive.flow_factor;
        self.network.factor(&self.own, &self.carries)?;
        self.network.solve(&mut self.level);
        let scale = (drive.most_pa / self.level[cells]).min(1.0);
        self.level.iter_mut().for_each(|p| *p *= scale);
        self.nozzle_pa = self.level[cells];
        self.flow_factor = drive.flow_factor * scale;
        self.melt.p_pa.copy_from_slice(&self.level[..cells]);
        self.carry(is_reached);
        Ok(())
    }

    /// Lets every node carry a hair off; one that nothing leads to stands at no pressure.
    fn leak(&mut self, largest: f64) {
        let (cells, links) = (self.hollow.cells.count(), self.hollow.links.len());
        for (number, link) in self.hollow.links.iter().enumerate() {
            self.own[link.one] += LEAK * self.carries[number];
            self.own[link.other] += LEAK * self.carries[number];
        }
        for (number, mouth) in self.hollow.mouths.iter().enumerate() {
            self.own[mouth.cell] += LEAK * self.carries[links + number];
            self.own[cells] += LEAK * self.carries[links + number];
        }
        for own in self.own.iter_mut().filter(|own| **own == 0.0) {
            *own = largest;
        }
    }

    /// What every link and mouth carries at these pressures.
    fn carry(&mut self, is_reached: &[bool]) {
        let p = &self.melt.p_pa;
        for number in 0..self.hollow.links.len() {
            let (carries, _) = self.carries_now(number, is_reached);
            let link = &self.hollow.links[number];
            let carried = carries * (p[link.one] - p[link.other]);
            self.melt.carried[number] = carried;
        }
        for (number, mouth) in self.hollow.mouths.iter().enumerate() {
            let through = self.melt.mobility[mouth.cell] * mouth.factor;
            let way = 2.0 * self.filled.share[mouth.cell].max(LEAST_FRONT);
            self.melt.entering[number] = if self.filled.is_full(mouth.cell) {
                through * (self.nozzle_pa - p[mouth.cell])
            } else {
                through / way * self.nozzle_pa
            };
        }
    }

    /// How long the next step is: until the first front fills its cell, or so that a share of the room is filled, and no
    /// longer than until `volume_left_m3` more has come.
    #[must_use]
    pub fn step_s(&self, drive: &Drive, volume_left_m3: f64) -> f64 {
        let whole = self.hollow.room_m3();
        let flow = self.flow_factor.max(f64::MIN_POSITIVE);
        let mut first = f64::INFINITY;
        let gets = self.gets_by_cell();
        for (cell, gets) in gets.iter().enumerate().filter(|(_, gets)| **gets > 0.0) {
            if !self.filled.is_full(cell) {
                let left = (1.0 - self.filled.share[cell]) * self.hollow.cells.whole_room_m3(cell);
                first = first.min(left / gets);
            }
        }
        let least = whole / (STEPS * flow);
        let longest = LONGEST_STEP * whole / drive.flow_factor;
        let left = volume_left_m3 / flow;
        first.max(least).min(longest).min(left)
    }

    /// What each front gets, in m³/s.
    fn gets_by_cell(&self) -> Vec<f64> {
        let mut gets = self.gets.clone();
        gets.fill(0.0);
        for (link, carried) in self.hollow.links.iter().zip(&self.melt.carried) {
            let into = if *carried > 0.0 { link.other } else { link.one };
            if !self.filled.is_full(into) {
                gets[into] += carried.abs();
            }
        }
        for (mouth, entering) in self.hollow.mouths.iter().zip(&self.melt.entering) {
            if !self.filled.is_full(mouth.cell) {
                gets[mouth.cell] += entering;
            }
        }
        gets
    }

    /// Lets the flows run for a step, and the heat.
    pub fn advance(&mut self, step_s: f64) {
        self.filled.is_new.fill(false);
        self.filled.from.fill(None);
        let gets = self.gets_by_cell();
        let mut over = Vec::new();
        for (cell, gets) in gets.into_iter().enumerate().filter(|(_, gets)| *gets > 0.0) {
            let volume = gets * step_s;
            if let Some(rest) = self.pour(cell, volume, step_s) {
                over.push((cell, rest));
            }
        }
        self.settle(over, step_s);
        self.let_in_m3 += self.flow_factor * step_s;
        self.time_s += step_s;
        self.steps_count += 1;
        for cell in 0..self.filled.share.len() {
            if self.filled.is_new[cell]
                && let Some(from) = self.feeder(cell)
            {
                self.melt.inherit(cell, from);
            }
        }
        self.sweep.warm(
            self.hollow,
            self.stuff,
            &mut self.melt,
            &self.filled,
            step_s,
        );
    }

    /// A cell that was full before and passes melt to this one.
    fn feeder(&self, cell: usize) -> Option<usize> {
        let beside = self.hollow.beside[cell].iter();
        let others = beside.map(|(link, end)| {
            let link = &self.hollow.links[*link];
            if *end == 0 { link.other } else { link.one }
        });
        let full =
            others.filter(|other| self.filled.is_full(*other) && !self.filled.is_new[*other]);
        full.max_by(|a, b| self.melt.p_pa[*a].total_cmp(&self.melt.p_pa[*b]))
            .or(self.filled.from[cell])
    }

    /// Pours melt into a cell; gives back what is too much for it.
    fn pour(&mut self, cell: usize, volume_m3: f64, step_s: f64) -> Option<f64> {
        let room = self.hollow.cells.whole_room_m3(cell);
        let before = self.filled.share[cell];
        let after = before + volume_m3 / room;
        if before == 0.0 && volume_m3 > 0.0 {
            self.filled.is_new[cell] = true;
        }
        self.filled.share[cell] = after.min(1.0);
        if before < 0.5 && after >= 0.5 {
            let part = (0.5 - before) / (after - before);
            self.arrival_s[cell] = Some(self.time_s + step_s * part);
        }
        (after > 1.0).then_some((after - 1.0) * room)
    }

    /// Passes what was too much for a cell on to the nearest that are not full. All that is over goes at once, and what is
    /// then over goes again, so that nothing hangs on the order of the cells.
    fn settle(&mut self, mut over: Vec<(usize, f64)>, step_s: f64) {
        while !over.is_empty() {
            self.gets.fill(0.0);
            let mut touched = Vec::new();
            for (cell, volume) in &over {
                let open = self.nearest_open(*cell);
                let all: f64 = open.iter().map(|(_, room)| room).sum();
                for (near, room) in open {
                    let part = volume * room / all;
                    if self.filled.share[near] == 0.0 && part > self.gets[near] {
                        self.filled.from[near] = Some(*cell);
                    }
                    if self.gets[near] == 0.0 {
                        touched.push(near);
                    }
                    self.gets[near] += part;
                }
            }
            over.clear();
            for cell in touched {
                if let Some(rest) = self.pour(cell, self.gets[cell], step_s) {
                    over.push((cell, rest));
                }
            }
        }
    }

    /// The cells nearest to one that are not full, by links, with the room they have left; none when all are full.
    fn nearest_open(&self, cell: usize) -> Vec<(usize, f64)> {
        let mut seen = vec![false; self.filled.share.len()];
        seen[cell] = true;
        let mut near = vec![cell];
        while !near.is_empty() {
            let mut next = Vec::new();
            for one in &near {
                for (link, end) in &self.hollow.beside[*one] {
                    let link = &self.hollow.links[*link];
                    let other = if *end == 0 { link.other } else { link.one };
                    if !std::mem::replace(&mut seen[other], true) {
                        next.push(other);
                    }
                }
            }
            let left = |cell: usize| {
                (1.0 - self.filled.share[cell]) * self.hollow.cells.whole_room_m3(cell)
            };
            let open = next.iter().filter(|cell| !self.filled.is_full(**cell));
            let open: Vec<(usize, f64)> = open.map(|cell| (*cell, left(*cell))).collect();
            if !open.is_empty() {
                return open;
            }
            near = next;
        }
        Vec::new()
    }
}
