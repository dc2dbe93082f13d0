//! Circle fits by one linear solution. Quick and never stuck, but none of them minimises the
//! distances: they serve as starting points, and to compare.

use nalgebra::{DMatrix, Dyn, SVD};

use super::{Circle, Point, survey};
use crate::metrology::MetrologyError;
use crate::metrology::least_squares;

/// Circle minimising `Σ (d² − r²)²`, d the distance of a point from the centre.
///
/// Equation: linear least squares of `x² + y² = 2ax + 2by + c`, `r² = c + a² + b²`. Source: Kåsa,
/// IEEE Transactions on Instrumentation and Measurement 25 (1976) 8-14. Pulls the circle small
/// when the points cover only an arc.
///
/// # Errors
/// Fewer than three points, figures not finite, points on a line.
pub fn kasa_1976(points: &[Point]) -> Result<Circle, MetrologyError> {
    let (mean, reach) = survey(points, 3)?;
    let (x, y) = scaled(points, mean, reach);
    let z: Vec<f64> = x.iter().zip(&y).map(|(a, b)| a * a + b * b).collect();
    let columns = [x, y, vec![1.0; points.len()]];
    let solved = least_squares::solve(&columns, &z).ok_or(ON_A_LINE)?;
    let (a, b) = (0.5 * solved.coefficients[0], 0.5 * solved.coefficients[1]);
    let square = solved.coefficients[2] + a * a + b * b;
    place(mean, reach, (a, b, square))
}

/// Circle from the algebraic equation `A(x² + y²) + Bx + Cy + D = 0` with `A² + B² + C² + D² = 1`.
///
/// The result depends on where the origin of the coordinates lies and on their unit; it is kept
/// as published (coordinates as given, in m) for comparison. Source: Gander, Golub & Strebel,
/// BIT 34 (1994) 558-578, section 2.
///
/// # Errors
/// Fewer than three points, figures not finite, points on a line.
pub fn gander_golub_strebel_1994(points: &[Point]) -> Result<Circle, MetrologyError> {
    survey(points, 3)?;
    let rows = DMatrix::from_fn(points.len().max(4), 4, |r, c| {
        let Some(p) = points.get(r) else { return 0.0 };
        match c {
            0 => p.x_m * p.x_m + p.y_m * p.y_m,
            1 => p.x_m,
            2 => p.y_m,
            _ => 1.0,
        }
    });
    let v = least_singular_vector(rows)?;
    let (a, b, c, d) = (v[0], v[1], v[2], v[3]);
    if a == 0.0 {
        return Err(ON_A_LINE);
    }
    let (x_m, y_m) = (-b / (2.0 * a), -c / (2.0 * a));
    finish(x_m, y_m, x_m * x_m + y_m * y_m - d / a)
}

/// Circle minimising `Σ (d² − r²)² / Σ d²`: unlike [`kasa_1976`] nearly free of bias on arcs.
///
/// Source: Taubin, IEEE Transactions on Pattern Analysis and Machine Intelligence 13 (1991)
/// 1115-1138; solved by singular values as in Chernov, Circular and Linear Regression (2010)
/// section 5.10 (from memory).
///
/// # Errors
/// Fewer than three points, figures not finite, points on a line.
pub fn taubin_1991(points: &[Point]) -> Result<Circle, MetrologyError> {
    let (mean, reach) = survey(points, 3)?;
    let (x, y) = scaled(points, mean, reach);
    let z: Vec<f64> = x.iter().zip(&y).map(|(a, b)| a * a + b * b).collect();
    let mean_z = z.iter().sum::<f64>() / z.len() as f64;
    let root = 2.0 * mean_z.sqrt();
    let rows = DMatrix::from_fn(points.len(), 3, |r, c| match c {
        0 => (z[r] - mean_z) / root,
        1 => x[r],
        _ => y[r],
    });
    let v = least_singular_vector(rows)?;
    let a = v[0] / root;
    if a.abs() < 1e-12 {
        return Err(ON_A_LINE);
    }
    let centre = (-0.5 * v[1] / a, -0.5 * v[2] / a);
    let square = centre.0 * centre.0 + centre.1 * centre.1 + mean_z;
    place(mean, reach, (centre.0, centre.1, square))
}

const ON_A_LINE: MetrologyError =
    MetrologyError::Undetermined { why: "the points lie on a line, or are too few different ones" };

/// Coordinates about the mean, divided by the reach.
fn scaled(points: &[Point], mean: Point, reach: f64) -> (Vec<f64>, Vec<f64>) {
    points.iter().map(|p| ((p.x_m - mean.x_m) / reach, (p.y_m - mean.y_m) / reach)).unzip()
}

fn place(mean: Point, reach: f64, scaled: (f64, f64, f64)) -> Result<Circle, MetrologyError> {
    let (a, b, square) = scaled;
    finish(mean.x_m + reach * a, mean.y_m + reach * b, reach * reach * square)
}

fn finish(x_m: f64, y_m: f64, square: f64) -> Result<Circle, MetrologyError> {
    let radius_m = square.sqrt();
    if x_m.is_finite() && y_m.is_finite() && radius_m.is_finite() && radius_m > 0.0 {
        Ok(Circle { x_m, y_m, radius_m })
    } else {
        Err(ON_A_LINE)
    }
}

fn least_singular_vector(rows: DMatrix<f64>) -> Result<Vec<f64>, MetrologyError> {
    let svd: SVD<f64, Dyn, Dyn> =
        rows.try_svd(false, true, f64::EPSILON, 500).ok_or(MetrologyError::NotConverged {
            what: "singular values",
            iterations: 500,
            residual: f64::NAN,
        })?;
    let v = svd.v_t.ok_or(ON_A_LINE)?;
    let least = svd.singular_values.imin();
    Ok(v.row(least).iter().copied().collect())
}
