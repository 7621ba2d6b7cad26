//! The whole job on one page: which station takes what from which.

use crate::design;
use crate::moulding::{self, Grid, HalfScatter, Ready, Refusal};

/// The half as mould and press make it, with its scatter from shot to shot: what a trial of tolerances draws from.
///
/// Design gives the outline, moulding the rest; `grid` says how finely.
///
/// # Errors
/// What the job says of mould, press or resin cannot be.
pub fn moulded_half(design: &design::Given, grid: Grid) -> Result<HalfScatter, Refusal> {
    let (answer, _) = moulding::mould(&Ready::of_design(design, grid)?)?;
    Ok(answer.body.handed_on)
}
