//! The little linear algebra the model needs, without allocation: sums of outer products, one
//! symmetric factorisation, its solves.

use nalgebra::DMatrix;

/// A symmetric matrix, row by row; only the lower triangle is kept up.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Symmetric {
    size: usize,
    rows: Vec<f64>,
}

/// `L` of `S = L L'`, lower triangle, row by row.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Factor {
    size: usize,
    rows: Vec<f64>,
}

/// Sum of products, in four running sums so that the processor need not wait for each.
pub(crate) fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (a4, a_rest) = a.as_chunks::<4>();
    let (b4, b_rest) = b.as_chunks::<4>();
    let mut sums = [0.0; 4];
    for (a, b) in a4.iter().zip(b4) {
        for i in 0..4 {
            sums[i] += a[i] * b[i];
        }
    }
    let rest: f64 = a_rest.iter().zip(b_rest).map(|(a, b)| a * b).sum();
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
}

/// `y += factor * x`.
pub(crate) fn add_scaled(y: &mut [f64], factor: f64, x: &[f64]) {
    for (y, x) in y.iter_mut().zip(x) {
        *y += factor * x;
    }
}

impl Symmetric {
    pub(crate) fn zero(size: usize) -> Symmetric {
        Symmetric { size, rows: vec![0.0; size * size] }
    }

    pub(crate) fn clear(&mut self) {
        self.rows.fill(0.0);
    }

    pub(crate) fn add_diagonal(&mut self, diagonal: &[f64]) {
        for (i, d) in diagonal.iter().enumerate() {
            self.rows[i * self.size + i] += d;
        }
    }

    /// Adds `weight x x'` where `x` fills the entries from `first` on.
    pub(crate) fn add_outer(&mut self, first: usize, x: &[f64], weight: f64) {
        for (i, xi) in x.iter().enumerate() {
            let factor = weight * xi;
            if factor != 0.0 {
                let start = (first + i) * self.size + first;
                add_scaled(&mut self.rows[start..start + i + 1], factor, &x[..=i]);
            }
        }
    }

    /// Adds the first rows of a symmetric matrix, given in full width.
    pub(crate) fn add_lower(&mut self, first_rows: &DMatrix<f64>) {
        let rows = first_rows.nrows();
        for (i, column) in first_rows.column_iter().enumerate() {
            let start = i * self.size;
            let entries = &mut self.rows[start..start + rows.min(i + 1)];
            add_scaled(entries, 1.0, column.as_slice());
        }
    }

    /// Adds a symmetric block whose corner stands at `first` on the diagonal.
    pub(crate) fn add_corner(&mut self, first: usize, block: &DMatrix<f64>) {
        for (i, column) in block.column_iter().enumerate() {
            let start = (first + i) * self.size + first;
            add_scaled(&mut self.rows[start..start + i + 1], 1.0, &column.as_slice()[..=i]);
        }
    }

    /// Adds a lower triangle given row by row.
    pub(crate) fn add_packed(&mut self, packed: &[f64]) {
        let mut taken = 0;
        for i in 0..self.size {
            let row = &packed[taken..taken + i + 1];
            add_scaled(&mut self.rows[i * self.size..i * self.size + i + 1], 1.0, row);
            taken += i + 1;
        }
    }

    /// Entry in row `i`, column `j`.
    pub(crate) fn at(&self, i: usize, j: usize) -> f64 {
        self.rows[i.max(j) * self.size + i.min(j)]
    }

    /// Factors into `factor`; `None` if the matrix is not positive definite.
    pub(crate) fn factor_into(&self, factor: &mut Factor) -> Option<()> {
        let n = self.size;
        factor.size = n;
        factor.rows.resize(n * n, 0.0);
        for i in 0..n {
            let (done, row) = factor.rows.split_at_mut(i * n);
            for j in 0..i {
                let other = &done[j * n..j * n + j + 1];
                row[j] = (self.rows[i * n + j] - dot(&row[..j], &other[..j])) / other[j];
            }
            let left = self.rows[i * n + i] - dot(&row[..i], &row[..i]);
            if !(left > 0.0 && left.is_finite()) {
                return None;
            }
            row[i] = left.sqrt();
        }
        Some(())
    }
}

