//! What slows a piece: a log of a throw, fitted with a constant torque and one of laminar air.
//!
//! `cargo run --release --example 05_what_slows_it`

use whirlwright_workshop::part::SpinLog;
use whirlwright_workshop::spin::{LogGiven, fit_log};

/// Speeds in rad/s, one every 15 s: the fall of a piece with 5 µN·m of dry friction, read to 0.1 rad/s.
const SPEEDS_RAD_S: [f64; 13] = [
    420.0, 370.6, 329.1, 293.7, 263.4, 237.2, 214.3, 194.3, 176.6, 160.9, 146.8, 134.3, 122.9,
];

/// Sleep down to 500 rpm in s, and seconds that half of the loss to attack first is worth.
pub fn run() -> Result<[f64; 2], String> {
    let times: Vec<f64> = (0..SPEEDS_RAD_S.len()).map(|n| 15.0 * n as f64).collect();
    let log = SpinLog::from_speeds("third throw", &times, &SPEEDS_RAD_S, None)
        .map_err(|fault| fault.to_string())?;
    let given = LogGiven::new(log)
        .and_then(|given| given.with_inertia(28_000.0, 280.0))
        .map_err(|fault| fault.to_string())?;
    let answer = fit_log(&given).map_err(|fault| fault.to_string())?;
    Ok([answer.body.sleep_s, answer.body.worth[0].half_is_worth_s])
}

#[expect(
    clippy::disallowed_macros,
    clippy::print_stdout,
    reason = "an example shows what it found"
)]
fn main() -> Result<(), String> {
    let [sleep_s, worth_s] = run()?;
    println!("sleeps {sleep_s:.0} s; half of the worst loss is worth {worth_s:.0} s");
    Ok(())
}
