//! What goes with the angle: amplitudes at stated orders, by least squares over a window of turns.

/// A column must keep this share of itself that no column before it explains: below, the scatter of its
/// amplitude would be a thousand times that of a column alone.
const LEAST_OWN: f64 = 1e-6;

/// Amplitudes at several orders at once: y ≈ c + Σ gₒ (Aₒ cos oφ − Bₒ sin oφ).
///
/// With A = E cos θ and B = E sin θ an order is E·g·cos(oφ + θ): θ is its lead over angle zero. The gain g is
/// 1, or what is handed in with each sample for the orders marked `scaled` (the square of the rate, say, so
/// that E is a length). All orders are fitted together, so an order that is not a whole number does
/// not leak into its neighbours as it would in a transform. Window: at least 1/(least distance of two orders)
/// turns, better four times that; an even number of samples a turn is not needed. Keeps sums alone: each sample
/// costs one sine and cosine an order and half a square of products.
#[derive(Debug, Clone)]
pub struct OrderFit {
    orders: Vec<(f64, bool)>,
    size: usize,
    matrix: Vec<f64>,
    right: Vec<f64>,
    row: Vec<f64>,
    squares: f64,
    gains: f64,
    count: usize,
}

/// What a window gave.
#[derive(Debug, Clone, PartialEq)]
pub struct Window {
    /// A and B of every order, in the order given; in the signal's unit, per unit of gain where scaled.
    pub parts: Vec<(f64, f64)>,
    /// Variance of A (and about that of B) of every order, were what is left white noise.
    pub variances: Vec<f64>,
    /// Mean gain.
    pub gain: f64,
    /// Mean square of the signal about its mean.
    pub power: f64,
    /// Mean square of what is left.
    pub left: f64,
    /// Samples.
    pub count: usize,
}

impl OrderFit {
    /// For these orders (positive, no two alike); `true` for those that the gain scales.
    #[must_use]
    pub fn new(orders: &[(f64, bool)]) -> Self {
        let size = 2 * orders.len() + 1;
        Self {
            orders: orders.to_vec(),
            size,
            matrix: vec![0.0; size * size],
            right: vec![0.0; size],
            row: vec![0.0; size],
            squares: 0.0,
            gains: 0.0,
            count: 0,
        }
    }

    /// Samples since the last window.
    #[must_use]
    pub fn count(&self) -> usize {
        self.count
    }

    /// Takes a sample at an angle in turns.
    pub fn push(&mut self, turns: f64, gain: f64, sample: f64) {
        let angle = turns.fract() * std::f64::consts::TAU;
        let whole = turns.trunc();
        self.row[0] = 1.0;
        for (at, (order, scaled)) in self.orders.iter().enumerate() {
            // Whole turns are taken off before multiplying, or a long count would cost digits.
            let full = (order * whole).fract() * std::f64::consts::TAU;
            let (sin, cos) = (order * angle + full).sin_cos();
            let g = if *scaled { gain } else { 1.0 };
            self.row[2 * at + 1] = g * cos;
            self.row[2 * at + 2] = -g * sin;
        }
        for i in 0..self.size {
            let (value, line) = (
                self.row[i],
                &mut self.matrix[i * self.size..i * self.size + i + 1],
            );
            for (sum, other) in line.iter_mut().zip(&self.row) {
                *sum += value * other;
            }
            self.right[i] += value * sample;
        }
        self.squares += sample * sample;
        self.gains += gain;
        self.count += 1;
    }

    /// Solves the window and begins the next; none if the window does not carry all orders.
    pub fn take(&mut self) -> Option<Window> {
        let fresh = Self::new(&self.orders);
        let full = std::mem::replace(self, fresh);
        full.solve()
    }

