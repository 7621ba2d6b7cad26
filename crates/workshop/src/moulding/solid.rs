//! Which part of a wall still flows, and how fluid its layers are at rest.

use super::viscosity::Fast;

/// Fills `rest` with the fluidity at rest of each layer. Below `no_flow_k` nothing flows; the layer that holds the border
/// counts with the part of it that is warmer, so that a wall freezes evenly and not layer by layer.
pub fn rest_fluidities(fast: &Fast, no_flow_k: f64, pressure_pa: f64, t: &[f64], rest: &mut [f64]) {
    let count = t.len();
    for k in 0..count {
        let inner = if k == 0 {
            t[0]
        } else {
            0.5 * (t[k - 1] + t[k])
        };
        let outer = if k + 1 == count {
            2.0 * t[k] - inner
        } else {
            0.5 * (t[k] + t[k + 1])
        };
        let (warm, cold) = (inner.max(outer), inner.min(outer));
        rest[k] = if cold >= no_flow_k {
            fast.rest_fluidity(t[k], pressure_pa)
        } else if warm <= no_flow_k {
            0.0
        } else {
            let share = (warm - no_flow_k) / (warm - cold);
            share * fast.rest_fluidity(0.5 * (warm + no_flow_k), pressure_pa)
        };
    }
}
