//! The shelf: sourced values, read once from the files in `shelf/`.

mod materials;
mod units;

pub use materials::{Material, material, materials};
pub use units::{Dimension, Unit, unit, units};
