//! Principal axes of a symmetric three-by-three tensor.

use nalgebra::Matrix3;

/// Principal values with their axes (unit vectors), largest first.
///
/// Method: the symmetric eigenvalue decomposition of `nalgebra`; values and axes are good to some ten
/// roundings of the largest value, axes of values that lie close together by as much the less.
#[must_use]
pub fn axes(tensor: [[f64; 3]; 3]) -> [(f64, [f64; 3]); 3] {
    let matrix = Matrix3::from_fn(|row, column| 0.5 * (tensor[row][column] + tensor[column][row]));
    let found = matrix.symmetric_eigen();
    let mut order = [0, 1, 2];
    order.sort_by(|&a, &b| found.eigenvalues[b].total_cmp(&found.eigenvalues[a]));
    order.map(|n| {
        let axis = found.eigenvectors.column(n);
        (found.eigenvalues[n], [axis[0], axis[1], axis[2]])
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_axes_are_unit_vectors_that_the_tensor_stretches() {
        let tensor = [[5.0, 0.3, -0.2], [0.3, 3.0, 0.1], [-0.2, 0.1, 2.0]];
        let found = axes(tensor);
        assert!(found[0].0 > found[1].0 && found[1].0 > found[2].0);
        for (value, axis) in found {
            for (line, own) in tensor.iter().zip(axis) {
                let stretched: f64 = line.iter().zip(axis).map(|(t, a)| t * a).sum();
                // Some ten roundings of numbers of size 5.
                assert!((stretched - value * own).abs() < 1e-14);
            }
        }
    }
}
