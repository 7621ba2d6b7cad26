//! Nonlinear least squares with everything that says how far to trust it.
//!
//! [`fit`] finds the parameters; [`Fit`] holds their covariance, correlations and residuals; [`runs`] judges
//! the residuals; [`Tests`](quantiles) turn deviations into probabilities.

mod answer;
mod minimise;
pub mod quantiles;
mod runs;

pub use answer::{Fit, NotFitted};
pub use minimise::{Model, fit, linear};
pub use runs::{Runs, runs};
