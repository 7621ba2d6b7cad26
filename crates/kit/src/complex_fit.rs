//! Linear least squares with complex numbers.

pub use nalgebra::Complex;

/// A matrix of complex numbers, column by column.
pub type ComplexMatrix = nalgebra::DMatrix<Complex<f64>>;

/// What least squares needs of a matrix: `x = pseudo · b` makes `|A x − b|` as small as it will go.
#[derive(Debug, Clone, PartialEq)]
pub struct Inverse {
    /// `(AᴴA)⁻¹Aᴴ`.
    pub pseudo: ComplexMatrix,
    /// `(AᴴA)⁻¹`: the covariance of the unknowns for unit noise.
    pub normal: ComplexMatrix,
    /// Largest over smallest singular value after every column was scaled to length 1: how nearly the
    /// columns are one another's multiples. 1 at best.
    pub condition_number: f64,
}

/// The pseudo-inverse of a matrix with at least as many rows as columns.
///
/// - **Method:** columns scaled to length 1, Householder QR, back substitution; the condition from the
///   singular values of the triangle.
/// - **Promised:** relative error of the unknowns near `condition · 1e-16`.
/// - **None** where there are fewer rows than columns, a column is nought or not finite, or the columns
///   depend on each other to the last digit (condition above 1e13).
#[must_use]
pub fn inverse(a: &ComplexMatrix) -> Option<Inverse> {
    // Beyond this a double has no digit left of the smallest direction.
    const HOPELESS: f64 = 1e13;
    let (rows, columns) = a.shape();
    if rows < columns || columns == 0 {
        return None;
    }
    let mut scaled = a.clone();
    let mut lengths = Vec::with_capacity(columns);
    for mut column in scaled.column_iter_mut() {
        let length = column.norm();
        if !(length.is_finite() && length > 0.0) {
            return None;
        }
        column.unscale_mut(length);
        lengths.push(length);
    }
    let (q, r) = scaled.qr().unpack();
    let condition_number = condition(&r);
    if condition_number.is_nan() || condition_number > HOPELESS {
        return None;
    }
    let identity = ComplexMatrix::identity(columns, columns);
    let mut triangle = r.solve_upper_triangular(&identity)?;
    for (mut row, length) in triangle.row_iter_mut().zip(&lengths) {
        row.unscale_mut(*length);
    }
    Some(Inverse {
        pseudo: &triangle * q.adjoint(),
        normal: &triangle * triangle.adjoint(),
        condition_number,
    })
}

/// Largest over smallest singular value of a triangle.
fn condition(r: &ComplexMatrix) -> f64 {
    match r.ncols() {
        1 => 1.0,
        2 => {
            // Of [[a, b], [0, c]]: s₁² + s₂² = |a|² + |b|² + |c|², s₁ s₂ = |a| |c|.
            let sum = r.iter().map(|v| v.norm_sqr()).sum::<f64>();
            let product = (r[(0, 0)] * r[(1, 1)]).norm();
            let root = ((sum - 2.0 * product).max(0.0) * (sum + 2.0 * product)).sqrt();
            // s₁²/s₂² = (sum + root)²/(4 product²)
            (sum + root) / (2.0 * product)
        }
        _ => {
            let values = r.clone().svd(false, false).singular_values;
            values.max() / values.min()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::SplitMix64;

    fn drawn(rows: usize, columns: usize, draws: &mut SplitMix64) -> ComplexMatrix {
        ComplexMatrix::from_fn(rows, columns, |_, _| {
            Complex::new(draws.uniform() - 0.5, draws.uniform() - 0.5)
        })
    }

    #[test]
    fn law_the_inverse_undoes_and_the_residual_stands_square_on_the_columns() {
        let mut draws = SplitMix64::new(11);
        for (rows, columns) in [(1, 1), (2, 2), (3, 2), (4, 3), (9, 4)] {
            let a = drawn(rows, columns, &mut draws);
            let inv = inverse(&a).unwrap();
            // A few hundred roundings, times the condition.
            let slack = 1e-14 * inv.condition_number;
            let undone = &inv.pseudo * &a - ComplexMatrix::identity(columns, columns);
            assert!(undone.norm() < slack, "{rows}x{columns}: {}", undone.norm());
            let b = drawn(rows, 1, &mut draws);
            let left = &a * (&inv.pseudo * &b) - &b;
            assert!((a.adjoint() * left).norm() < slack);
            let twice =
                &inv.normal * (a.adjoint() * &a) - ComplexMatrix::identity(columns, columns);
            assert!(twice.norm() < slack * inv.condition_number);
        }
    }

    #[test]
    fn twin_the_condition_in_closed_form_is_that_of_the_singular_values() {
        let mut draws = SplitMix64::new(5);
        for _ in 0..20 {
            let r = drawn(2, 2, &mut draws).qr().r();
            let values = r.clone().svd(false, false).singular_values;
            let twin = values.max() / values.min();
            // Some ten roundings of either way, the smaller value losing as many as the condition says.
            assert!((condition(&r) / twin - 1.0).abs() < 1e-14 * twin * twin);
        }
    }

    #[test]
    fn law_columns_that_depend_on_each_other_have_no_inverse() {
        let one = Complex::new(1.0, 2.0);
        let a = ComplexMatrix::from_fn(3, 2, |row, column| {
            one * (row as f64 + 1.0) * (column as f64 + 1.0)
        });
        assert_eq!(inverse(&a), None);
        assert_eq!(inverse(&ComplexMatrix::zeros(2, 1)), None);
        assert_eq!(inverse(&ComplexMatrix::identity(1, 2)), None);
    }
}
