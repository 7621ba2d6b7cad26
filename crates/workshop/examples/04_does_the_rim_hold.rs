//! Whether an aluminium ring holds on a tube of acetal: by two plain rings, and as drawn by finite elements.
//!
//! `cargo run --release --example 04_does_the_rim_hold`

use whirlwright_workshop::fitting::{Draws, FitBody, Given, fit, sections, with_section};
use whirlwright_workshop::part::job::*;
use whirlwright_workshop::part::{Answer, Outline};
use whirlwright_workshop::{design, shelf};

fn piece(name: &str, path: &str, material: &str) -> Result<Piece, String> {
    let found = shelf::material(material).ok_or("the shelf lacks it")?;
    Ok(Piece {
        name: name.to_owned(),
        side: Side::Both,
        outline: Outline::read(path).map_err(|fault| fault.to_string())?,
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

/// What was asked and what was answered.
pub fn run() -> Result<(Given, Answer<FitBody>), String> {
    let mut job = Job::default();
    job.pieces
        .push(piece("tube", "M 8 20 H 16 V 24 H 8 Z", "pom")?);
    job.pieces
        .push(piece("ring", "M 8 24 H 16 V 28 H 8 Z", "en-aw-6061")?);
    let wishes = job.fit.get_or_insert_default();
    wishes.ring = Some("ring".to_owned());
    wishes.body = Some("tube".to_owned());
    wishes.fit = Some("48 H7/x8".to_owned());
    wishes.torque_n_mm = Some(200.0);
    let design = design::Given::new(job).map_err(|faults| format!("{faults:?}"))?;
    let given = Given::of_design(&design).map_err(|refusal| refusal.to_string())?;
    let (pairs_count, seed) = (10_000, 1);
    let plain = fit(&given, Draws { pairs_count, seed });
    let section = sections(&design, &given).map_err(|refusal| refusal.to_string());
    let (answer, _picture) = with_section(&given, plain, section);
    Ok((given, answer))
}

#[expect(
    clippy::disallowed_macros,
    clippy::print_stdout,
    reason = "an example shows what it found"
)]
fn main() -> Result<(), String> {
    let (_, answer) = run()?;
    println!("{}\n{}", answer.headline, answer.decided_by);
    println!("set the press by {:.0} N", answer.body.press_by_n().likely);
    Ok(())
}
