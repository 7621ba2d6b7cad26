//! A smooth angle through scattered counts of turns: least squares with a uniform cubic spline.

/// Coefficients that touch one place.
const REACH: usize = 4;
/// Weight of the third differences against one observation: enough to bridge a gap, too little to bend.
const STIFFNESS: f64 = 1e-6;

/// Turns as a smooth function of time.
#[derive(Debug, Clone, PartialEq)]
pub struct Phase {
    begin: f64,
    step: f64,
    coefficients: Vec<f64>,
    factor: Vec<[f64; REACH]>,
    /// Root mean square of what the fit leaves, in turns.
    pub residual: f64,
}

/// Sums for a fit over a stretch of time: observations of turns, of turns a second, or both.
///
/// Method: cubic B-splines on knots `step` apart, normal equations in band form, Cholesky; third
/// differences are held down by a weight so small that it acts only where observations are missing. A
/// parabola (steady slowing) passes exactly; otherwise the error is about `step`⁴/384 times the fourth
/// derivative. Choose a step with three observations or more in it.
#[derive(Debug, Clone)]
pub struct PhaseFit {
    begin: f64,
    step: f64,
    intervals: usize,
    matrix: Vec<[f64; REACH]>,
    right: Vec<f64>,
    squares: f64,
    weights: f64,
    count: usize,
    /// Whether turns were observed, not rates alone.
    anchored: bool,
}

impl PhaseFit {
    /// Over `begin` to `end` with knots about `step` apart (at least one interval).
    #[must_use]
    pub fn new(begin: f64, end: f64, step: f64) -> Self {
        let intervals = ((end - begin) / step).ceil().clamp(1.0, 1e6) as usize;
        let size = intervals + REACH - 1;
        Self {
            begin,
            step: ((end - begin) / intervals as f64).max(f64::MIN_POSITIVE),
            intervals,
            matrix: vec![[0.0; REACH]; size],
            right: vec![0.0; size],
            squares: 0.0,
            weights: 0.0,
            count: 0,
            anchored: false,
        }
    }

    /// So many turns at a time.
    pub fn turns(&mut self, time: f64, turns: f64, weight: f64) {
        let (at, u) = place(self.begin, self.step, self.intervals, time);
        self.anchored = true;
        self.observe(at, values(u), turns, weight);
    }

    /// So many turns a second at a time.
    pub fn rate(&mut self, time: f64, turns_per_second: f64, weight: f64) {
        let (at, u) = place(self.begin, self.step, self.intervals, time);
        let slopes = slopes(u).map(|slope| slope / self.step);
        self.observe(at, slopes, turns_per_second, weight);
    }

    fn observe(&mut self, at: usize, row: [f64; REACH], value: f64, weight: f64) {
        for i in 0..REACH {
            for j in 0..=i {
                self.matrix[at + i][i - j] += weight * row[i] * row[j];
            }
            self.right[at + i] += weight * row[i] * value;
        }
        self.squares += weight * value * value;
        self.weights += weight;
        self.count += 1;
    }

    /// Solves; none without an observation. With rates alone the turns begin at 0.
    #[must_use]
    pub fn solve(mut self) -> Option<Phase> {
        if self.count == 0 || self.weights <= 0.0 {
            return None;
        }
        let typical = self.weights / self.count as f64;
        if !self.anchored {
            self.matrix[0][0] += typical * f64::EPSILON.sqrt();
        }
        let stiff = STIFFNESS * typical;
        let third = [-1.0, 3.0, -3.0, 1.0];
        for at in 0..self.intervals.saturating_sub(1) + 1 {
            for i in 0..REACH {
                for j in 0..=i {
                    self.matrix[at + i][i - j] += stiff * third[i] * third[j];
                }
            }
        }
        let original = self.right.clone();
        let factor = factored(self.matrix)?;
        let mut coefficients = self.right;
        solve_in_place(&factor, &mut coefficients);
        let explained: f64 = coefficients.iter().zip(&original).map(|(c, b)| c * b).sum();
        let residual = ((self.squares - explained).max(0.0) / self.weights).sqrt();
        Some(Phase {
            begin: self.begin,
            step: self.step,
            coefficients,
            factor,
            residual,
        })
    }
}

impl Phase {
    /// Turns at a time; straight on beyond the ends.
    #[must_use]
    pub fn turns(&self, time: f64) -> f64 {
        let (at, u) = self.place(time);
        let inside: f64 = values(u)
            .iter()
            .zip(&self.coefficients[at..])
            .map(|(b, c)| b * c)
            .sum();
        let edge = self.begin + (at as f64 + u) * self.step;
        inside + (time - edge) * self.rate(time)
    }

    /// Turns a second at a time; held beyond the ends.
    #[must_use]
    pub fn rate(&self, time: f64) -> f64 {
        let (at, u) = self.place(time);
        slopes(u)
            .iter()
            .zip(&self.coefficients[at..])
            .map(|(b, c)| b * c)
            .sum::<f64>()
            / self.step
    }

    /// Standard deviation of the rate at a time for observations that each scatter by `deviation`
    /// (with weight 1): the square root of dᵀ N⁻¹ d, times `deviation`.
    #[must_use]
    pub fn rate_deviation(&self, time: f64, deviation: f64) -> f64 {
        let (at, u) = self.place(time);
        let mut column = vec![0.0; self.coefficients.len()];
        let row = slopes(u).map(|slope| slope / self.step);
        column[at..at + REACH].copy_from_slice(&row);
        solve_in_place(&self.factor, &mut column);
        let variance: f64 = row.iter().zip(&column[at..]).map(|(a, b)| a * b).sum();
        deviation * variance.max(0.0).sqrt()
    }

