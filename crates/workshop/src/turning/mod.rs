//! Station card of turning: the rim to its mass.
//!
//! - **Comes in:** the section of the turned piece, its density, the mass it must hold, limits that
//!   stand already, what may be cut and how deep, the scale's and the lathe's errors; readings.
//! - **Leaves:** what each turned dimension does to mass, inertia and balance; the tolerance it may
//!   have, with the grade of ISO 286; the cut for a piece over its mass; a cut list; offset advice.
//! - **Effects counted:** every straight run of the outline with the broken edges beside it, exactly;
//!   run-out of a surface in first order; errors of scale, lathe and drawing for where a cut lands.
//! - **Left out:** curved surfaces larger than a broken edge (they follow their tool); roundness; the
//!   heat of cutting (let it cool); edges broken anew after a cut (some milligrams).
//! - **Sources:** the shape derivative of a volume integral, Lagrange's rule (`docs/theory`);
//!   ISO 286-1 from the shelf.
//!
#![doc = include_str!("../../../../docs/theory/turning.md")]

mod body;
mod cut;
mod dimension;
mod drawn;
mod faults;
mod given;
mod offset;
mod run;
mod sensitivity;
mod tolerance;
mod words;

pub use body::{
    CutLine, DimensionLine, Offset, OffsetAdvice, RecutBody, RimBody, ToleranceSum, TrayBody,
    TrayCut, TwoSteps,
};
pub use dimension::Surface;
pub use faults::Refusal;
pub use given::Given;
pub use run::{Weighed, recut, rim, tray};
