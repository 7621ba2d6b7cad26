//! Losses of pressure on the way from the nozzle to the front.

use std::f64::consts::PI;

use super::cells::Hollow;
use super::given::Given;
use super::layers::Form;
use super::melt::Melt;
use super::scale::MEGA;
use super::shot::Drop;

/// Losses from the nozzle to the front of the first cavity: every branch, its gate, the cavity.
pub(super) fn drops(given: &Given, hollow: &Hollow, melt: &Melt, nozzle_pa: f64) -> Vec<Drop> {
    let Some(kind) = hollow.kinds.iter().find(|kind| kind.members.contains(&0)) else {
        return Vec::new();
    };
    let mut drops = Vec::new();
    let mut before = nozzle_pa;
    let mut note = |name: &str, to: f64, shear_per_s: Option<f64>| {
        drops.push(Drop {
            name: name.to_owned(),
            pressure_mpa: (before - to) / MEGA,
            shear_per_s,
        });
        before = to;
    };
    for branch in &kind.way {
        if let Some(end) = hollow.branch_ends[*branch] {
            let shear = shear_per_s(hollow, melt, end);
            note(
                &given.mould.branches[*branch].name,
                melt.p_pa[end],
                Some(shear),
            );
        }
    }
    // Where the gate ends: its middle less the half of its own way that is left.
    if let Some(gate) = kind.gates.first() {
        let out = hollow.beside[*gate].iter().filter(|(_, end)| *end == 0);
        let (flow, factor) = out.fold((0.0, 0.0), |(flow, factor), (link, _)| {
            let of = hollow.links[*link].factors[0];
            (flow + melt.carried[*link], factor + of)
        });
        let last = flow / (melt.mobility[*gate] * factor).max(f64::MIN_POSITIVE);
        let shear = shear_per_s(hollow, melt, *gate);
        note("gate", melt.p_pa[*gate] - last, Some(shear));
    }
    note("cavity", 0.0, None);
    drops
}

/// Rate of shear at the steel of a channel, by Rabinowitsch with the bend of the cell's own mobility, in 1/s (unit here).
fn shear_per_s(hollow: &Hollow, melt: &Melt, cell: usize) -> f64 {
    let cells = &hollow.cells;
    let half = cells.half_m[cell];
    let through = melt.gradient[cell] * melt.mobility[cell];
    let bend = melt.bend[cell];
    match cells.form[cell] {
        // Q/G = mobility; 4 Q / (π R³) times (4 + bend) / 4.
        Form::Round => through / (PI * half * half * half) * (4.0 + bend),
        // q/G = mobility; 6 q / H² times (3 + bend) / 3.
        Form::Slit => 0.5 * through / (half * half) * (3.0 + bend),
    }
}
