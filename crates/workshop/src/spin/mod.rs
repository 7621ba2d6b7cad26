//! Station card of spin: throw, sleep, return.
//!
//! - **Comes in:** the design with its outline, mass and inertia; bearing, string, throw and air as the
//!   job says them, or as the shelf does.
//!   Or the log of a spin-down, or several.
//! - **Leaves:** speed after the throw with the account of its energy; the sleep with its range; every
//!   loss with its share and what half of it is worth; the levers; turn about the string and lean; wobble
//!   by unbalance; the speed that climbs; the bearing's lines and its safety in a hard catch.
//! - **Effects counted:** the string in layers; unwinding under a moving hand; moist air; dry and oil
//!   torque of the bearing; laminar and turbulent faces of the actual outline; rim; flare of the gap;
//!   string rub; gyroscopic turn on a stiff or free string; free-axis wobble.
//! - **Left out:** the loop's slip and the bind itself (some per cent of the return); heat of the
//!   bearing in the sleep (a fraction of a kelvin); gusts and a moving hand (they show as scatter of
//!   repeated throws); stretch of the string, which softens the jerk. Rim and gap laws are the weakest:
//!   their factors are to be fitted to a spin-down.
//! - **Sources:** `docs/theory/spin.md` and `spin-log.md`; laws on the shelf (`drag.toml`, `air.toml`, `lubricants.toml`).
//!
#![doc = include_str!("../../../../docs/theory/spin.md")]
#![doc = include_str!("../../../../docs/theory/spin-log.md")]

pub mod air;
mod body;
mod case;
mod catch;
pub mod climb;
mod compare;
mod compare_body;
mod drop;
pub mod faces;
mod faults;
mod given;
pub mod layers;
mod levers;
mod lines;
mod log;
mod log_body;
mod log_curve;
mod log_design;
mod log_fit;
mod log_given;
mod log_judge;
mod log_laws;
mod log_words;
pub mod losses;
pub mod oil;
pub mod profile;
pub mod recording;
pub mod rehearsal;
pub mod rim;
mod run;
mod scatter;
pub mod sleep;
pub mod speed;
pub mod turn;
pub mod unwind;
pub mod wobble;
mod words;

pub use crate::part::spin_factor::Factor;
pub use body::{
    AirLine, BearingLine, ClimbLine, CurvePoint, Lever, LeverPoint, LossLine, RangeShare, SpinBody,
    StringLine, ThrowLine, TurnLine, WobbleLine,
};
pub use compare::{CompareGiven, compare};
pub use compare_body::{
    CompareBody, ComparedLog, ComparedPoint, ComparedValue, DifferenceLine, GroupLine, Test,
};
pub use drop::{TrayBearing, TrayBody, TrayClass, TrayGiven, TrayLine, TrayReading, sort_bearings};
pub use faults::Refusal;
pub use given::{Given, GivenFaults};
pub use log::fit_log;
pub use log_body::{
    AdviceLine, CorrelationLine, DesignLine, FactorLine, LogBody, LogCurvePoint, LogPoint,
    RunsLine, SlowingLine, TermLine, TriedLine, TriedTerm, WorthLine,
};
pub use log_curve::{time_constant_and_linear_s, time_constant_and_three_halves_s, time_square_s};
pub use log_given::{LogGiven, LogRefusal};
pub use log_laws::{KnownLoss, Term, Torque};
pub use losses::{Law, Loss, LossName, Losses};
pub use run::{likely_losses, spin};
