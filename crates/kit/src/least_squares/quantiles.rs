//! Probabilities of the normal distribution, Student's t, Fisher's F and chi square.

use statrs::distribution::{ChiSquared, ContinuousCDF, FisherSnedecor, Normal, StudentsT};

/// Probability that a standard normal number lies below `sigmas`.
#[must_use]
pub fn normal_below(sigmas: f64) -> f64 {
    Normal::standard().cdf(sigmas)
}

/// The number of standard deviations below which the share `share` of a normal distribution lies.
#[must_use]
pub fn normal_quantile(share: f64) -> f64 {
    Normal::standard().inverse_cdf(share)
}

/// Probability of a Student's t at least as far from nought, either way; 1 where there is no such distribution.
#[must_use]
pub fn student_beyond(t: f64, degrees_of_freedom: f64) -> f64 {
    match StudentsT::new(0.0, 1.0, degrees_of_freedom) {
        Ok(law) if t.is_finite() => 2.0 * law.cdf(-t.abs()),
        _ => 1.0,
    }
}

/// The t that is exceeded, either way, with this probability; none where there is no such distribution.
#[must_use]
pub fn student_quantile(probability: f64, degrees_of_freedom: f64) -> Option<f64> {
    let law = StudentsT::new(0.0, 1.0, degrees_of_freedom).ok()?;
    Some(law.inverse_cdf(1.0 - 0.5 * probability)).filter(|t| t.is_finite())
}

/// Probability that Fisher's F is as large as `f` or larger; 1 where there is no such distribution.
#[must_use]
pub fn fisher_beyond(f: f64, above: f64, below: f64) -> f64 {
    match FisherSnedecor::new(above, below) {
        Ok(law) if f.is_finite() && f > 0.0 => law.sf(f),
        _ => 1.0,
    }
}

/// Probability that chi square is as large as `sum` or larger; 1 where there is no such distribution.
#[must_use]
pub fn chi_square_beyond(sum: f64, degrees_of_freedom: f64) -> f64 {
    match ChiSquared::new(degrees_of_freedom) {
        Ok(law) if sum.is_finite() && sum > 0.0 => law.sf(sum),
        _ => 1.0,
    }
}
