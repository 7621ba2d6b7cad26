//! Least squares of a sum of terms to a log.

use whirlwright_kit::least_squares::{Fit, Model, NotFitted, fit, linear};

use super::log_curve::{Curve, time_between};
use super::log_laws::{Shape, Term};
use crate::part::SpinLog;

/// A fitted sum of terms: coefficients are slowings at the reference speed, in rad/s².
pub(super) struct Fitted {
    pub shapes: Vec<Shape>,
    pub terms: Vec<Term>,
    /// First the speed at the first reading, then the coefficients.
    pub fit: Fit,
    pub reference_rad_s: f64,
    pub first_s: f64,
    pub span_s: f64,
}

/// The log as a model: ascending times from nought, speeds, roots of the weights.
struct Fall<'a> {
    shapes: &'a [Shape],
    times: Vec<f64>,
    speeds: &'a [f64],
    roots: Vec<f64>,
}

impl Fall<'_> {
    fn root(&self, at: usize) -> f64 {
        self.roots.get(at).copied().unwrap_or(1.0)
    }
}

impl Model for Fall<'_> {
    fn residuals(&self) -> usize {
        self.times.len()
    }

    fn at(&self, parameters: &[f64], residuals: &mut [f64], jacobian: &mut [f64]) -> bool {
        let n = self.times.len();
        let span_s = self.times[n - 1];
        let Some(curve) = Curve::new(self.shapes, &parameters[1..], parameters[0], span_s) else {
            return false;
        };
        curve.follow(&self.times, |at, speed, derivatives| {
            let root = self.root(at);
            residuals[at] = (speed - self.speeds[at]) * root;
            for (column, derivative) in derivatives.iter().enumerate() {
                jacobian[column * n + at] = derivative * root;
            }
        });
        true
    }
}

/// Fits terms of powers to a log.
pub(super) fn fit_terms(log: &SpinLog, terms: &[Term]) -> Result<Fitted, NotFitted> {
    let reference = log.speeds_rad_s[0];
    let shapes = terms
        .iter()
        .filter_map(|t| Shape::of(*t, reference))
        .collect();
    fit_shapes(log, shapes, terms.to_vec(), reference)
}

/// Fits any shapes to a log.
pub(super) fn fit_shapes(
    log: &SpinLog,
    shapes: Vec<Shape>,
    terms: Vec<Term>,
    reference_rad_s: f64,
) -> Result<Fitted, NotFitted> {
    let first_s = log.times_s[0];
    let model = Fall {
        shapes: &shapes,
        times: log.times_s.iter().map(|t| t - first_s).collect(),
        speeds: &log.speeds_rad_s,
        roots: log.reading_weight.iter().map(|w| w.sqrt()).collect(),
    };
    let span_s = model.times[model.times.len() - 1];
    let start = start(log, &shapes)?;
    let fit = fit(&model, &start, log.speed_sd_rad_s)?;
    Ok(Fitted {
        shapes,
        terms,
        fit,
        reference_rad_s,
        first_s,
        span_s,
    })
}

/// Where the search starts: the fall as an integral, `ω = ω₀ − Σ θ_j ∫ g_j dt`, is straight in everything that
/// is sought once the integrals are taken along the log itself, in the means of some sixty stretches.
fn start(log: &SpinLog, shapes: &[Shape]) -> Result<Vec<f64>, NotFitted> {
    const STRETCHES: usize = 60;
    let short = log.averaged(STRETCHES);
    let n = short.times_s.len();
    let mut left: Vec<usize> = (0..shapes.len()).collect();
    loop {
        let mut columns = vec![vec![1.0; n]];
        for &term in &left {
            let mut integral = 0.0;
            let mut column = vec![0.0];
            for at in 1..n {
                let step = short.times_s[at] - short.times_s[at - 1];
                let mean = 0.5
                    * (shapes[term].at(short.speeds_rad_s[at])
                        + shapes[term].at(short.speeds_rad_s[at - 1]));
                integral += step * mean;
                column.push(-integral);
            }
            columns.push(column);
        }
        let found = linear(&columns, &short.speeds_rad_s)?;
        // A coefficient below nought would speed the piece up somewhere: start without that term.
        let worst = (1..found.parameters.len())
            .filter(|at| found.parameters[*at] <= 0.0)
            .min_by(|a, b| found.parameters[*a].total_cmp(&found.parameters[*b]));
        match worst {
            Some(at) if left.len() > 1 => {
                left.remove(at - 1);
            }
            _ => {
                let whole: f64 = found.parameters[1..].iter().map(|t| t.abs()).sum();
                let mut start = vec![1e-3 * whole; shapes.len() + 1];
                start[0] = found.parameters[0].max(short.speeds_rad_s[0]);
                for (&term, theta) in left.iter().zip(&found.parameters[1..]) {
                    start[term + 1] = theta.abs();
                }
                return Ok(start);
            }
        }
    }
}

