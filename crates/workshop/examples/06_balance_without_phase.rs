//! A rig that shows no phase: one trial mass at three places tells how far out a part is, and where.

use whirlwright_workshop::balance::{correct, given::*};
use whirlwright_workshop::part::AngleSense;

/// Correction mass in g at radius 26.5 mm, and its angle in degrees.
pub fn run() -> Result<(f64, f64), String> {
    let trial = |angle_deg: f64, value: f64| NoPhaseRun {
        name: format!("trial at {angle_deg} deg"),
        mass_g: 0.05,
        angle_deg,
        values: vec![value],
    };
    let given = CorrectGiven {
        rotor: Rotor {
            name: "Dunlin".to_owned(),
            mass_g: 63.0,
            centre_mm: 0.0,
            inertia: None,
            rim_radius_mm: Some(29.0),
        },
        speed_rpm: Some(5000.0),
        limit_g_mm: Some(0.76),
        grade_mm_per_s: None,
        sense: AngleSense::AgainstRotation,
        planes: vec![PlaneGiven {
            name: "middle".to_owned(),
            x_mm: None,
            radius_mm: 26.5,
            limit_g_mm: None,
        }],
        readings: Readings::NoPhase(NoPhaseGiven {
            unit: "mm/s".to_owned(),
            first_values: vec![4.0],
            // 0.1 g at 90 degrees and 40 mm/s per g: 40 · |0.1i + 0.05 e^{iθ}|.
            trials: vec![
                trial(0.0, 20f64.sqrt()),
                trial(90.0, 6.0),
                trial(270.0, 2.0),
            ],
        }),
        work: None,
        clocking: None,
        seed: 1,
    };
    let answer = correct(&given).map_err(|refusal| refusal.to_string())?;
    let plane = &answer.body.planes[0];
    Ok((plane.correction_mass_g, plane.add_at_deg))
}

#[expect(
    clippy::disallowed_macros,
    clippy::print_stdout,
    reason = "an example shows what it found"
)]
fn main() -> Result<(), String> {
    let (mass_g, angle_deg) = run()?;
    println!("put {mass_g:.4} g on at {angle_deg:.1} deg");
    Ok(())
}
