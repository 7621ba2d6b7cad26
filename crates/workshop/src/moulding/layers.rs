//! Layers from the middle of a wall, or of a round channel, to the steel: how well they let pass, how they share the flow.

use super::viscosity::Fast;

/// The most layers that can be asked for.
pub const MOST_LAYERS: usize = 32;

/// The form of a hollow across the flow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Between two walls; both halves are alike and one is reckoned.
    Slit,
    /// Round.
    Round,
}

/// The layers of one form in parts of the half depth, or of the radius: all cells of the form share them.
///
/// The mobility of a slit is `S = q/G`, flow per width over pressure gradient; that of a round channel `Q/G`.
#[derive(Debug, Clone)]
pub struct Layers {
    /// Which form.
    pub form: Form,
    /// How many.
    pub count: usize,
    /// What a layer of fluidity one adds to the mobility.
    moment: Vec<f64>,
    /// Logarithm of the place where the stress of a layer is taken, with the half of `τ = r G/2`.
    log_place: Vec<f64>,
    /// Room of a layer.
    pub(super) room: Vec<f64>,
    /// Area of the face to the next layer over the way to its middle; the last is that of the steel over half a layer.
    pub(super) face: Vec<f64>,
    /// What a layer's own shear adds to its own flow, and to the speed of every layer inside it.
    own: Vec<f64>,
    slip: Vec<f64>,
    /// Area of the steel.
    pub(super) steel: f64,
}

impl Layers {
    /// Equal layers of a form.
    ///
    /// The stress of a layer is taken where the square of it is the layer's mean, weighed by what the layer carries; that
    /// is exact for a power law of index 1/3 and of second order for all.
    #[must_use]
    pub fn of(form: Form, count: usize) -> Self {
        let count = count.clamp(1, MOST_LAYERS);
        let step = 1.0 / count as f64;
        let edge = |k: usize| k as f64 * step;
        let power = |k: usize, p: i32| edge(k + 1).powi(p) - edge(k).powi(p);
        let pi = std::f64::consts::PI;
        let mut layers = Self {
            form,
            count,
            moment: Vec::new(),
            log_place: Vec::new(),
            room: Vec::new(),
            face: Vec::new(),
            own: Vec::new(),
            slip: Vec::new(),
            steel: if form == Form::Slit { 1.0 } else { 2.0 * pi },
        };
        for k in 0..count {
            let (outer, squares) = (edge(k + 1), power(k, 2));
            let way = if k + 1 == count { 0.5 * step } else { step };
            match form {
                Form::Slit => {
                    layers.moment.push(2.0 / 3.0 * power(k, 3));
                    let place = (power(k, 5) / 5.0 / (power(k, 3) / 3.0)).sqrt();
                    layers.log_place.push(place.ln());
                    layers.room.push(step);
                    layers.face.push(1.0 / way);
                    layers
                        .own
                        .push(0.5 * (outer * outer * step - power(k, 3) / 3.0));
                    layers.slip.push(0.5 * squares);
                }
                Form::Round => {
                    layers.moment.push(pi / 8.0 * power(k, 4));
                    let place = (power(k, 6) / 6.0 / (power(k, 4) / 4.0)).sqrt();
                    layers.log_place.push((0.5 * place).ln());
                    layers.room.push(pi * squares);
                    layers.face.push(2.0 * pi * outer / way);
                    let inner = outer * outer * squares / 2.0 - power(k, 4) / 4.0;
                    layers.own.push(0.5 * pi * inner);
                    layers.slip.push(0.25 * squares);
                }
            }
        }
        layers
    }

    /// The power of the half depth that the mobility grows with.
    fn scale(&self, half_m: f64) -> f64 {
        match self.form {
            Form::Slit => half_m * half_m * half_m,
            Form::Round => half_m * half_m * half_m * half_m,
        }
    }

    /// Mobility in m³/(Pa·s) of a slit or m⁴/(Pa·s) of a round channel (unit in this sentence), and how steeply its logarithm
    /// rises with that of the pressure gradient. `rest` is the fluidity at rest of each layer; `fluid` is filled with that
    /// under the gradient.
    pub fn mobility(
        &self,
        fast: &Fast,
        rest: &[f64],
        fluid: &mut [f64],
        half_m: f64,
        log_gradient: f64,
    ) -> Through {
        let base = fast.log_a(log_gradient + half_m.ln());
        let thin = 1.0 - fast.index_ratio();
        let (mut sum, mut slope) = (0.0, 0.0);
        for (k, (rest, fluid)) in rest.iter().zip(fluid.iter_mut()).enumerate() {
            if *rest == 0.0 {
                *fluid = 0.0;
                continue;
            }
            let (times, rise) = fast.thinning(base + thin * self.log_place[k]);
            *fluid = rest * times;
            sum += self.moment[k] * *fluid;
            slope += self.moment[k] * rest * rise;
        }
        Through {
            mobility_factor: sum * self.scale(half_m),
            bend_factor: if sum > 0.0 { thin * slope / sum } else { 0.0 },
        }
    }

    /// The share of each layer in the flow, for layers of that fluidity. Without any flow all are zero.
    pub fn shares(&self, fluid: &[f64], shares: &mut [f64]) {
        // The speed at the outer face of a layer is what the layers outside it have slipped.
        let (mut speed, mut all) = (0.0, 0.0);
        for k in (0..self.count).rev() {
            shares[k] = speed * self.room[k] + fluid[k] * self.own[k];
            speed += fluid[k] * self.slip[k];
            all += shares[k];
        }
        if all > 0.0 {
            shares[..self.count].iter_mut().for_each(|s| *s /= all);
        }
    }

    /// What each layer makes of the heat of shear, in W for a metre of width and length of one half of a slit, or for a metre
    /// of a round channel: together the flow times its pressure gradient.
    pub(super) fn shear_heat(&self, k: usize, fluid: f64, half_m: f64, gradient: f64) -> f64 {
        let halved = if self.form == Form::Slit { 0.5 } else { 1.0 };
        halved * gradient * gradient * self.scale(half_m) * self.moment[k] * fluid
    }
}

/// How well a cell lets pass at a gradient.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Through {
    /// Flow over pressure gradient.
    pub mobility_factor: f64,
    /// Rise of its logarithm with that of the gradient: 0 for a Newtonian melt, `1/n − 1` for a power law.
    pub bend_factor: f64,
}