impl Fitted {
    /// Coefficients of the terms.
    pub(super) fn theta(&self) -> &[f64] {
        &self.fit.parameters[1..]
    }

    /// Speed at the first reading.
    pub(super) fn start_rad_s(&self) -> f64 {
        self.fit.parameters[0]
    }

    /// Speeds at ascending times of the log, each with its standard deviation.
    pub(super) fn speeds(&self, times_s: &[f64]) -> Vec<(f64, f64)> {
        let from: Vec<f64> = times_s
            .iter()
            .map(|t| (t - self.first_s).max(0.0))
            .collect();
        let span = from.last().copied().unwrap_or(0.0).max(self.span_s);
        let mut found = Vec::with_capacity(from.len());
        if let Some(curve) = Curve::new(&self.shapes, self.theta(), self.start_rad_s(), span) {
            curve.follow(&from, |_, speed, derivatives| {
                found.push((speed, self.fit.sd_along(derivatives)));
            });
        }
        found
    }

    /// Slowing at a speed, and its standard deviation.
    pub(super) fn slowing(&self, speed_rad_s: f64) -> (f64, f64) {
        let mut gradient = vec![0.0];
        gradient.extend(self.shapes.iter().map(|shape| shape.at(speed_rad_s)));
        let sum = gradient[1..]
            .iter()
            .zip(self.theta())
            .map(|(g, t)| g * t)
            .sum();
        (sum, self.fit.sd_along(&gradient))
    }

    /// Time from the first speed to an end, and its standard deviation; none where it never gets there.
    pub(super) fn sleep_s(&self, end_rad_s: f64) -> Option<(f64, f64)> {
        let time = |p: &[f64]| time_between(&self.shapes, &p[1..], p[0], end_rad_s);
        self.with_sd(time)
    }

    /// Any function of the parameters with its standard deviation, by central differences of a hundredth of the
    /// parameters' own standard deviations.
    pub(super) fn with_sd(&self, of: impl Fn(&[f64]) -> Option<f64>) -> Option<(f64, f64)> {
        let value = of(&self.fit.parameters)?;
        let mut gradient = Vec::with_capacity(self.fit.parameters.len());
        for at in 0..self.fit.parameters.len() {
            let step = (1e-2 * self.fit.sd(at)).max(1e-7 * self.fit.parameters[at].abs());
            let mut moved = self.fit.parameters.clone();
            moved[at] += step;
            let above = of(&moved)?;
            moved[at] -= 2.0 * step;
            gradient.push((above - of(&moved)?) / (2.0 * step));
        }
        Some((value, self.fit.sd_along(&gradient)))
    }

    /// The same law fitted to a log of another length, as often read: relative standard deviations of its terms, for
    /// the noise this log shows; none where the terms cannot be told apart at all.
    pub(super) fn planned(&self, length_s: f64, readings_per_s: f64) -> Option<Vec<f64>> {
        const POINTS: usize = 240;
        let curve = Curve::new(&self.shapes, self.theta(), self.start_rad_s(), length_s)?;
        let times: Vec<f64> = (0..POINTS)
            .map(|n| length_s * (n as f64 + 0.5) / POINTS as f64)
            .collect();
        let terms = self.terms.len() + 1;
        let mut columns = vec![Vec::with_capacity(POINTS); terms];
        curve.follow(&times, |_, _, derivatives| {
            for (column, derivative) in columns.iter_mut().zip(derivatives) {
                column.push(*derivative);
            }
        });
        let shape = shape_sd(&columns)?;
        let each = (POINTS as f64 / (length_s * readings_per_s)).sqrt();
        let noise = self.fit.noise_sd * each;
        Some(
            (1..terms)
                .map(|t| noise * shape[t] / self.fit.parameters[t].abs())
                .collect(),
        )
    }
}

/// Standard deviations of parameters for noise of 1 at every point.
fn shape_sd(columns: &[Vec<f64>]) -> Option<Vec<f64>> {
    let n = columns[0].len();
    // Residuals of ±1 in turn have a noise of √(n/(n − p)) by the rule of the fit: taken out again.
    let data: Vec<f64> = (0..n)
        .map(|i| if i % 2 == 0 { 1.0 } else { -1.0 })
        .collect();
    let found = linear(columns, &data).ok()?;
    let scale = 1.0 / found.noise_sd;
    Some((0..columns.len()).map(|at| found.sd(at) * scale).collect())
}
