//! How long two plain drums sleep, thrown to 4000 rpm, by a dry bearing and the air on their faces.
//!
//! `cargo run --release --example 03_how_long_it_sleeps`

use whirlwright_workshop::design;
use whirlwright_workshop::part::job::*;
use whirlwright_workshop::part::{Outline, Range};
use whirlwright_workshop::spin::{Given, spin};

/// Sleep in s, polar inertia in g·mm², density in kg/m³ and viscosity in Pa·s of the air.
pub fn run() -> Result<[f64; 4], String> {
    let drum = Piece {
        name: "drum".to_owned(),
        side: Side::Both,
        outline: Outline::read("M 2.2 0 H 12 V 28 H 2.2 Z").map_err(|fault| fault.to_string())?,
        material: PieceMaterial {
            density_g_cm3: 1.4,
            shelf_id: None,
            kind: MaterialKind::Polymer,
            why: "stated in this example".to_owned(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    };
    let mut job = Job::default();
    job.pieces.push(drum);
    let exactly = |value| Some(Range::exactly(value));
    job.throw.get_or_insert_default().speed_rpm = exactly(4000.0);
    job.spin.get_or_insert_default().ends_at_rpm = exactly(500.0);
    job.spin.get_or_insert_default().rim_factor = exactly(0.0);
    job.bearing.get_or_insert_default().dry_torque_un_m = exactly(5.0);
    job.bearing.get_or_insert_default().f0_factor = exactly(0.0);
    let design = design::Given::new(job).map_err(|faults| format!("{faults:?}"))?;
    let inertia = design::section(&design).body.polar_inertia_g_mm2;
    let given = Given::new(&design).map_err(|refusal| refusal.to_string())?;
    let body = spin(&given).map_err(|refusal| refusal.to_string())?.body;
    let (density, viscosity) = (body.air.density_kg_m3, body.air.viscosity_pa_s);
    Ok([body.sleep_s.likely, inertia, density, viscosity])
}

#[expect(
    clippy::disallowed_macros,
    clippy::print_stdout,
    reason = "an example shows what it found"
)]
fn main() -> Result<(), String> {
    let [sleep_s, ..] = run()?;
    println!("sleeps {sleep_s:.0} s from 4000 to 500 rpm");
    Ok(())
}
