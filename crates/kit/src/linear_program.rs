//! A small linear program to which columns are added one by one, for steering by prices.

/// Maximise `gain·x` under `Σ column·x ≤ limit` for every row, `x ≥ 0`, `limit ≥ 0`.
///
/// Method: primal simplex with the inverse of the basis kept (revised form), steepest reduced gain
/// first; limits are lifted by a tiny, row-dependent amount so that ties do not make it circle.
/// Meant for some hundred rows and some ten thousand sparse columns. **Floating point: the prices
/// it gives are good guides, not proofs**; a caller who needs a proof rounds them and checks.
#[derive(Debug, Clone)]
pub struct Program {
    limits: Vec<f64>,
    columns: Vec<Vec<(usize, f64)>>,
    gains: Vec<f64>,
    basis: Vec<usize>,
    inverse: Vec<f64>,
    values: Vec<f64>,
    pivots: usize,
}

/// Reduced gains below this share of the largest gain are taken for zero: some thousand roundings
/// of 2^-53 each.
const ZERO: f64 = 1e-11;

/// The inverse is made anew after so many pivots, before rounding gathers.
const PIVOTS_BETWEEN: usize = 150;

impl Program {
    /// A program with only its limits (every one at least 0).
    #[must_use]
    pub fn new(limits: &[f64]) -> Self {
        let rows = limits.len();
        let scale = limits
            .iter()
            .copied()
            .filter(|limit| *limit > 0.0)
            .fold(1.0f64, f64::min);
        // Lifts between 1 and 2 parts in 10^7 of the smallest limit above 0 (at most of 1).
        let lifted: Vec<f64> = limits
            .iter()
            .enumerate()
            .map(|(row, limit)| limit + scale * 1e-7 * (1.0 + ((row * 37 % 101) as f64) / 101.0))
            .collect();
        let mut program = Self {
            values: lifted.clone(),
            limits: lifted,
            columns: Vec::new(),
            gains: Vec::new(),
            basis: (0..rows).collect(),
            inverse: identity(rows),
            pivots: 0,
        };
        for row in 0..rows {
            program.columns.push(vec![(row, 1.0)]);
            program.gains.push(0.0);
        }
        program
    }

    /// Adds a column `(row, amount)…` that earns `gain` a unit.
    pub fn add(&mut self, gain: f64, column: Vec<(usize, f64)>) {
        self.columns.push(column);
        self.gains.push(gain);
    }

    /// Prices of the rows at the present basis; negative roundings are set to 0.
    #[must_use]
    pub fn prices(&self) -> Vec<f64> {
        self.raw_prices().into_iter().map(|p| p.max(0.0)).collect()
    }

    /// Best value for the present columns.
    #[must_use]
    pub fn value(&self) -> f64 {
        self.basis
            .iter()
            .zip(&self.values)
            .map(|(&column, value)| self.gains[column] * value)
            .sum()
    }

    /// Improves until no column helps or `most` pivots are done; `true` when none helps.
    pub fn solve(&mut self, most: usize) -> bool {
        for _ in 0..most {
            let Some(entering) = self.entering() else {
                return true;
            };
            let direction = self.direction(entering);
            let Some(leaving) = self.leaving(&direction) else {
                return false;
            };
            self.pivot(entering, leaving, &direction);
        }
        false
    }

    fn raw_prices(&self) -> Vec<f64> {
        let rows = self.limits.len();
        let mut prices = vec![0.0; rows];
        for (place, &column) in self.basis.iter().enumerate() {
            let gain = self.gains[column];
            if gain != 0.0 {
                let line = &self.inverse[place * rows..(place + 1) * rows];
                for (price, entry) in prices.iter_mut().zip(line) {
                    *price += gain * entry;
                }
            }
        }
        prices
    }

    fn entering(&self) -> Option<usize> {
        let prices = self.raw_prices();
        let scale = self
            .gains
            .iter()
            .fold(1e-300f64, |most, gain| most.max(gain.abs()));
        let mut best = (ZERO * scale, None);
        for (column, entries) in self.columns.iter().enumerate() {
            let paid: f64 = entries
                .iter()
                .map(|&(row, amount)| prices[row] * amount)
                .sum();
            let reduced = self.gains[column] - paid;
            if reduced > best.0 {
                best = (reduced, Some(column));
            }
        }
        best.1
    }

    fn direction(&self, column: usize) -> Vec<f64> {
        let rows = self.limits.len();
        let mut direction = vec![0.0; rows];
        for (place, value) in direction.iter_mut().enumerate() {
            let line = &self.inverse[place * rows..(place + 1) * rows];
            *value = self.columns[column]
                .iter()
                .map(|&(row, amount)| line[row] * amount)
                .sum();
        }
        direction
    }

    fn leaving(&self, direction: &[f64]) -> Option<usize> {
        let mut best: Option<(f64, usize)> = None;
        for (place, &step) in direction.iter().enumerate() {
            // A pivot this small would blow up the inverse: 1e-9 keeps seven digits of sixteen.
            if step > 1e-9 {
                let ratio = self.values[place].max(0.0) / step;
                if best.is_none_or(|(least, _)| ratio < least) {
                    best = Some((ratio, place));
                }
            }
        }
        best.map(|(_, place)| place)
    }

