//! A ring 58 × 48 × 8 mm of 2.70 g/cm³: the rim of the demo, drawn as its section.
//!
//! `cargo run --release --example 01_section`

use whirlwright_workshop::design::{Given, section};
use whirlwright_workshop::part::job::*;
use whirlwright_workshop::part::outline::Outline;

/// Mass in g, polar and transverse inertia in g·mm² of the ring.
pub fn run() -> Result<[f64; 3], String> {
    let outline = Outline::read("M 8 24 H 16 V 29 H 8 Z").map_err(|fault| fault.to_string())?;
    let material = PieceMaterial {
        density_g_cm3: 2.70,
        shelf_id: None,
        kind: MaterialKind::Metal,
        why: "stated in this example".to_owned(),
    };
    let rim = Piece {
        name: "rim".to_owned(),
        side: Side::Right,
        outline,
        material,
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    };
    let job = Job {
        name: "ring".to_owned(),
        limits: PieceLimits::default(),
        pieces: vec![rim],
        ..Job::default()
    };
    let given = Given::new(job).map_err(|faults| format!("{faults:?}"))?;
    let body = section(&given).body;
    Ok([
        body.mass_g,
        body.polar_inertia_g_mm2,
        body.transverse_inertia_g_mm2,
    ])
}

#[expect(
    clippy::disallowed_macros,
    clippy::print_stdout,
    reason = "an example shows what it found"
)]
fn main() -> Result<(), String> {
    let [mass_g, polar, transverse] = run()?;
    println!("{mass_g:.4} g, polar {polar:.1} g·mm², transverse {transverse:.1} g·mm²");
    Ok(())
}
