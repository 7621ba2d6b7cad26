//! The melt in every cell: temperatures, fluidity, pressure, and what the links carry.

use super::cells::Hollow;
use super::given::Given;
use super::layers::{Form, Layers};
use super::matter::Matter;
use super::scale::kelvin;
use super::solid::rest_fluidities;
use super::viscosity::Fast;

/// The logarithm of the least pressure gradient that is told apart, in Pa/m: there every melt is Newtonian.
const LEAST_LOG_GRADIENT: f64 = 0.0;

/// What the reckoning needs to know of resin and set-up, in SI units.
#[derive(Debug, Clone)]
pub struct Stuff {
    /// Viscosity.
    pub fast: Fast,
    /// Heat.
    pub matter: Matter,
    /// Layers of flat and of round hollows.
    pub slit: Layers,
    /// The same of round ones.
    pub round: Layers,
    /// Layers to a cell.
    pub count: usize,
    /// Temperature below which nothing flows.
    pub no_flow_k: f64,
    /// Melt at the nozzle.
    pub melt_k: f64,
    /// Steel.
    pub steel_k: f64,
    /// Heat passed to the steel under pressure and without, in W/(m²·K) (unit here).
    pub film_factor: [f64; 2],
}

impl Stuff {
    /// Those of a shot.
    #[must_use]
    pub fn of(given: &Given) -> Self {
        let count = given.grid.layers_count;
        let slit = Layers::of(Form::Slit, count);
        Self {
            fast: Fast::of(&given.resin.flow),
            matter: Matter::of(&given.resin),
            count: slit.count,
            slit,
            round: Layers::of(Form::Round, count),
            no_flow_k: kelvin(given.resin.heat.no_flow_degc),
            melt_k: kelvin(given.process.melt_degc),
            steel_k: kelvin(given.process.wall_degc),
            film_factor: [
                given.mould.pressed_w_m2_k.likely,
                given.mould.loose_w_m2_k.likely,
            ],
        }
    }

    /// The layers of a form.
    #[must_use]
    pub fn layers(&self, form: Form) -> &Layers {
        match form {
            Form::Slit => &self.slit,
            Form::Round => &self.round,
        }
    }
}

/// The melt, each list by cell; those of the layers cell after cell.
#[derive(Debug, Clone)]
pub struct Melt {
    /// Temperature of each layer.
    pub t_k: Vec<f64>,
    /// Fluidity at rest of each layer, in 1/(Pa·s) (unit here).
    pub(super) rest: Vec<f64>,
    /// The same under the shear there is.
    pub(super) fluid: Vec<f64>,
    /// Logarithm of the pressure gradient that the fluidity is taken at.
    log_gradient: Vec<f64>,
    /// Gradient that goes with what the links carry, in Pa/m (unit here).
    pub(super) gradient: Vec<f64>,
    /// Mobility and its bend.
    pub(super) mobility: Vec<f64>,
    pub(super) bend: Vec<f64>,
    /// Which part of the square of the gradient lies along the way, and which aside.
    pub(super) ways: Vec<[f64; 2]>,
    /// Pressure.
    pub p_pa: Vec<f64>,
    /// What each link carries from its one end to the other, all copies, in m³/s (unit here).
    pub(super) carried: Vec<f64>,
    /// What each mouth lets in.
    pub(super) entering: Vec<f64>,
    /// Room for the sums along and aside.
    sums: Vec<[f64; 2]>,
}

impl Melt {
    /// No melt yet.
    #[must_use]
    pub fn none(hollow: &Hollow, stuff: &Stuff) -> Self {
        let (cells, layers) = (hollow.cells.count(), stuff.count);
        Self {
            t_k: vec![stuff.melt_k; cells * layers],
            rest: vec![0.0; cells * layers],
            fluid: vec![0.0; cells * layers],
            log_gradient: vec![STARTS_AT.ln(); cells],
            gradient: vec![0.0; cells],
            mobility: vec![0.0; cells],
            bend: vec![0.0; cells],
            ways: vec![[1.0, 0.0]; cells],
            p_pa: vec![0.0; cells],
            carried: vec![0.0; hollow.links.len()],
            entering: vec![0.0; hollow.mouths.len()],
            sums: vec![[0.0; 2]; cells],
        }
    }

    /// The layers of a cell in one of the lists of layers.
    pub(super) fn of(list: &[f64], cell: usize, count: usize) -> &[f64] {
        &list[cell * count..(cell + 1) * count]
    }

    /// Takes the fluidity at rest from temperature and pressure.
    pub(super) fn rest_again(&mut self, stuff: &Stuff, wet: impl Fn(usize) -> bool) {
        let count = stuff.count;
        for (cell, pressure) in self.p_pa.iter().enumerate().filter(|(cell, _)| wet(*cell)) {
            let at = cell * count..(cell + 1) * count;
            rest_fluidities(
                &stuff.fast,
                stuff.no_flow_k,
                *pressure,
                &self.t_k[at.clone()],
                &mut self.rest[at],
            );
        }
    }

