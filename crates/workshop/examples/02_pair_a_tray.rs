//! Six parts in a tray, to be paired within 0.1 g.
//!
//! `cargo run --release --example 02_pair_a_tray`

use whirlwright_workshop::pairing::{DressedGiven, Limits, pair_dressed};
use whirlwright_workshop::part::{Decimal, Kind, LotPart};

/// The masses of the tray, as the scale showed them, in g.
const TRAY: [&str; 6] = ["28.79", "28.93", "28.84", "29.40", "28.88", "28.97"];

/// The serials of the sets, and the total cost (no unit).
///
/// # Errors
/// A mass is no number, or pairing refuses the question.
pub fn run() -> Result<(Vec<(String, String)>, f64), String> {
    let decimal = |text: &str| text.parse::<Decimal>().map_err(|fault| fault.to_string());
    let mut parts = Vec::new();
    for (place, mass) in TRAY.iter().enumerate() {
        let mut part = LotPart::new(format!("P{}", place + 1), Kind::Dressed);
        part.mass_g = Some(decimal(mass)?);
        parts.push(part);
    }
    let limits = Limits {
        mass_within_g: Some(decimal("0.1")?),
        ..Limits::default()
    };
    let answer =
        pair_dressed(&DressedGiven::new(parts, limits)).map_err(|refusal| refusal.to_string())?;
    let sets = answer
        .body
        .sets
        .into_iter()
        .map(|set| (set.left, set.right))
        .collect();
    Ok((sets, answer.body.total_cost))
}

#[expect(
    clippy::disallowed_macros,
    clippy::print_stdout,
    reason = "an example shows what it found"
)]
fn main() -> Result<(), String> {
    let (sets, cost) = run()?;
    for (left, right) in sets {
        println!("{left} with {right}");
    }
    println!("total cost {cost:.2}");
    Ok(())
}
