//! Heat through the layers of one cell: conduction to the steel, what the flow brings, what shear makes.

use super::layers::{Form, Layers, MOST_LAYERS};
use super::matter::Matter;

/// What a cell is asked to do in one step of time.
#[derive(Debug, Clone, Copy)]
pub struct Step<'a> {
    /// The step, in s.
    pub time_s: f64,
    /// Half depth or radius.
    pub half_m: f64,
    /// Temperature of the steel.
    pub steel_k: f64,
    /// Heat passed between resin and steel, in W/(m²·K); infinite where they touch perfectly. The unit is in this sentence.
    pub film_factor: f64,
    /// What flows in, in m³/s for each square metre of one half of a slit, or each metre of a round channel; unit as said.
    pub inflow_factor: f64,
    /// Temperature of what flows into each layer.
    pub from_k: &'a [f64],
    /// Share of each layer in what flows in.
    pub shares: &'a [f64],
    /// Fluidity of each layer.
    pub fluid: &'a [f64],
    /// Pressure gradient, in Pa/m.
    pub gradient_factor: f64,
}

impl Layers {
    /// Takes the temperatures of a cell one step of time further: implicit in conduction and in what flows in, so no step is
    /// too long, and without shear no layer leaves the range of those it is fed by.
    pub fn warm(&self, matter: &Matter, step: &Step<'_>, t: &mut [f64]) {
        let before: [f64; MOST_LAYERS] = std::array::from_fn(|k| *t.get(k).unwrap_or(&0.0));
        self.one_pass(matter, step, &before[..self.count], t);
        if matter.freezes() {
            // The capacity leaps: it is taken between where the layer was and where it comes to.
            self.one_pass(matter, step, &before[..self.count], t);
        }
    }

    /// One solution with the properties between `before` and `t`, which it replaces.
    fn one_pass(&self, matter: &Matter, step: &Step<'_>, before: &[f64], t: &mut [f64]) {
        let count = self.count;
        // A slit's layers are as thick as its half depth has it; those of a round channel grow with its square.
        let (room, face, steel) = match self.form {
            Form::Slit => (step.half_m, 1.0 / step.half_m, 1.0),
            Form::Round => (step.half_m * step.half_m, 1.0, step.half_m),
        };
        let (mut diagonal, mut right) = ([0.0; MOST_LAYERS], [0.0; MOST_LAYERS]);
        // What passes between a layer and the next.
        let mut across = [0.0; MOST_LAYERS];
        let mut conducts = matter.conductivity_at(t[0]);
        for k in 0..count {
            let stores = matter.density_kg_m3(t[k]) * matter.capacity_between(t[k], before[k]);
            let held = stores * self.room[k] * room / step.time_s;
            let brought = stores * step.inflow_factor * step.shares[k];
            let heat = self.shear_heat(k, step.fluid[k], step.half_m, step.gradient_factor);
            diagonal[k] += held + brought;
            right[k] = held * before[k] + brought * step.from_k[k] + heat;
            let here = conducts;
            if k + 1 < count {
                conducts = matter.conductivity_at(t[k + 1]);
                across[k] = self.face[k] * face * 2.0 * here * conducts / (here + conducts);
                diagonal[k] += across[k];
                diagonal[k + 1] += across[k];
            } else {
                let inside = 1.0 / (self.face[k] * face * here);
                let film = 1.0 / (step.film_factor * self.steel * steel);
                let out = 1.0 / (inside + film);
                diagonal[k] += out;
                right[k] += out * step.steel_k;
            }
        }
        for k in 1..count {
            let share = across[k - 1] / diagonal[k - 1];
            diagonal[k] -= share * across[k - 1];
            right[k] += share * right[k - 1];
        }
        t[count - 1] = right[count - 1] / diagonal[count - 1];
        for k in (0..count - 1).rev() {
            t[k] = (right[k] + across[k] * t[k + 1]) / diagonal[k];
        }
    }
}
