//! Station card of the bearing: how it turns, what it bears, what it holds back with.
//!
//! - **Comes in:** its dimensions or its word on the shelf, its lubricant and temperature, the mass it
//!   carries, the speed, and how hard a catch is.
//! - **Leaves:** orders and frequencies of cage, races and balls; contact pressures; the static rating and
//!   the safety at rest and in a catch; friction torque against speed with its range, for every lubricant.
//! - **Effects counted:** rolling without slip; Hertz contact by complete elliptic integrals; the static
//!   rating of ISO 76 from it; Palmgren's viscous and load torque; viscosity by ASTM D341; a dry torque.
//! - **Left out:** life is not claimed: loads are far below those that life formulas are made for, and dirt
//!   decides; slip of the cage, centrifugal load of the balls (a thousandth of the static rating), the play
//!   of the fit, noise.
//! - **Sources:** as the shelf names them; formulas of Palmgren and Johnson from memory.
//!
#![doc = include_str!("../../../../docs/theory/bearing.md")]

mod body;
mod friction;
mod given;
mod hertz;
mod kinematics;
mod rating;
mod run;
mod torque;
mod viscosity;
mod words;

pub use body::{BearingBody, BearingLine, LoadLine, LubricantLine, TorquePoint};
pub use friction::{Friction, f1_factor, load_un_m, simple_un_m, viscous_un_m};
pub use given::{Asked, Given, NotABearing, most_balls};
pub use hertz::{Contact, Touch, effective_modulus_mpa};
pub use kinematics::Orders;
pub use rating::{Races, equivalent_load_n};
pub use run::bearing;
pub use torque::{FrictionRange, viscosity_at};
pub use viscosity::ViscosityLine;
