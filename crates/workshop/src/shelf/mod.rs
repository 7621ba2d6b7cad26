//! The shelf: sourced values, read once from the files in `shelf/`.

mod balance;
mod bearings;
mod fits;
mod known;
mod log_windows;
mod lubricants;
mod materials;
mod mechanics;
mod resins;
mod rims;
mod sourced;
mod units;

pub use balance::{BalanceRules, Grade, balance_rules, grades};
pub use bearings::{BearingLaws, ShelfBearing, bearing, bearing_laws, bearings};
pub use fits::{GRADES, SizeStep, size_step, sizes_mm};
pub use known::{Known, known, known_values};
pub use log_windows::{LogWindows, log_windows};
pub use lubricants::{LISTED_DEGC, Lubricant, ViscosityLaw, lubricant, lubricants, viscosity_law};
pub use materials::{Material, material, materials};
pub use mechanics::{Mechanics, mechanics};
pub use resins::{resin, resin_card, resins};
pub use rims::{FitDefaults, TurningDefaults, fit_defaults, turning_defaults};
pub use sourced::Sourced;
pub use units::{Dimension, Unit, unit, units};
