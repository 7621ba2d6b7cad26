//! Turning the part on its fixture: what turns with the part is the part's.
//!
//! At index angle `ψ` a plane reads `F + P e^{iψ}`; two positions or more tell `F` and `P`.

use whirlwright_kit::complex_fit::{ComplexMatrix, inverse};

use super::given::Refusal;
use super::vectors::{Vector, at_deg};

/// Fixture and part in one plane, and the sum of squares left.
pub(super) fn split(readings: &[(f64, Vector)]) -> Result<(Vector, Vector, f64), Refusal> {
    let a = ComplexMatrix::from_fn(readings.len(), 2, |row, column| match column {
        0 => Vector::new(1.0, 0.0),
        _ => at_deg(1.0, readings[row].0),
    });
    let b = ComplexMatrix::from_fn(readings.len(), 1, |row, _| readings[row].1);
    let missing = || Refusal::MissingRun {
        what: "all readings are at one position of the part on the fixture".to_owned(),
        todo: "turn the part half a turn on the fixture and measure again".to_owned(),
    };
    let inverse = inverse(&a).ok_or_else(missing)?;
    let x = &inverse.pseudo * &b;
    let left = (&a * &x - &b).norm_squared();
    Ok((x[(0, 0)], x[(1, 0)], left))
}
