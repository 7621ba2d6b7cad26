//! Heat in the whole hollow, cell after cell down the pressure: what flows in is known when a cell's turn comes.

use super::cells::Hollow;
use super::layers::MOST_LAYERS;
use super::melt::{Melt, Stuff};
use super::warm::Step;

/// How full each cell is, and what filled it where no link did.
#[derive(Debug, Clone)]
pub struct Filled {
    /// Share of the cell's room that is filled.
    pub share: Vec<f64>,
    /// Whether melt has come in during this very step for the first time.
    pub(super) is_new: Vec<bool>,
    /// The cell whose overflow came in, for a new cell that no link fed.
    pub(super) from: Vec<Option<usize>>,
}

impl Filled {
    /// All empty, or all full.
    #[must_use]
    pub fn all(cells: usize, share: f64) -> Self {
        Self {
            share: vec![share; cells],
            is_new: vec![false; cells],
            from: vec![None; cells],
        }
    }

    /// Whether a cell is full.
    #[must_use]
    pub fn is_full(&self, cell: usize) -> bool {
        self.share[cell] >= FULL
    }

    /// Whether every cell is full.
    #[must_use]
    pub fn is_all_full(&self) -> bool {
        (0..self.share.len()).all(|cell| self.is_full(cell))
    }

    /// Whether there is any melt in a cell.
    #[must_use]
    pub fn is_wet(&self, cell: usize) -> bool {
        self.share[cell] > 0.0
    }
}

/// A cell filled to a rounding is full: cells that fill together by symmetry do so in the same step.
const FULL: f64 = 1.0 - 1e-7;

/// The order of the cells for one step, kept so that it need not be made anew.
#[derive(Debug, Clone, Default)]
pub struct Sweep {
    order: Vec<u32>,
    /// What was poured over into each cell, where that was so: as warm as it was before the step.
    poured_k: Vec<f64>,
}

impl Sweep {
    /// Takes all temperatures one step further.
    pub fn warm(
        &mut self,
        hollow: &Hollow,
        stuff: &Stuff,
        melt: &mut Melt,
        filled: &Filled,
        time_s: f64,
    ) {
        self.order.clear();
        let cells = 0..hollow.cells.count() as u32;
        self.order
            .extend(cells.filter(|c| filled.is_wet(*c as usize)));
        let p = &melt.p_pa;
        self.order
            .sort_by(|a, b| p[*b as usize].total_cmp(&p[*a as usize]));
        let poured = |from: &Option<usize>| {
            from.map_or(stuff.melt_k, |from| bulk_of(stuff, hollow, melt, from))
        };
        self.poured_k.clear();
        self.poured_k.extend(filled.from.iter().map(poured));
        for cell in &self.order {
            let cell = *cell as usize;
            one_cell(
                hollow,
                stuff,
                melt,
                filled,
                (cell, self.poured_k[cell]),
                time_s,
            );
        }
    }
}

/// What flows into a cell: how much, and how warm in each layer.
struct Inflow {
    m3_per_s: f64,
    k: [f64; MOST_LAYERS],
}

fn one_cell(
    hollow: &Hollow,
    stuff: &Stuff,
    melt: &mut Melt,
    filled: &Filled,
    (cell, poured_k): (usize, f64),
    time_s: f64,
) {
    let (cells, count) = (&hollow.cells, stuff.count);
    let layers = stuff.layers(cells.form[cell]);
    let is_full = filled.is_full(cell);
    let mut inflow = inflow(hollow, stuff, melt, filled, cell);
    let mut shares = [0.0; MOST_LAYERS];
    let at = cell * count..(cell + 1) * count;
    let mut used = 1.0;
    if is_full {
        layers.shares(&melt.fluid[at.clone()], &mut shares);
    } else {
        // At the front the melt turns over from the middle to the steel: all layers get the same.
        let bulk = if inflow.m3_per_s > 0.0 {
            inflow.k[..count].iter().sum::<f64>() / count as f64
        } else {
            poured_k
        };
        inflow.k[..count].fill(bulk);
        shares[..count].copy_from_slice(&layers.room);
        let all: f64 = layers.room.iter().sum();
        shares[..count].iter_mut().for_each(|s| *s /= all);
        used = filled.share[cell];
        if filled.is_new[cell] {
            melt.t_k[at.clone()].fill(bulk);
            // What has just come in is as warm as it came.
            inflow.m3_per_s = 0.0;
        }
    }
    let pressed = usize::from(melt.p_pa[cell] <= 0.0 && is_full);
    // A slit is reckoned by halves.
    let halves = if cells.form[cell] == super::layers::Form::Slit {
        2.0
    } else {
        1.0
    };
    let step = Step {
        time_s,
        half_m: cells.half_m[cell],
        steel_k: stuff.steel_k,
        film_factor: stuff.film_factor[pressed],
        inflow_factor: inflow.m3_per_s / (halves * cells.copies[cell] * cells.reach[cell] * used),
        from_k: &inflow.k[..count],
        shares: &shares[..count],
        fluid: &melt.fluid[at.clone()],
        gradient_factor: melt.gradient[cell],
    };
    layers.warm(&stuff.matter, &step, &mut melt.t_k[at]);
}

/// What comes in through links and mouths. Into a cell that is not full it comes with one temperature.
fn inflow(hollow: &Hollow, stuff: &Stuff, melt: &Melt, filled: &Filled, cell: usize) -> Inflow {
    let count = stuff.count;
    let mut sum = Inflow {
        m3_per_s: 0.0,
        k: [0.0; MOST_LAYERS],
    };
    let is_full = filled.is_full(cell);
    for (link, end) in &hollow.beside[cell] {
        let carried = melt.carried[*link];
        let comes = if *end == 0 { -carried } else { carried };
        if comes > 0.0 {
            let link = &hollow.links[*link];
            let donor = if *end == 0 { link.other } else { link.one };
            sum.m3_per_s += comes;
            if is_full {
                let donor = Melt::of(&melt.t_k, donor, count);
                for (k, t) in sum.k.iter_mut().zip(donor) {
                    *k += comes * t;
                }
            } else {
                let bulk = bulk_of(stuff, hollow, melt, donor);
                sum.k[..count].iter_mut().for_each(|k| *k += comes * bulk);
            }
        }
    }
    let mouths = hollow.mouths.iter().zip(&melt.entering);
    for (_, entering) in mouths.filter(|(mouth, e)| mouth.cell == cell && **e > 0.0) {
        sum.m3_per_s += entering;
        sum.k[..count]
            .iter_mut()
            .for_each(|k| *k += entering * stuff.melt_k);
    }
    if sum.m3_per_s > 0.0 {
        sum.k[..count].iter_mut().for_each(|k| *k /= sum.m3_per_s);
    }
    sum
}

/// Temperature of what flows out of a cell, all layers mixed.
fn bulk_of(stuff: &Stuff, hollow: &Hollow, melt: &Melt, cell: usize) -> f64 {
    let (count, mut shares) = (stuff.count, [0.0; MOST_LAYERS]);
    let layers = stuff.layers(hollow.cells.form[cell]);
    layers.shares(Melt::of(&melt.fluid, cell, count), &mut shares);
    let t = Melt::of(&melt.t_k, cell, count);
    let mixed: f64 = t.iter().zip(&shares).map(|(t, share)| t * share).sum();
    // A cell through which nothing flows is as warm as its middle.
    if shares[..count].iter().all(|s| *s == 0.0) {
        t[0]
    } else {
        mixed
    }
}
