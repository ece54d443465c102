//! The inverse of a square matrix, kept row by row.

/// A divisor below this is none.
const SINGULAR: f64 = 1e-9;

/// Gauss-Jordan with row exchange; none if the matrix is singular.
pub(super) fn inverted(mut matrix: Vec<f64>, rows: usize) -> Option<Vec<f64>> {
    let mut inverse = vec![0.0; rows * rows];
    for row in 0..rows {
        inverse[row * rows + row] = 1.0;
    }
    for column in 0..rows {
        let size = |row: usize| matrix[row * rows + column].abs();
        let pivot = (column..rows).fold(
            column,
            |best, row| {
                if size(row) > size(best) { row } else { best }
            },
        );
        if size(pivot) < SINGULAR {
            return None;
        }
        for at in 0..rows {
            matrix.swap(pivot * rows + at, column * rows + at);
            inverse.swap(pivot * rows + at, column * rows + at);
        }
        let factor = 1.0 / matrix[column * rows + column];
        for at in 0..rows {
            matrix[column * rows + at] *= factor;
            inverse[column * rows + at] *= factor;
        }
        let own = matrix[column * rows..(column + 1) * rows].to_vec();
        let own_inverse = inverse[column * rows..(column + 1) * rows].to_vec();
        for row in (0..rows).filter(|row| *row != column) {
            let factor = matrix[row * rows + column];
            if factor != 0.0 {
                for at in 0..rows {
                    matrix[row * rows + at] -= factor * own[at];
                    inverse[row * rows + at] -= factor * own_inverse[at];
                }
            }
        }
    }
    Some(inverse)
}
