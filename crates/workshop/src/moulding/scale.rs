//! From the units of the sheet to those of the reckoning (SI), and back.

use crate::shelf::viscosity_law;

/// Metres of a millimetre, grams of a kilogram the other way.
pub(super) const MILLI: f64 = 1e-3;
/// Grams of a kilogram.
pub(super) const KILO: f64 = 1e3;
/// Pascals of a megapascal.
pub(super) const MEGA: f64 = 1e6;
/// Cubic metres of a cubic centimetre.
pub(super) const CM3: f64 = 1e-6;
/// Cubic metres of a cubic millimetre.
pub(super) const MM3: f64 = 1e-9;
/// Square metres of a square millimetre.
pub(super) const MM2: f64 = 1e-6;

/// A temperature in °C as one in K.
pub(super) fn kelvin(degc: f64) -> f64 {
    degc + viscosity_law().zero_k.number
}

/// A temperature in K as one in °C.
pub(super) fn celsius(k: f64) -> f64 {
    k - viscosity_law().zero_k.number
}
