//! Solving a symmetric positive definite system whose rows reach only a little way back (Cholesky in skyline form).

/// A symmetric matrix: of each row only the part from its first entry to the diagonal is kept.
#[derive(Clone, Debug)]
pub(super) struct Skyline {
    first: Vec<usize>,
    rows: Vec<Vec<f64>>,
}

impl Skyline {
    /// A matrix of zeros that can hold the given pairs and the diagonal.
    pub fn holding(size: usize, pairs: impl Iterator<Item = (usize, usize)>) -> Self {
        let mut first: Vec<usize> = (0..size).collect();
        for (i, j) in pairs {
            let (row, column) = (i.max(j), i.min(j));
            first[row] = first[row].min(column);
        }
        let rows = first.iter().enumerate().map(|(row, first)| vec![0.0; row - first + 1]).collect();
        Self { first, rows }
    }

    /// Adds to an entry that the matrix can hold.
    pub fn add(&mut self, i: usize, j: usize, value: f64) {
        let (row, column) = (i.max(j), i.min(j));
        self.rows[row][column - self.first[row]] += value;
    }

    /// Sets all entries to zero.
    pub fn clear(&mut self) {
        for row in &mut self.rows {
            row.fill(0.0);
        }
    }

    /// Replaces the matrix by its Cholesky factor. A pivot that rounding has eaten up is replaced by a small one, which
    /// keeps the step finite; the method around it checks its own progress.
    pub fn factor(&mut self) {
        for i in 0..self.rows.len() {
            let (before, from) = self.rows.split_at_mut(i);
            let row = &mut from[0];
            let first_i = self.first[i];
            let diagonal = row[i - first_i];
            for j in first_i..i {
                let first_j = self.first[j];
                let start = first_i.max(first_j);
                let other = &before[j];
                let mut value = row[j - first_i];
                for k in start..j {
                    value -= row[k - first_i] * other[k - first_j];
                }
                row[j - first_i] = value / other[j - first_j];
            }
            let mut pivot = diagonal;
            for value in &row[..i - first_i] {
                pivot -= value * value;
            }
            let least = (diagonal.abs() * 1e-14).max(1e-300);
            row[i - first_i] = pivot.max(least).sqrt();
        }
    }

    /// Solves with the factor, in place.
    pub fn solve(&self, x: &mut [f64]) {
        for i in 0..x.len() {
            let (first, row) = (self.first[i], &self.rows[i]);
            let mut value = x[i];
            for k in first..i {
                value -= row[k - first] * x[k];
            }
            x[i] = value / row[i - first];
        }
        for i in (0..x.len()).rev() {
            let (first, row) = (self.first[i], &self.rows[i]);
            x[i] /= row[i - first];
            let value = x[i];
            for k in first..i {
                x[k] -= row[k - first] * value;
            }
        }
    }
}
