//! What a fit found, and how far to trust it.

use nalgebra::{DMatrix, DVector};

/// Why no fit was found.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NotFitted {
    /// Fewer residuals than parameters and one.
    #[error("{residuals} residuals cannot carry {parameters} parameters and their scatter")]
    TooFew {
        /// How many residuals.
        residuals: usize,
        /// How many parameters.
        parameters: usize,
    },
    /// The columns of the Jacobian hang together: a combination of parameters changes nothing.
    #[error("the data do not tell the parameters apart: a combination of them changes nothing")]
    Singular,
    /// The search did not end.
    #[error("the search for the least squares did not end: {why}")]
    DidNotEnd {
        /// Why, in words.
        why: String,
    },
}

/// Parameters with their covariance.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// The parameters at the least sum of squares.
    pub parameters: Vec<f64>,
    /// Covariance of the parameters, row by row, for the noise the residuals show (or the given one).
    pub covariance: Vec<f64>,
    /// Residuals, model minus data, each divided by the standard deviation the weights give it.
    pub scaled: Vec<f64>,
    /// Sum of the squared weighted residuals.
    pub sum_of_squares: f64,
    /// Residuals less parameters.
    pub degrees_of_freedom: usize,
    /// Standard deviation of a residual of weight 1: as given, or as the residuals show it.
    pub noise_sd: f64,
    /// Largest by least singular value of the Jacobian with its columns scaled to length 1: above some
    /// thousands, a combination of parameters is all but free.
    pub condition_ratio: f64,
}

impl Fit {
    /// Builds the answer from residuals and Jacobian at the end of the search.
    pub(super) fn at(
        parameters: &[f64],
        residuals: &DVector<f64>,
        jacobian: &DMatrix<f64>,
        given_sd: Option<f64>,
    ) -> Result<Self, NotFitted> {
        let (n, p) = (residuals.len(), parameters.len());
        let too_few = NotFitted::TooFew {
            residuals: n,
            parameters: p,
        };
        let degrees_of_freedom = n.checked_sub(p).filter(|f| *f > 0).ok_or(too_few)?;
        let sum_of_squares = residuals.norm_squared();
        let noise_sd =
            given_sd.unwrap_or_else(|| (sum_of_squares / degrees_of_freedom as f64).sqrt());
        let (inverse, condition_ratio) = normal_inverse(jacobian).ok_or(NotFitted::Singular)?;
        let covariance = inverse.iter().map(|x| x * noise_sd * noise_sd).collect();
        let scale = if noise_sd > 0.0 { 1.0 / noise_sd } else { 1.0 };
        Ok(Self {
            parameters: parameters.to_vec(),
            covariance,
            scaled: residuals.iter().map(|r| r * scale).collect(),
            sum_of_squares,
            degrees_of_freedom,
            noise_sd,
            condition_ratio,
        })
    }

    /// Standard deviation of a parameter.
    #[must_use]
    pub fn sd(&self, of: usize) -> f64 {
        self.covariance(of, of).max(0.0).sqrt()
    }

    /// Standard deviation of a parameter by its size.
    #[must_use]
    pub fn relative_sd(&self, of: usize) -> f64 {
        self.sd(of) / self.parameters[of].abs()
    }

    /// Covariance of two parameters.
    #[must_use]
    pub fn covariance(&self, first: usize, second: usize) -> f64 {
        self.covariance[first * self.parameters.len() + second]
    }

    /// Correlation of two parameters, −1 to 1.
    #[must_use]
    pub fn correlation(&self, first: usize, second: usize) -> f64 {
        self.covariance(first, second) / (self.sd(first) * self.sd(second))
    }

    /// Standard deviation of a function of the parameters with this gradient.
    #[must_use]
    pub fn sd_along(&self, gradient: &[f64]) -> f64 {
        let p = self.parameters.len();
        let mut variance = 0.0;
        for i in 0..p {
            for j in 0..p {
                variance += gradient[i] * gradient[j] * self.covariance(i, j);
            }
        }
        variance.max(0.0).sqrt()
    }
}

/// `(JᵀJ)⁻¹` row by row, and the condition of `J` with columns of length 1. The columns are scaled
/// first, so that parameters of unlike size lose no figures; none where a column, or a combination of
/// columns, is nought to rounding.
fn normal_inverse(jacobian: &DMatrix<f64>) -> Option<(Vec<f64>, f64)> {
    let p = jacobian.ncols();
    let lengths: Vec<f64> = jacobian.column_iter().map(|c| c.norm()).collect();
    if lengths.iter().any(|l| !l.is_finite() || *l <= 0.0) {
        return None;
    }
    let mut scaled = jacobian.clone();
    for (mut column, length) in scaled.column_iter_mut().zip(&lengths) {
        column /= *length;
    }
    // The triangle of the orthogonal factorisation keeps the figures that JᵀJ would square away.
    let triangle = scaled.qr().r();
    let singular = triangle.clone().svd(false, false).singular_values;
    let (most, least) = (singular.max(), singular.min());
    if least <= most * f64::EPSILON * (p as f64) * 16.0 {
        return None;
    }
    let inverse = triangle.solve_upper_triangular(&DMatrix::identity(p, p))?;
    let product = &inverse * inverse.transpose();
    let mut rows = Vec::with_capacity(p * p);
    for i in 0..p {
        for j in 0..p {
            rows.push(product[(i, j)] / (lengths[i] * lengths[j]));
        }
    }
    Some((rows, most / least))
}
