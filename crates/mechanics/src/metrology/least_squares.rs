//! Linear least squares with the weight of every observation on every coefficient.

use nalgebra::{DMatrix, DVector};

/// A solved linear least-squares problem `y ≈ X β`.
#[derive(Debug, Clone)]
pub(crate) struct Solved {
    /// Rows are coefficients, columns observations: `β = weights · y`, the pseudo-inverse of X.
    pub(crate) weights: DMatrix<f64>,
    /// The coefficients.
    pub(crate) coefficients: DVector<f64>,
    /// `y − X β`.
    pub(crate) residuals: DVector<f64>,
}

/// Ratio of the least to the greatest singular value of the column-scaled matrix below which
/// the columns are called dependent. Exactly dependent columns give about 1e-16; the layouts of
/// stations and directions met in practice give above 1e-2. At the tolerance, errors of reading
/// would come out ten thousand times larger.
const RANK_TOLERANCE: f64 = 1e-4;

/// Solves `y ≈ X β` for the columns given; `None` if the columns are not independent or there
/// are fewer observations than columns.
///
/// Columns are scaled to unit length before the singular value decomposition so that the rank
/// test does not depend on units. `y` should be centred by the caller if it is large against its
/// own spread.
pub(crate) fn solve(columns: &[Vec<f64>], y: &[f64]) -> Option<Solved> {
    let rows = y.len();
    let count = columns.len();
    if count == 0 || rows < count || columns.iter().any(|c| c.len() != rows) {
        return None;
    }
    let norms: Vec<f64> =
        columns.iter().map(|c| c.iter().map(|v| v * v).sum::<f64>().sqrt()).collect();
    if norms.iter().any(|n| !n.is_finite() || *n == 0.0) {
        return None;
    }
    let scaled = DMatrix::from_fn(rows, count, |r, c| columns[c][r] / norms[c]);
    let mut weights = weights_of(&scaled)?;
    let y_vector = DVector::from_column_slice(y);
    let scaled_coefficients = &weights * &y_vector;
    // One step of refinement: the residual of the first solution is small, so solving for it
    // again removes most of the rounding of the first pass.
    let first_residuals = &y_vector - &scaled * &scaled_coefficients;
    let scaled_coefficients = scaled_coefficients + &weights * &first_residuals;
    let residuals = &y_vector - &scaled * &scaled_coefficients;
    for (row, norm) in norms.iter().enumerate() {
        weights.row_mut(row).scale_mut(1.0 / norm);
    }
    let coefficients =
        DVector::from_iterator(count, scaled_coefficients.iter().zip(&norms).map(|(b, n)| b / n));
    Some(Solved { weights, coefficients, residuals })
}

/// The pseudo-inverse of a matrix of scaled columns; `None` if these are not independent.
///
/// Observations under the same conditions have equal rows, and in a sheet with many repeats few
/// rows are different. With m_g observations of row x_g, X'X = sum of m_g x_g x_g' is that of the
/// few rows sqrt(m_g) x_g; each of the m_g observations then has 1/sqrt(m_g) of the weight of that
/// row (own derivation: the pseudo-inverse (X'X)^-1 X' has equal columns for equal rows).
fn weights_of(scaled: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    /// More different rows than this are not looked for.
    const MOST_DIFFERENT: usize = 64;
    let (rows, count) = scaled.shape();
    // Equal rows have equal marks; rows with equal marks are compared.
    let mut marks = vec![0u64; rows];
    for column in scaled.column_iter() {
        for (mark, value) in marks.iter_mut().zip(column.iter()) {
            *mark = mark.wrapping_mul(0x9E37_79B9_7F4A_7C15).rotate_left(31) ^ value.to_bits();
        }
    }
    let mut different: Vec<(usize, f64)> = Vec::new();
    let mut group = Vec::with_capacity(rows);
    for row in 0..rows {
        let same = |other: usize| {
            marks[row] == marks[other]
                && (0..count).all(|c| scaled[(row, c)].to_bits() == scaled[(other, c)].to_bits())
        };
        let at = different.iter().position(|(other, _)| same(*other)).unwrap_or_else(|| {
            different.push((row, 0.0));
            different.len() - 1
        });
        if MOST_DIFFERENT < different.len() {
            return pseudo_inverse(scaled);
        }
        different[at].1 += 1.0;
        group.push(at);
    }
    // Where most rows differ there is nothing to save; with fewer than columns these depend.
    if rows < 2 * different.len() || different.len() < count {
        return pseudo_inverse(scaled);
    }
    let few = DMatrix::from_fn(different.len(), count, |g, c| {
        let (row, times) = different[g];
        times.sqrt() * scaled[(row, c)]
    });
    let mut weights = pseudo_inverse(&few)?;
    for (mut column, (_, times)) in weights.column_iter_mut().zip(&different) {
        column /= times.sqrt();
    }
    Some(DMatrix::from_fn(count, rows, |c, row| weights[(c, group[row])]))
}

fn pseudo_inverse(scaled: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    let count = scaled.ncols();
    let svd = scaled.clone().try_svd(true, true, f64::EPSILON, 500)?;
    let largest = svd.singular_values.max();
    if svd.singular_values.min() < RANK_TOLERANCE * largest {
        return None;
    }
    let weights = svd.pseudo_inverse(0.0).ok()?;
    // One step of Newton's iteration for the inverse, (2I − W X) W, takes out the rounding of the
    // decomposition.
    let correction = DMatrix::identity(count, count) * 2.0 - &weights * scaled;
    Some(correction * weights)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The weights of many repeats are those of the decomposition of all rows.
    #[test]
    fn repeats_weigh_as_rows_of_their_own() {
        let times = [1, 7, 3, 12, 5];
        let along = [-1.0, -0.4, 0.1, 0.6, 1.0];
        let rows: Vec<f64> =
            along.iter().zip(times).flat_map(|(x, n)| std::iter::repeat_n(*x, n)).collect();
        let scaled = DMatrix::from_fn(rows.len(), 3, |r, c| rows[r].powi(c as i32));
        let (few, all) = (weights_of(&scaled).unwrap(), pseudo_inverse(&scaled).unwrap());
        assert!((&few - &all).amax() <= 1e-14 * all.amax(), "{}", (&few - &all).amax());
        let one = &few * &scaled - DMatrix::identity(3, 3);
        assert!(one.amax() <= 1e-14, "{}", one.amax());
        let line = DMatrix::from_fn(rows.len(), 2, |r, _| rows[r]);
        assert!(weights_of(&line).is_none(), "one column twice");
        let point = DMatrix::from_fn(6, 2, |_, c| [1.0, 0.5][c]);
        assert!(weights_of(&point).is_none(), "one place only");
    }
}
