//! Finite elements on the quadratic triangles of [`mesh`](crate::mesh): bodies of revolution under load, pressed together,
//! and warm.
//!
//! - [`Elastic`]: linear elasticity of bodies of revolution; swelling, turning and pressure as loads.
//! - [`Contact`]: two bodies pushed into each other along a line, sliding freely or held fast, parting where it would pull.
//! - [`Conduction`]: heat conduction, at rest or in time, with cooled borders.
//!
//! The pattern of a matrix is analysed once ([`Pattern`], [`Analysed`]) and filled and factored as often as wanted.
//! Everything is reckoned on one thread: the same question gives the same bytes.
//!
//! Method, equations and sources: below. Accuracy: displacements and temperatures fall with the third power of the element size, stresses and
//! fluxes with the second, where the exact field is smooth. At sharp inward corners and at the ends of a contact line
//! the exact stress has no bound; there a finer mesh gives ever more.
//!
#![doc = include_str!("../../../../docs/theory/elements.md")]

mod active;
mod conduction;
mod contact;
mod elastic;
mod held;
mod loads;
mod mortar;
mod pattern;
mod shape;
mod solver;
mod stress;
mod warming;

pub use active::{NotSettled, Pressing, settle};
pub use conduction::{Conduct, Conduction, Cooled};
pub use contact::{Contact, ContactAnswer, Grip, LinePressure};
pub use elastic::{Axis, Elastic, Material, Support};
pub use held::{Held, Solved};
pub use loads::Loads;
pub use pattern::Pattern;
pub use solver::{Analysed, ElementsError, Factored};
pub use stress::{Peak, Stress, StressField};
pub use warming::{Scheme, Warming};

#[cfg(test)]
mod tests;
