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
    let svd = scaled.clone().try_svd(true, true, f64::EPSILON, 500)?;
    let largest = svd.singular_values.max();
    if svd.singular_values.min() < RANK_TOLERANCE * largest {
        return None;
    }
    let weights = svd.pseudo_inverse(0.0).ok()?;
    // One step of Newton's iteration for the inverse, (2I − W X) W, takes out the rounding of the
    // decomposition.
    let correction = DMatrix::identity(count, count) * 2.0 - &weights * &scaled;
    let mut weights = correction * weights;
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
