//! Shear viscosity: the Cross law with the shift of Williams, Landel and Ferry, by rate and by stress.

use std::sync::Arc;

use crate::part::resin::Flow;

/// Slower than this is not asked of the law: below it the melt is taken for solid.
const LEAST_SHIFT_K: f64 = 1.0;

/// Viscosity at rest, in Pa·s, at a temperature in K and a pressure in Pa; infinite where the law ends.
#[must_use]
pub fn rest_pa_s(flow: &Flow, k: f64, pa: f64) -> f64 {
    log_rest(flow, k, pa).exp()
}

/// The natural logarithm of [`rest_pa_s`].
fn log_rest(flow: &Flow, k: f64, pa: f64) -> f64 {
    let above = k - flow.reference_k;
    let shift = flow.second_k + above;
    if shift < LEAST_SHIFT_K {
        return f64::INFINITY;
    }
    flow.rest_pa_s.ln() - flow.first_factor * (above - flow.rise_k_per_pa * pa) / shift
}

/// Viscosity at a shear rate in 1/s, in Pa·s.
#[must_use]
pub fn at_rate_pa_s(flow: &Flow, rate_per_s: f64, k: f64, pa: f64) -> f64 {
    let rest = rest_pa_s(flow, k, pa);
    rest / (1.0 + (rest * rate_per_s / flow.bend_pa).powf(1.0 - flow.index_ratio))
}

/// Viscosity at a shear stress in Pa, in Pa·s.
#[must_use]
pub fn at_stress_pa_s(flow: &Flow, stress_pa: f64, k: f64, pa: f64) -> f64 {
    let n = flow.index_ratio;
    let log_a = (1.0 - n) * (stress_pa / flow.bend_pa).ln();
    rest_pa_s(flow, k, pa) * log_share(n, log_a).exp()
}

/// The logarithm of `x`, the viscosity as a share of that at rest: `x + a xⁿ = 1`, from the logarithm of `a`.
///
/// Newton in the logarithm of `x`; the start is that of the two ends, and the function is convex, so it cannot miss.
fn log_share(n: f64, log_a: f64) -> f64 {
    let ends = if log_a > 0.0 { n } else { 1.0 };
    // ln(1 + a), without overflow.
    let one_more = log_a.max(0.0) + (-log_a.abs()).exp().ln_1p();
    let mut y = -one_more / ends;
    for _ in 0..MOST_ROUNDS {
        let (x, pull) = (y.exp(), (log_a + n * y).exp());
        let step = (x + pull - 1.0) / (x + n * pull);
        y -= step;
        if step.abs() < 1e-14 * (1.0 + y.abs()) {
            break;
        }
    }
    y
}

/// Newton's rounds at most; six are enough, the rest is for the last digit.
const MOST_ROUNDS: usize = 20;

/// The law made fast: the fluidity as a multiple of that at rest, tabled over the logarithm of the stress.
///
/// A cubic through values and slopes at equal steps of `ln a`. The steepest rise is with `ln a / n`, so with a step of `n/10`
/// it is within `0.1⁴/384`, 3e-7, of the law.
/// The shift with temperature and pressure needs one division and one exponential and is not tabled.
#[derive(Debug, Clone)]
pub struct Fast {
    flow: Flow,
    log_rest: f64,
    log_bend: f64,
    per_step: f64,
    /// Value and slope times the step of `1/x`, divided by the exponential of its straight part.
    nodes: Arc<[[f64; 2]]>,
}

/// Step of the table in `ln a` as a share of the power index, its first place and its last.
const STEP: f64 = 0.1;
const FIRST: f64 = -16.0;
const LAST: f64 = 10.0;
/// A melt is never taken for thinner than this: no law is known there, and dissipation would run away.
const LEAST_PA_S: f64 = 1.0;

impl Fast {
    /// The table of a resin.
    #[must_use]
    pub fn of(flow: &Flow) -> Self {
        let n = flow.index_ratio;
        let step = STEP * n;
        let count = ((LAST - FIRST) / step).ceil() as usize + 1;
        let node = |at: usize| {
            let log_a = FIRST + step * at as f64;
            let y = log_share(n, log_a);
            let (x, pull) = (y.exp(), (log_a + n * y).exp());
            // d ln x / d ln a by the law itself.
            let slope = -pull / (x + n * pull);
            [(-y).exp(), -slope * (-y).exp() * step]
        };
        Self {
            flow: *flow,
            log_rest: flow.rest_pa_s.ln(),
            log_bend: flow.bend_pa.ln(),
            per_step: 1.0 / step,
            nodes: (0..count).map(node).collect(),
        }
    }