    fn place(&self, time: f64) -> (usize, f64) {
        place(
            self.begin,
            self.step,
            self.coefficients.len() + 1 - REACH,
            time,
        )
    }
}

/// The interval a time lies in, and how far into it (0 to 1); times outside are moved to the ends.
fn place(begin: f64, step: f64, intervals: usize, time: f64) -> (usize, f64) {
    let x = ((time - begin) / step).clamp(0.0, intervals as f64);
    let at = (x as usize).min(intervals - 1);
    (at, x - at as f64)
}

fn values(u: f64) -> [f64; REACH] {
    let v = 1.0 - u;
    [
        v * v * v / 6.0,
        (3.0 * u * u * u - 6.0 * u * u + 4.0) / 6.0,
        (3.0 * v * v * v - 6.0 * v * v + 4.0) / 6.0,
        u * u * u / 6.0,
    ]
}

fn slopes(u: f64) -> [f64; REACH] {
    let v = 1.0 - u;
    [
        -v * v / 2.0,
        (3.0 * u * u - 4.0 * u) / 2.0,
        (4.0 * v - 3.0 * v * v) / 2.0,
        u * u / 2.0,
    ]
}

/// Cholesky factor of a band matrix held by rows: `rows[i][k]` stands k places left of the diagonal.
fn factored(mut rows: Vec<[f64; REACH]>) -> Option<Vec<[f64; REACH]>> {
    for i in 0..rows.len() {
        for k in (0..REACH.min(i + 1)).rev() {
            let j = i - k;
            let shared = (1..REACH - k).filter(|m| *m <= j);
            let sum: f64 = shared.map(|m| rows[i][k + m] * rows[j][m]).sum();
            let value = rows[i][k] - sum;
            rows[i][k] = if k == 0 {
                if value <= 0.0 || !value.is_finite() {
                    return None;
                }
                value.sqrt()
            } else {
                value / rows[j][0]
            };
        }
    }
    Some(rows)
}

fn solve_in_place(rows: &[[f64; REACH]], x: &mut [f64]) {
    for i in 0..rows.len() {
        let sum: f64 = (1..REACH.min(i + 1)).map(|k| rows[i][k] * x[i - k]).sum();
        x[i] = (x[i] - sum) / rows[i][0];
    }
    for i in (0..rows.len()).rev() {
        let sum: f64 = (1..REACH)
            .filter(|k| i + k < rows.len())
            .map(|k| rows[i + k][k] * x[i + k])
            .sum();
        x[i] = (x[i] - sum) / rows[i][0];
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::SplitMix64;

    fn parabola(time: f64) -> f64 {
        3.0 + 70.0 * time - 0.8 * time * time
    }

    #[test]
    fn closed_form_a_parabola_passes_exactly_even_over_a_gap() {
        let mut fit = PhaseFit::new(0.0, 20.0, 0.7);
        for k in 0..2000 {
            let time = f64::from(k) / 100.0;
            if !(5.0..9.0).contains(&time) {
                fit.turns(time, parabola(time), 1.0);
            }
        }
        let phase = fit.solve().expect("observed");
        for time in [0.0, 0.3, 6.9, 19.99] {
            // A thousand turns in a band of some thirty unknowns: 1e-16 · 1e3 · the condition of a gap.
            assert!((phase.turns(time) - parabola(time)).abs() < 1e-6, "{time}");
            assert!(
                (phase.rate(time) - (70.0 - 1.6 * time)).abs() < 1e-6,
                "{time}"
            );
        }
    }

    #[test]
    fn closed_form_rates_alone_give_the_turns_between_two_times() {
        let mut fit = PhaseFit::new(0.0, 10.0, 1.0);
        (0..=100).for_each(|k| fit.rate(f64::from(k) / 10.0, 70.0 - 0.16 * f64::from(k), 1.0));
        let phase = fit.solve().expect("observed");
        let between = phase.turns(8.0) - phase.turns(2.0);
        assert!(
            (between - (parabola(8.0) - parabola(2.0))).abs() < 1e-4,
            "{between}"
        );
    }

    #[test]
    fn law_the_stated_deviation_of_the_rate_is_the_scatter_of_many_fits() {
        let (mut errors, mut stated) = (Vec::new(), 0.0);
        for seed in 0..400 {
            let mut draws = SplitMix64::new(seed);
            let mut fit = PhaseFit::new(0.0, 10.0, 1.0);
            for k in 0..300 {
                let time = f64::from(k) / 30.0;
                // Uniform scatter of unit width: deviation 1/√12.
                fit.turns(time, parabola(time) + 0.01 * (draws.uniform() - 0.5), 1.0);
            }
            let phase = fit.solve().expect("observed");
            errors.push(phase.rate(5.2) - (70.0 - 1.6 * 5.2));
            stated = phase.rate_deviation(5.2, 0.01 / 12f64.sqrt());
        }
        let scatter = (errors.iter().map(|e| e * e).sum::<f64>() / 400.0).sqrt();
        // The deviation of 400 draws is itself known to 1/√800; four of that.
        assert!(
            (scatter / stated - 1.0).abs() < 4.0 / 800f64.sqrt(),
            "{scatter} {stated}"
        );
    }

    #[test]
    fn law_nothing_observed_is_no_phase() {
        assert_eq!(PhaseFit::new(0.0, 1.0, 0.1).solve(), None);
    }
}
