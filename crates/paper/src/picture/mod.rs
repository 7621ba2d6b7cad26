//! Pictures of answers. Each can stand alone as SVG or be put on a sheet.

pub mod axis;
mod balance;
mod budget;
mod cut;
mod distribution;
mod fit;
pub mod mould;
mod pairing;
pub mod pieces;
pub mod plot;
mod polar;
mod recut;
mod rim;
mod rim_view;
mod shares;
pub mod spin;
mod stress;

pub(crate) use balance::numbered;
pub use balance::{
    BalanceView, balance, balance_cut_drawing, balance_drawing, balance_polar_drawing,
    balance_rim_drawings,
};
pub use budget::{budget, budget_drawing};
pub use cut::{cut, cut_drawing};
pub use distribution::{distribution, distribution_drawing};
pub use fit::{fields_drawing, fit, over_temperature_drawing, over_time_drawing};
pub use pairing::{pairing, pairing_drawing};
pub use polar::{Polar, Stands, Turn, Vector, polar_drawing};
pub use recut::{recut, recut_drawing};
pub use rim::{rim, rim_drawing};
pub use rim_view::{CutWork, Edge, RimView, Work, cut_works_drawing, rim_view_drawing};
pub use shares::{shares, shares_drawing};
pub use stress::{stress, stress_drawing};

/// Size of a dot that stands for `count` things: its area grows with them, from the size of one up
/// to a size at which neighbours still show.
#[must_use]
pub fn dot(count: usize, one: f64, most: f64) -> f64 {
    (one * (count as f64).sqrt()).min(most)
}

/// Width of every picture in points; on an A4 sheet it shrinks to 0.7 of that.
pub const WIDTH: f64 = 720.0;
/// Type size of labels: 10 points after shrinking to an A4 sheet.
pub const LABEL: f64 = 15.0;