    /// Fluidity at rest, in 1/(Pa·s), at a temperature in K and a pressure in Pa; zero where the law ends.
    #[must_use]
    pub(super) fn rest_fluidity(&self, k: f64, pa: f64) -> f64 {
        let above = k - self.flow.reference_k;
        let shift = self.flow.second_k + above;
        if shift < LEAST_SHIFT_K {
            return 0.0;
        }
        let log = self.flow.first_factor * (above - self.flow.rise_k_per_pa * pa) / shift;
        (log - self.log_rest).exp().min(1.0 / LEAST_PA_S)
    }

    /// `ln a` of a stress given by the logarithm of it in Pa.
    #[must_use]
    pub(super) fn log_a(&self, log_stress: f64) -> f64 {
        (1.0 - self.flow.index_ratio) * (log_stress - self.log_bend)
    }

    /// How many times as fluid as at rest it is, and the slope of that over `ln a`.
    #[must_use]
    pub(super) fn thinning(&self, log_a: f64) -> (f64, f64) {
        let last = (self.nodes.len() - 1) as f64;
        let place = ((log_a - FIRST) * self.per_step).clamp(0.0, last - 1e-9);
        let at = place as usize;
        let t = place - at as f64;
        let ([a, da], [b, db]) = (self.nodes[at], self.nodes[at + 1]);
        let (c, d) = (3.0 * (b - a) - 2.0 * da - db, 2.0 * (a - b) + da + db);
        let value = a + t * (da + t * (c + t * d));
        (value, (da + t * (2.0 * c + 3.0 * t * d)) * self.per_step)
    }

    /// Power index of fast shear.
    #[must_use]
    pub fn index_ratio(&self) -> f64 {
        self.flow.index_ratio
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shelf::resins;

    #[test]
    fn law_stress_and_rate_are_one_viscosity() {
        for resin in resins() {
            let flow = &resin.flow;
            let k = resin.handling.melt_degc.likely + 273.0;
            for rate in [1e-3, 1.0, 1e2, 1e3, 1e4, 1e6] {
                let by_rate = at_rate_pa_s(flow, rate, k, 2e7);
                let by_stress = at_stress_pa_s(flow, by_rate * rate, k, 2e7);
                // Newton to rounding, made 1/n times larger where the law is steep.
                assert!((by_stress / by_rate - 1.0).abs() < 1e-11, "{rate}");
            }
        }
    }

    #[test]
    fn twin_the_table_is_the_law_to_three_parts_in_ten_million() {
        for resin in resins() {
            let (flow, fast) = (&resin.flow, Fast::of(&resin.flow));
            let k = resin.handling.melt_degc.likely + 273.0;
            for step in 0..4000 {
                let stress = 1.0 * 1.0045_f64.powi(step);
                let law = at_stress_pa_s(flow, stress, k, 3e7);
                if law < LEAST_PA_S {
                    break;
                }
                let log_a = fast.log_a(stress.ln());
                let rest = fast.rest_fluidity(k, 3e7);
                let (thin, slope) = fast.thinning(log_a);
                assert!((thin * rest * law - 1.0).abs() < 3e-7, "{stress}");
                let h = 1e-4;
                let (up, down) = (fast.thinning(log_a + h).0, fast.thinning(log_a - h).0);
                // A difference of numbers about one, rounded, over 2e-4; and the cubic bends where it begins anew.
                let off = ((up - down) / (2.0 * h) - slope).abs();
                assert!(off < 1e-4 * slope + 1e-11, "{off} {slope}");
            }
        }
    }

    #[test]
    fn law_a_cold_melt_does_not_flow() {
        let flow = &resins()[0].flow;
        assert_eq!(
            Fast::of(flow).rest_fluidity(flow.reference_k - 60.0, 0.0),
            0.0
        );
        assert_eq!(rest_pa_s(flow, flow.reference_k - 60.0, 0.0), f64::INFINITY);
    }
}
