//! The shelf: sourced values, read once from the files in `shelf/`.

mod known;
mod materials;
mod units;

pub use known::{Known, known, known_values};
pub use materials::{Material, material, materials};
pub use units::{Dimension, Unit, unit, units};
