//! Symmetric banded matrices of half-bandwidth 3 and their triangular factors.
//!
//! Two unknowns per node and four per element couple an unknown to the three before it. A row holds its
//! diagonal and those three, nearest first, so that each recurrence carries a window of three values and
//! needs no index. `L D L^T` needs no square root, and the signs of `D` show whether the matrix is positive
//! definite (Sylvester's law of inertia).
//!
//! # References
//! Golub & Van Loan, *Matrix Computations*, sections 4.3 (banded systems) and 8.4 (inertia).

/// Capacity in unknowns.
pub(crate) const MAX_UNKNOWNS: usize = 264;

/// A row of the lower triangle: the diagonal, then the entries 1, 2 and 3 to its left.
pub(crate) type Row = [f64; 4];

/// A row of the factor: `1 / D`, then the entries of `L` 1, 2 and 3 to the left.
type FactorRow = [f64; 4];

/// Factors the matrix of `rows` into `into`; false when it is not positive definite.
///
/// Each pivot must also exceed the fraction `min_pivot` of its diagonal entry.
pub(crate) fn factor(rows: impl Iterator<Item = Row>, min_pivot: f64, into: &mut [FactorRow]) -> bool {
    let mut before = [[0.0; 4]; 3];
    for (row, out) in rows.zip(into) {
        let [pivot, l1, l2, l3] = eliminate(row, &before);
        // Written so that a NaN pivot fails too.
        let positive = pivot > min_pivot * row[0] && pivot > 0.0;
        if !positive {
            return false;
        }
        *out = [1.0 / pivot, l1, l2, l3];
        before = [*out, before[0], before[1]];
    }
    true
}

/// The pivot of a row and its entries of `L`, from the factor's three rows before it, nearest first.
fn eliminate([a0, a1, a2, a3]: Row, before: &[FactorRow; 3]) -> [f64; 4] {
    // u is L D, the entry before division by the pivot of its column.
    let u3 = a3;
    let u2 = a2 - u3 * before[1][1];
    let u1 = a1 - u2 * before[0][1] - u3 * before[0][2];
    let (l1, l2, l3) = (u1 * before[0][0], u2 * before[1][0], u3 * before[2][0]);
    [a0 - u1 * l1 - u2 * l2 - u3 * l3, l1, l2, l3]
}

/// Number of negative eigenvalues of the matrix of `rows`: the number of negative pivots of its factor.
pub(crate) fn negative_eigenvalues(rows: impl Iterator<Item = Row>) -> usize {
    let mut before = [[0.0; 4]; 3];
    let mut count = 0;
    for row in rows {
        let [pivot, l1, l2, l3] = eliminate(row, &before);
        count += usize::from(pivot < 0.0);
        before = [[1.0 / pivot, l1, l2, l3], before[0], before[1]];
    }
    count
}

/// Solves `L D L^T x = b` in place.
pub(crate) fn solve(factor: &[FactorRow], b: &mut [f64]) {
    let (mut y1, mut y2, mut y3) = (0.0, 0.0, 0.0);
    for ([_, l1, l2, l3], y) in factor.iter().zip(b.iter_mut()) {
        *y -= l1 * y1 + l2 * y2 + l3 * y3;
        (y3, y2, y1) = (y2, y1, *y);
    }
    let (mut s1, mut s2, mut s3) = (0.0, 0.0, 0.0);
    for ([inverse, l1, l2, l3], x) in factor.iter().zip(b).rev() {
        *x = *x * inverse - s1;
        (s1, s2, s3) = (s2 + l1 * *x, s3 + l2 * *x, l3 * *x);
    }
}

