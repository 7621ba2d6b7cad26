//! What a set-up of mould and press does to a plain moulded disc: its weight, and its pull toward the gate.
//!
//! `cargo run --release --example 07_what_a_set_up_does`

use whirlwright_workshop::moulding::{Grid, MouldBody, Ready, mould};
use whirlwright_workshop::part::job::*;
use whirlwright_workshop::part::mould_wishes::GateWish;
use whirlwright_workshop::part::{Answer, Outline};
use whirlwright_workshop::{design, shelf};

fn disc() -> Result<Piece, String> {
    let found = shelf::material("abs").ok_or("the shelf lacks it")?;
    Ok(Piece {
        name: "disc".to_owned(),
        side: Side::Both,
        outline: Outline::read("M 0 4 H 2 V 28 H 0 Z").map_err(|fault| fault.to_string())?,
        material: PieceMaterial {
            density_g_cm3: found.density_g_cm3,
            shelf_id: Some(found.id.clone()),
            kind: found.kind,
            why: found.why(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    })
}

/// What was answered: one cavity, an edge gate a quarter turn from the mark, everything else as is usual.
pub fn run() -> Result<Answer<MouldBody>, String> {
    let mut job = Job::default();
    job.pieces.push(disc()?);
    let wishes = job.mould.get_or_insert_default();
    wishes.cavities_count = Some(1);
    wishes.gates = vec![GateWish {
        angle_deg: Some(90.0),
        ..GateWish::default()
    }];
    let design = design::Given::new(job).map_err(|faults| format!("{faults:?}"))?;
    let ready = Ready::of_design(&design, Grid::coarse()).map_err(|why| why.to_string())?;
    let (answer, _view) = mould(&ready).map_err(|why| why.to_string())?;
    Ok(answer)
}

#[expect(
    clippy::disallowed_macros,
    clippy::print_stdout,
    reason = "an example shows what it found"
)]
fn main() -> Result<(), String> {
    let answer = run()?;
    println!("{}\n{}", answer.headline, answer.decided_by);
    Ok(())
}