impl Factor {
    pub(crate) fn empty() -> Factor {
        Factor { size: 0, rows: Vec::new() }
    }

    /// `ln |S|`.
    pub(crate) fn ln_determinant(&self) -> f64 {
        (0..self.size).map(|i| 2.0 * self.rows[i * self.size + i].ln()).sum()
    }

    /// `S` itself.
    pub(crate) fn product(&self) -> Symmetric {
        let n = self.size;
        let mut sum = Symmetric::zero(n);
        for i in 0..n {
            for j in 0..=i {
                sum.rows[i * n + j] =
                    dot(&self.rows[i * n..i * n + j + 1], &self.rows[j * n..j * n + j + 1]);
            }
        }
        sum
    }

    /// Diagonal of `S^-1`.
    pub(crate) fn inverse_diagonal(&self) -> Vec<f64> {
        let n = self.size;
        let mut column = vec![0.0; n];
        (0..n)
            .map(|j| {
                column[j] = 1.0 / self.rows[j * n + j];
                let mut sum = column[j] * column[j];
                for i in j + 1..n {
                    let row = &self.rows[i * n..i * n + i + 1];
                    column[i] = -dot(&row[j..i], &column[j..i]) / row[i];
                    sum += column[i] * column[i];
                }
                sum
            })
            .collect()
    }

    /// `S^-1 x`, in place.
    pub(crate) fn solve(&self, x: &mut [f64]) {
        self.solve_lower(x);
        self.solve_upper(x);
    }

    /// `L^-1 x`, in place: of a column of the covariance's shape, its length is the variance.
    pub(crate) fn solve_lower(&self, x: &mut [f64]) {
        let n = self.size;
        for i in 0..n {
            let row = &self.rows[i * n..i * n + i + 1];
            x[i] = (x[i] - dot(&row[..i], &x[..i])) / row[i];
        }
    }

    /// `L'^-1 x`, in place: independent bell-shaped numbers become draws with covariance `S^-1`.
    pub(crate) fn solve_upper(&self, x: &mut [f64]) {
        let n = self.size;
        for i in (0..n).rev() {
            let row = &self.rows[i * n..i * n + i + 1];
            x[i] /= row[i];
            let xi = x[i];
            add_scaled(&mut x[..i], -xi, &row[..i]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_factored_matrix_solves_its_equations() {
        let mut s = Symmetric::zero(3);
        s.add_diagonal(&[2.0, 3.0, 4.0]);
        s.add_outer(0, &[1.0, -1.0], 0.5);
        s.add_lower(&DMatrix::from_row_slice(2, 3, &[0.0, 0.0, 0.25, 0.0, 0.0, 0.5]));
        let mut factor = Factor::empty();
        s.factor_into(&mut factor).unwrap();
        let mut x = [1.0, 2.0, 3.0];
        factor.solve(&mut x);
        for (i, b) in [1.0, 2.0, 3.0].into_iter().enumerate() {
            let sum: f64 = (0..3).map(|j| s.at(i, j) * x[j]).sum();
            assert!((sum - b).abs() < 1e-14, "{sum} is not {b}"); // rounding of a 3 x 3 solve
        }
        for i in 0..3 {
            let mut unit = [0.0; 3];
            unit[i] = 1.0;
            factor.solve(&mut unit);
            assert!((factor.inverse_diagonal()[i] - unit[i]).abs() < 1e-14);
            assert!((factor.product().at(2, i) - s.at(2, i)).abs() < 1e-14);
        }
        // By hand: [2.5 -.5 .25; -.5 3.5 .5; .25 .5 4].
        let determinant = 2.5 * (3.5 * 4.0 - 0.25) + 0.5 * (-2.0 - 0.125) + 0.25 * (-0.25 - 0.875);
        assert!((factor.ln_determinant().exp() - determinant).abs() < 1e-12);
    }

    #[test]
    fn a_matrix_that_is_not_positive_definite_is_not_factored() {
        let mut s = Symmetric::zero(2);
        s.add_diagonal(&[1.0, -1.0]);
        assert!(s.factor_into(&mut Factor::empty()).is_none());
    }
}
