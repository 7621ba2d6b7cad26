//! The shelf: sourced values, read once from the files in `shelf/`.

mod fits;
mod known;
mod materials;
mod mechanics;
mod rims;
mod units;

pub use fits::{GRADES, SizeStep, size_step, sizes_mm};
pub use known::{Known, known, known_values};
pub use materials::{Material, material, materials};
pub use mechanics::{Mechanics, mechanics};
pub use rims::{FitDefaults, TurningDefaults, fit_defaults, turning_defaults};
pub use units::{Dimension, Unit, unit, units};