    fn pivot(&mut self, entering: usize, leaving: usize, direction: &[f64]) {
        let rows = self.limits.len();
        let scale = 1.0 / direction[leaving];
        let line: Vec<f64> = self.inverse[leaving * rows..(leaving + 1) * rows]
            .iter()
            .map(|e| e * scale)
            .collect();
        let value = self.values[leaving] * scale;
        for (place, &share) in direction.iter().enumerate() {
            if place == leaving || share == 0.0 {
                continue;
            }
            let other = &mut self.inverse[place * rows..(place + 1) * rows];
            for (entry, pivot) in other.iter_mut().zip(&line) {
                *entry -= share * pivot;
            }
            self.values[place] -= share * value;
        }
        self.inverse[leaving * rows..(leaving + 1) * rows].copy_from_slice(&line);
        self.values[leaving] = value;
        self.basis[leaving] = entering;
        self.pivots += 1;
        if self.pivots.is_multiple_of(PIVOTS_BETWEEN) {
            self.refresh();
        }
    }

    /// Makes the inverse anew from the basis columns (Gauss-Jordan with row exchange).
    fn refresh(&mut self) {
        let rows = self.limits.len();
        let mut matrix = vec![0.0; rows * rows];
        for (place, &column) in self.basis.iter().enumerate() {
            for &(row, amount) in &self.columns[column] {
                matrix[row * rows + place] += amount;
            }
        }
        let Some(inverse) = invert(matrix, rows) else {
            return;
        };
        for place in 0..rows {
            let line = &inverse[place * rows..(place + 1) * rows];
            self.values[place] = line
                .iter()
                .zip(&self.limits)
                .map(|(e, limit)| e * limit)
                .sum();
        }
        self.inverse = inverse;
    }
}

fn identity(rows: usize) -> Vec<f64> {
    let mut matrix = vec![0.0; rows * rows];
    for row in 0..rows {
        matrix[row * rows + row] = 1.0;
    }
    matrix
}

fn invert(mut matrix: Vec<f64>, rows: usize) -> Option<Vec<f64>> {
    let mut inverse = identity(rows);
    for column in 0..rows {
        let pivot = (column..rows).max_by(|&a, &b| {
            matrix[a * rows + column]
                .abs()
                .total_cmp(&matrix[b * rows + column].abs())
        })?;
        let size = matrix[pivot * rows + column];
        if size.abs() < 1e-12 {
            return None;
        }
        for entry in 0..rows {
            matrix.swap(column * rows + entry, pivot * rows + entry);
            inverse.swap(column * rows + entry, pivot * rows + entry);
        }
        for entry in 0..rows {
            matrix[column * rows + entry] /= size;
            inverse[column * rows + entry] /= size;
        }
        for row in 0..rows {
            let share = matrix[row * rows + column];
            if row == column || share == 0.0 {
                continue;
            }
            for entry in 0..rows {
                matrix[row * rows + entry] -= share * matrix[column * rows + entry];
                inverse[row * rows + entry] -= share * inverse[column * rows + entry];
            }
        }
    }
    Some(inverse)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Limits are lifted by at most 2 parts in 10^7; what a lift buys is its price times as much.
    const LIFT: f64 = 2e-7;

    #[test]
    fn closed_form_two_goods_from_three_materials() {
        // max 3x + 5y; x ≤ 4, 2y ≤ 12, 3x + 2y ≤ 18: x = 2, y = 6, value 36, prices 0, 3/2, 1.
        let mut program = Program::new(&[4.0, 12.0, 18.0]);
        program.add(3.0, vec![(0, 1.0), (2, 3.0)]);
        program.add(5.0, vec![(1, 2.0), (2, 2.0)]);
        assert!(program.solve(100));
        assert!((program.value() - 36.0).abs() < 36.0 * 3.0 * LIFT);
        for (price, expected) in program.prices().iter().zip([0.0, 1.5, 1.0]) {
            assert!((price - expected).abs() < 1e-12);
        }
    }

    #[test]
    fn law_a_column_added_later_gives_the_value_of_all_at_once() {
        let mut late = Program::new(&[4.0, 12.0, 18.0]);
        late.add(3.0, vec![(0, 1.0), (2, 3.0)]);
        assert!(late.solve(100));
        assert!((late.value() - 12.0).abs() < 36.0 * 3.0 * LIFT);
        late.add(5.0, vec![(1, 2.0), (2, 2.0)]);
        assert!(late.solve(100));
        assert!((late.value() - 36.0).abs() < 36.0 * 3.0 * LIFT);
    }

    #[test]
    fn law_all_limits_zero_does_not_circle() {
        // Beale's example, on which the plain rule circles for ever; optimum 1/20.
        let mut program = Program::new(&[0.0, 0.0, 1.0]);
        program.add(0.75, vec![(0, 0.25), (1, 0.5)]);
        program.add(-150.0, vec![(0, -60.0), (1, -90.0)]);
        program.add(0.02, vec![(0, -0.04), (1, -0.02), (2, 1.0)]);
        program.add(-6.0, vec![(0, 9.0), (1, 3.0)]);
        assert!(program.solve(1000));
        // The lift of row 0 is bought at a price of up to 1.5 a unit here.
        assert!((program.value() - 0.05).abs() < 10.0 * LIFT);
    }
}
