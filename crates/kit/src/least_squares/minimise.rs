//! The search: Levenberg and Marquardt with an analytic Jacobian.

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt, TerminationReason};
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn};

use super::answer::{Fit, NotFitted};

/// A model of some data: residuals (model minus data, times the root of the weight) and their derivatives.
pub trait Model {
    /// How many residuals.
    fn residuals(&self) -> usize;
    /// Fills residuals, and the Jacobian column by column (`jacobian[j * residuals + i]`), at some
    /// parameters; false where the parameters make no sense. The search then turns back.
    fn at(&self, parameters: &[f64], residuals: &mut [f64], jacobian: &mut [f64]) -> bool;
}

/// The parameters of least sum of squares near `start`, with their covariance.
///
/// - **What it finds:** a local least sum; of a model that is smooth and a start that is near, the one that is wanted.
/// - **Method:** damped Gauss-Newton in a trust region (Levenberg, Marquardt; MINPACK's rules, by the crate
///   `levenberg-marquardt`); columns are scaled by their length, so parameters may differ in size.
/// - **Covariance:** `(JᵀJ)⁻¹ s²` by an orthogonal factorisation of the scaled Jacobian; `s` from the residuals,
///   or `given_sd` where the noise of a residual of weight 1 is known.
/// - **Promised:** parameters to about 1e-10 of their standard deviation's size or of themselves, whichever is larger.
///
/// # Errors
/// Too few data, a Jacobian without full rank, or a search that did not end.
pub fn fit(model: &dyn Model, start: &[f64], given_sd: Option<f64>) -> Result<Fit, NotFitted> {
    let (n, p) = (model.residuals(), start.len());
    if n <= p {
        return Err(NotFitted::TooFew {
            residuals: n,
            parameters: p,
        });
    }
    let problem = Search::new(model, start);
    if !problem.sound {
        return Err(NotFitted::DidNotEnd {
            why: "the model makes no sense at the start of the search".to_owned(),
        });
    }
    // Sums of squares that agree to 1e-12, or steps of 1e-11 of the parameters, change nothing that is shown.
    let search = LevenbergMarquardt::new()
        .with_ftol(1e-12)
        .with_xtol(1e-11)
        .with_gtol(1e-14)
        .with_patience(60);
    let (problem, report) = search.minimize(problem);
    let ended = report.termination.was_successful()
        || matches!(
            report.termination,
            TerminationReason::NoImprovementPossible(_)
        );
    if !ended || !problem.sound {
        return Err(NotFitted::DidNotEnd {
            why: format!("{:?}", report.termination),
        });
    }
    Fit::at(
        problem.parameters.as_slice(),
        &problem.residuals,
        &problem.jacobian,
        given_sd,
    )
}

/// Linear least squares: `design` column by column, `residuals = design · x − data`.
///
/// # Errors
/// Too few data, or columns that hang together.
pub fn linear(columns: &[Vec<f64>], data: &[f64]) -> Result<Fit, NotFitted> {
    let (n, p) = (data.len(), columns.len());
    if n <= p {
        return Err(NotFitted::TooFew {
            residuals: n,
            parameters: p,
        });
    }
    let mut design = DMatrix::from_fn(n, p, |i, j| columns[j][i]);
    let lengths: Vec<f64> = design.column_iter().map(|c| c.norm()).collect();
    for (mut column, length) in design.column_iter_mut().zip(&lengths) {
        column /= length.max(f64::MIN_POSITIVE);
    }
    let data = DVector::from_column_slice(data);
    let factors = design.clone().qr();
    let right = factors.q().transpose() * &data;
    let scaled = factors
        .r()
        .solve_upper_triangular(&right)
        .ok_or(NotFitted::Singular)?;
    let residuals = &design * &scaled - &data;
    let parameters: Vec<f64> = scaled.iter().zip(&lengths).map(|(x, l)| x / l).collect();
    let jacobian = DMatrix::from_fn(n, p, |i, j| columns[j][i]);
    Fit::at(&parameters, &residuals, &jacobian, None)
}

/// The state of a search.
struct Search<'a> {
    model: &'a dyn Model,
    parameters: DVector<f64>,
    residuals: DVector<f64>,
    jacobian: DMatrix<f64>,
    sound: bool,
}

impl<'a> Search<'a> {
    fn new(model: &'a dyn Model, start: &[f64]) -> Self {
        let n = model.residuals();
        let mut search = Self {
            model,
            parameters: DVector::from_column_slice(start),
            residuals: DVector::zeros(n),
            jacobian: DMatrix::zeros(n, start.len()),
            sound: true,
        };
        search.evaluate();
        search
    }

    fn evaluate(&mut self) {
        let (residuals, jacobian) = (self.residuals.as_mut_slice(), self.jacobian.as_mut_slice());
        self.sound = self
            .model
            .at(self.parameters.as_slice(), residuals, jacobian);
        if !self.sound {
            // So far off that the step is taken back and a shorter one tried.
            residuals.fill(1e100);
        }
    }
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Search<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, x: &DVector<f64>) {
        self.parameters.copy_from(x);
        self.evaluate();
    }

    fn params(&self) -> DVector<f64> {
        self.parameters.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        Some(self.residuals.clone())
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        Some(self.jacobian.clone())
    }
}