    fn solve(mut self) -> Option<Window> {
        let (n, size) = (self.count as f64, self.size);
        if self.count <= 2 * size {
            return None;
        }
        // Columns of one size, so that what is singular shows whatever the gain's unit.
        let scale: Vec<f64> = (0..size)
            .map(|i| self.matrix[i * size + i].sqrt())
            .collect();
        if scale.iter().any(|s| *s <= 0.0 || !s.is_finite()) {
            return None;
        }
        for i in 0..size {
            for j in 0..=i {
                self.matrix[i * size + j] /= scale[i] * scale[j];
            }
            self.right[i] /= scale[i];
        }
        let factor = cholesky(self.matrix, size)?;
        let mut answer = self.right.clone();
        solve_lower(&factor, size, &mut answer);
        let explained: f64 = answer.iter().map(|x| x * x).sum();
        solve_upper(&factor, size, &mut answer);
        let mean = self.right[0] * scale[0] / n;
        let left = (self.squares - explained).max(0.0) / (n - size as f64);
        let variance = |column: usize| {
            let mut unit = vec![0.0; size];
            unit[column] = 1.0;
            solve_lower(&factor, size, &mut unit);
            left * unit.iter().map(|x| x * x).sum::<f64>() / scale[column].powi(2)
        };
        let columns = (1..size).step_by(2);
        Some(Window {
            parts: columns
                .clone()
                .map(|c| (answer[c] / scale[c], answer[c + 1] / scale[c + 1]))
                .collect(),
            variances: columns
                .map(|c| 0.5 * (variance(c) + variance(c + 1)))
                .collect(),
            gain: self.gains / n,
            power: (self.squares / n - mean * mean).max(0.0),
            left,
            count: self.count,
        })
    }
}

/// Lower factor; none where two columns are nearly the same.
fn cholesky(mut matrix: Vec<f64>, size: usize) -> Option<Vec<f64>> {
    for i in 0..size {
        for j in 0..=i {
            let sum: f64 = (0..j)
                .map(|k| matrix[i * size + k] * matrix[j * size + k])
                .sum();
            let value = matrix[i * size + j] - sum;
            matrix[i * size + j] = if i == j {
                if value < LEAST_OWN {
                    return None;
                }
                value.sqrt()
            } else {
                value / matrix[j * size + j]
            };
        }
    }
    Some(matrix)
}

fn solve_lower(factor: &[f64], size: usize, x: &mut [f64]) {
    for i in 0..size {
        let sum: f64 = (0..i).map(|k| factor[i * size + k] * x[k]).sum();
        x[i] = (x[i] - sum) / factor[i * size + i];
    }
}

fn solve_upper(factor: &[f64], size: usize, x: &mut [f64]) {
    for i in (0..size).rev() {
        let sum: f64 = (i + 1..size).map(|k| factor[k * size + i] * x[k]).sum();
        x[i] = (x[i] - sum) / factor[i * size + i];
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_orders_that_are_there_are_given_back() {
        let orders = [
            (1.0, true),
            (1.19149, false),
            (0.41667, false),
            (4.1667, false),
            (2.0, true),
        ];
        let parts = [
            (6.4e-6, 4.8e-6),
            (0.3, -0.2),
            (0.01, 0.02),
            (0.0, 0.05),
            (0.0, 0.0),
        ];
        let mut fit = OrderFit::new(&orders);
        for n in 0..20_000 {
            let turns = 900.0 + f64::from(n) / 300.0;
            let rate = 420.0 - f64::from(n) / 200.0;
            let gain = rate * rate;
            let line = |((order, scaled), (a, b)): (&(f64, bool), &(f64, f64))| {
                let angle = order * turns * std::f64::consts::TAU;
                (if *scaled { gain } else { 1.0 }) * (a * angle.cos() - b * angle.sin())
            };
            fit.push(
                turns,
                gain,
                0.7 + orders.iter().zip(&parts).map(line).sum::<f64>(),
            );
        }
        let window = fit.take().expect("carried");
        for ((a, b), (found_a, found_b)) in parts.iter().zip(&window.parts) {
            // Columns are of one size, so the error is that of the sums: 1e-16 of the largest part, times n.
            assert!(
                (a - found_a).abs() < 1e-10 && (b - found_b).abs() < 1e-10,
                "{window:?}"
            );
        }
        assert_eq!(fit.count(), 0);
    }

    #[test]
    fn law_a_window_that_does_not_part_two_orders_gives_nothing() {
        let mut fit = OrderFit::new(&[(1.0, false), (1.000_001, false)]);
        (0..1000).for_each(|n| fit.push(f64::from(n) / 50.0, 1.0, f64::from(n % 7)));
        assert_eq!(fit.take(), None);
        assert_eq!(fit.take(), None);
    }
}
