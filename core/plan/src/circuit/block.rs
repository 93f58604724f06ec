//! Small dense blocks: the Cholesky factor of one station's pivot.

/// The lower Cholesky factor of a symmetric positive definite matrix.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cholesky<const N: usize> {
    lower: [[f64; N]; N],
    /// The smallest squared diagonal element met, a measure of how near to singular the matrix is.
    pub(super) least_pivot: f64,
}

impl<const N: usize> Cholesky<N> {
    /// Factors a matrix, or `None` where it is not positive definite (or not finite).
    pub(super) fn of(matrix: &[[f64; N]; N]) -> Option<Self> {
        let mut lower = [[0.0; N]; N];
        let mut least_pivot = f64::INFINITY;
        for column in 0..N {
            let mut pivot = matrix[column][column];
            for value in &lower[column][..column] {
                pivot -= value * value;
            }
            // Written so that NaN fails as well.
            if !(pivot > 0.0 && pivot.is_finite()) {
                return None;
            }
            least_pivot = least_pivot.min(pivot);
            let root = pivot.sqrt();
            lower[column][column] = root;
            for row in column + 1..N {
                let known: f64 = lower[row][..column].iter().zip(&lower[column][..column]).map(|(a, b)| a * b).sum();
                let sum = matrix[row][column] - known;
                lower[row][column] = sum / root;
            }
        }
        Some(Self { lower, least_pivot })
    }

    /// Solves with the lower factor only.
    pub(super) fn forward(&self, right: [f64; N]) -> [f64; N] {
        let mut out = right;
        for row in 0..N {
            for k in 0..row {
                out[row] -= self.lower[row][k] * out[k];
            }
            out[row] /= self.lower[row][row];
        }
        out
    }

    /// Solves with the transposed lower factor only.
    pub(super) fn back(&self, right: [f64; N]) -> [f64; N] {
        let mut out = right;
        for row in (0..N).rev() {
            for k in row + 1..N {
                out[row] -= self.lower[k][row] * out[k];
            }
            out[row] /= self.lower[row][row];
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_small_system_is_solved() {
        // By hand: [[4, 2], [2, 3]] x = [8, 7] has x = [1.25, 1.5].
        let factor = Cholesky::of(&[[4.0, 2.0], [2.0, 3.0]]).unwrap();
        let found = factor.back(factor.forward([8.0, 7.0]));
        assert!((found[0] - 1.25).abs() < 1e-14 && (found[1] - 1.5).abs() < 1e-14);
    }

    #[test]
    fn what_is_not_positive_definite_is_refused() {
        assert!(Cholesky::of(&[[1.0, 2.0], [2.0, 1.0]]).is_none());
        assert!(Cholesky::of(&[[f64::NAN]]).is_none());
        assert!(Cholesky::of(&[[0.0]]).is_none());
    }
}
