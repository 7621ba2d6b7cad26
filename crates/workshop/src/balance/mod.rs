//! Station card of balance: how far out, where, and what to take off.
//!
//! - **Comes in:** the drawing with grade, speed and the errors it allows; or readings of a rig, of rods,
//!   of a recording, with the planes and how a correction can be made.
//! - **Leaves:** the permissible residual unbalance and its shares; unbalance and correction by plane with
//!   its uncertainty; holes with place, size and what they leave.
//! - **Effects counted:** static and couple unbalance of a free rotor; errors of drawing and seat;
//!   run-out, fixture, scatter of readings; true volume and centre of every hole.
//! - **Left out:** bending of the rotor (it turns far below its first bending speed); play of the
//!   bearing; drag of the rig's springs (it is in the influence coefficients).
//! - **Sources:** ISO 21940-11 and -14 (from memory where the shelf says so); the rest is derived in
//!   `docs/theory`.
//!
#![doc = include_str!("../../../../docs/theory/balance.md")]

mod allocate;
mod at_rest;
mod clocking;
mod correct;
mod correct_body;
mod correct_words;
mod draws;
mod found;
mod free_rotor;
pub mod given;
mod indexing;
mod influence;
mod limit;
mod limit_body;
mod lot;
mod no_phase;
mod others;
mod pattern;
mod phased;
mod rotor_body;
mod scatter;
mod swapped;
mod tolerance;
mod tool;
mod uncertainty;
mod vectors;
mod wall;
mod words;
mod work;
mod work_body;

pub use correct::correct;
pub use correct_body::{
    AcceptLine, Arrow, AtRest, CorrectBody, Effect, Method, PlaneResult, TrialWorth,
    UncertaintyBody,
};
pub use given::{CorrectGiven, LimitGiven, Refusal};
pub use limit::limit;
pub use limit_body::{
    BudgetLine, DesignCheck, DropSize, GradeLine, LimitBody, LotShare, PlaneLimit,
};
pub use phased::solve;
pub use rotor_body::FreeRotor;
pub use work_body::{ClockBody, ClockState, ClockTurn, Hole, HoleKind, WorkBody, WorkPlace};