    /// Takes the mobility of each cell at the gradient it is held to have.
    pub(super) fn mobilities(
        &mut self,
        hollow: &Hollow,
        stuff: &Stuff,
        wet: impl Fn(usize) -> bool,
    ) {
        let count = stuff.count;
        for cell in 0..self.mobility.len() {
            if !wet(cell) {
                continue;
            }
            let at = cell * count..(cell + 1) * count;
            let through = stuff.layers(hollow.cells.form[cell]).mobility(
                &stuff.fast,
                &self.rest[at.clone()],
                &mut self.fluid[at],
                hollow.cells.half_m[cell],
                self.log_gradient[cell],
            );
            self.mobility[cell] = through.mobility_factor;
            self.bend[cell] = through.bend_factor;
        }
    }

    /// A cell begins with the gradient of the one that feeds it.
    pub(super) fn inherit(&mut self, cell: usize, from: usize) {
        self.log_gradient[cell] = self.log_gradient[from];
    }

    /// What a link carries for a pressure of one between its ends; 0 where one of them is frozen.
    pub(super) fn carries(&self, hollow: &Hollow, link: usize) -> f64 {
        let link = &hollow.links[link];
        in_series(
            self.mobility[link.one] * link.factors[0],
            self.mobility[link.other] * link.factors[1],
        )
    }

    /// The same, and how much steeper than its pressure the flow of the link rises: the part beyond one.
    pub(super) fn carries_and_bends(&self, hollow: &Hollow, link: usize) -> (f64, f64) {
        let link = &hollow.links[link];
        let one = self.mobility[link.one] * link.factors[0];
        let other = self.mobility[link.other] * link.factors[1];
        let carries = in_series(one, other);
        if carries <= 0.0 {
            return (0.0, 0.0);
        }
        // Each end takes its part of the fall of pressure, and bends with what flows the way of the link.
        let way = usize::from(link.aside);
        let bend = |cell: usize| self.bend[cell] * self.ways[cell][way];
        let steeper = bend(link.one) / one + bend(link.other) / other;
        (carries, carries * steeper)
    }

    /// Takes the gradients from what is carried, and moves those the fluidity is taken at toward them: by all that a power
    /// law of the cell's own bend asks for. Gives the largest change of a logarithm among cells that carry much.
    pub(super) fn gradients(
        &mut self,
        hollow: &Hollow,
        wet: impl Fn(usize) -> bool,
        is_front: impl Fn(usize) -> bool,
    ) -> f64 {
        self.sums.fill([0.0; 2]);
        for (link, carried) in hollow.links.iter().zip(&self.carried) {
            let (way, much) = (usize::from(link.aside), carried.abs());
            self.sums[link.one][way] += much;
            self.sums[link.other][way] += much;
        }
        for (mouth, entering) in hollow.mouths.iter().zip(&self.entering) {
            self.sums[mouth.cell][0] += entering.abs();
        }
        let mut most = 0.0_f64;
        for cell in 0..self.gradient.len() {
            if !wet(cell) || self.mobility[cell] <= 0.0 {
                self.gradient[cell] = 0.0;
                continue;
            }
            // Half of what comes and goes passes the middle; what comes to a front all passes.
            let through = if is_front(cell) { 1.0 } else { 0.5 };
            let [along, aside] = self.sums[cell];
            let widths = hollow.cells.widths[cell];
            let (along, aside) = (along / widths[0], aside / widths[1]);
            let square = along * along + aside * aside;
            if square > 0.0 {
                self.ways[cell] = [along * along / square, aside * aside / square];
            }
            let flow = square.sqrt() * through;
            self.gradient[cell] = flow / (hollow.cells.copies[cell] * self.mobility[cell]);
            let log = self.gradient[cell].ln().max(LEAST_LOG_GRADIENT);
            let change = log - self.log_gradient[cell];
            let moved = change / (1.0 + self.bend[cell]);
            self.log_gradient[cell] += moved;
            if self.bend[cell] > LEAST_BEND {
                most = most.max(moved.abs());
            }
        }
        most
    }
}

/// Below this bend the mobility hardly hangs on the gradient.
const LEAST_BEND: f64 = 0.05;
/// The gradient the melt starts with, in Pa/m.
const STARTS_AT: f64 = 1e7;

/// Two in series: what both carry together; one of them may carry without end.
pub(super) fn in_series(one: f64, other: f64) -> f64 {
    if one > 0.0 && other > 0.0 {
        1.0 / (1.0 / one + 1.0 / other)
    } else {
        0.0
    }
}
