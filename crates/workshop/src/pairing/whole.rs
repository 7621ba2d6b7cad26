//! Readings as whole numbers of one common last digit, so that sums, limits and costs are exact.

use super::given::Refusal;
use crate::part::Decimal;

/// Most digits behind the point of all given numbers.
pub(super) fn common_places(numbers: impl Iterator<Item = Decimal>) -> u8 {
    numbers.map(|number| number.places).max().unwrap_or(0)
}

/// `number` in units of `10^-places`.
pub(super) fn whole(number: Decimal, places: u8, what: &'static str) -> Result<i64, Refusal> {
    /// Below this a difference squared stays inside 64 bits (2^31 squared is 2^62).
    const MOST: i64 = 1 << 31;
    match number.units_at(places) {
        Some(units) if units.abs() < MOST => Ok(units),
        _ => Err(Refusal::TooFine { what }),
    }
}

/// Value in the reading's unit of `units` last digits.
pub(super) fn value(units: i64, places: u8) -> f64 {
    Decimal { units, places }.to_f64()
}

/// Greatest common divisor; of 0 and n it is n.
pub(super) fn gcd(a: i128, b: i128) -> i128 {
    let (mut a, mut b) = (a.abs(), b.abs());
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
