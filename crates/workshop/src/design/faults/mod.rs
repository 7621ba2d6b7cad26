//! What is wrong with a drawing: faults that make an outline no section, and overlaps of pieces.

mod outline;
mod overlaps;

pub use outline::{Fault, OutlineFault, loops, outline_faults};
pub use overlaps::{Meet, allowed_mm, meets};
