//! Station card of design: the section, its mass and its inertia.
//!
//! - **Comes in:** the drawn pieces with their densities, holes, pockets and lumps; the limits.
//! - **Leaves:** volume, mass, centre and inertia of every body and of the whole, the share of the
//!   inertia, the ratio of transverse to polar inertia with what it does, walls, overlaps, limits,
//!   and the cut for the picture.
//! - **Effects counted:** everything round about the axle in closed form; holes, pockets and lumps
//!   with their full tensor.
//! - **Left out:** threads, knurling and lettering (some hundredths of a gram unless drawn as a
//!   feature); the string; shrinkage and the tolerance of the parts (later stations); the meeting
//!   of a radial hole with a curved face is taken as flat.
//! - **Sources:** Green's theorem and the shift rules (`docs/theory`); densities from the shelf.
//!
#![doc = include_str!("../../../../docs/theory/design.md")]

mod body;
mod faults;
mod feature;
mod given;
mod limits;
mod run;
mod words;

pub use body::{Cut, CutOutline, LimitLine, OverlapLine, PieceLine, SectionBody};
pub use faults::{Fault, OutlineFault, outline_faults};
pub use given::Given;
pub use run::section;

#[cfg(test)]
mod tests;