/// Writes the product of the matrix of `rows` with `x` into `product`.
pub(crate) fn multiply(rows: &[Row], x: &[f64], product: &mut [f64]) {
    let (mut x1, mut x2, mut x3) = (0.0, 0.0, 0.0);
    for (([a0, a1, a2, a3], x0), out) in rows.iter().zip(x).zip(product.iter_mut()) {
        *out = a0 * x0 + a1 * x1 + a2 * x2 + a3 * x3;
        (x3, x2, x1) = (x2, x1, *x0);
    }
    // The upper triangle is the transpose of the lower one: the same entries, traversed from the end.
    let (mut s1, mut s2, mut s3) = (0.0, 0.0, 0.0);
    for (([_, a1, a2, a3], x0), out) in rows.iter().zip(x).zip(product).rev() {
        *out += s1;
        (s1, s2, s3) = (s2 + a1 * x0, s3 + a2 * x0, a3 * x0);
    }
}

/// The inner product of two vectors.
pub(crate) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    // Positive definite by diagonal dominance; small whole numbers, so products are exact.
    const ROWS: [Row; 6] = [
        [9.0, 0.0, 0.0, 0.0],
        [9.0, 1.0, 0.0, 0.0],
        [9.0, -2.0, 1.0, 0.0],
        [9.0, 1.0, -1.0, 2.0],
        [9.0, 2.0, 1.0, -1.0],
        [9.0, -1.0, 2.0, 1.0],
    ];
    const X: [f64; 6] = [1.0, -2.0, 3.0, 5.0, -4.0, 2.0];

    fn dense(i: usize, j: usize) -> f64 {
        let (row, back) = (i.max(j), i.abs_diff(j));
        if back > 3 { 0.0 } else { ROWS[row][back] }
    }

    #[test]
    fn product_is_that_of_the_full_matrix() {
        let mut product = [0.0; 6];
        multiply(&ROWS, &X, &mut product);
        for (i, found) in product.iter().enumerate() {
            let full: f64 = (0..6).map(|j| dense(i, j) * X[j]).sum();
            assert!((found - full).abs() < 1e-12, "row {i}: {found} against {full}");
        }
    }

    #[test]
    fn solution_undoes_the_product() {
        let mut b = [0.0; 6];
        multiply(&ROWS, &X, &mut b);
        let mut factors = [[0.0; 4]; 6];
        assert!(factor(ROWS.into_iter(), 0.0, &mut factors));
        solve(&factors, &mut b);
        for (found, x) in b.iter().zip(X) {
            assert!((found - x).abs() < 1e-14, "{found} against {x}");
        }
    }

    #[test]
    fn negative_eigenvalues_are_counted() {
        // Eigenvalues 3 and -1 of the first two unknowns, -5 of the third.
        let rows = [[1.0, 0.0, 0.0, 0.0], [1.0, 2.0, 0.0, 0.0], [-5.0, 0.0, 0.0, 0.0]];
        assert_eq!(negative_eigenvalues(rows.into_iter()), 2);
        assert_eq!(negative_eigenvalues(ROWS.into_iter()), 0);
        // The eigenvalues of the whole matrix are between 3 and 15 (Gershgorin): all are below 15.
        assert_eq!(negative_eigenvalues(ROWS.into_iter().map(|[a, b, c, d]| [a - 16.0, b, c, d])), 6);
    }

    #[test]
    fn factor_refuses_what_is_not_positive_definite() {
        let mut factors = [[0.0; 4]; 2];
        let indefinite = [[1.0, 0.0, 0.0, 0.0], [1.0, 2.0, 0.0, 0.0]];
        assert!(!factor(indefinite.into_iter(), 0.0, &mut factors));
        let nearly_singular = [[1.0, 0.0, 0.0, 0.0], [1.0, 1.0 - 1e-9, 0.0, 0.0]];
        assert!(factor(nearly_singular.into_iter(), 0.0, &mut factors));
        assert!(!factor(nearly_singular.into_iter(), 1e-8, &mut factors));
        // The fraction does not depend on the unit.
        let scaled = nearly_singular.map(|row| row.map(|entry| 1e6 * entry));
        assert!(factor(scaled.into_iter(), 1e-10, &mut factors));
        assert!(!factor(scaled.into_iter(), 1e-8, &mut factors));
        let not_a_number = [[f64::NAN, 0.0, 0.0, 0.0]];
        assert!(!factor(not_a_number.into_iter(), 0.0, &mut factors));
    }
}
