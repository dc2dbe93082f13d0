//! Straight lines through points: ordinary least squares with its statistics, through the
//! origin, and by orthogonal distance.

use super::MetrologyError;
use super::budget::{Dof, student_cdf};
use super::error::all_finite;

/// A straight line `y = intercept + slope · x` by least squares in y, with its statistics.
///
/// Units: y's for the intercept, y per x for the slope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineFit {
    /// Value at x = 0; exactly zero for a line through the origin.
    pub intercept: f64,
    /// Change of y per unit of x.
    pub slope: f64,
    /// Standard error of the intercept; zero for a line through the origin.
    pub intercept_se: f64,
    /// Standard error of the slope.
    pub slope_se: f64,
    /// Residual standard deviation, on `degrees_of_freedom`.
    pub residual_sd: f64,
    /// Share of the variance explained, 0 to 1; about zero (not about the mean) for a line
    /// through the origin. `None` if all y are equal.
    pub r_squared: Option<f64>,
    /// Number of points less number of coefficients.
    pub degrees_of_freedom: usize,
}

impl LineFit {
    /// Student's t of the slope against no slope at all; infinite for an exact fit that slopes,
    /// `None` for an exact fit that does not.
    pub fn slope_t(&self) -> Option<f64> {
        if self.slope_se > 0.0 {
            Some(self.slope / self.slope_se)
        } else if self.slope == 0.0 {
            None
        } else {
            Some(self.slope.signum() * f64::INFINITY)
        }
    }

    /// Probability of a slope this far from zero, either way, if there were none and the
    /// departures were normal: two-sided p of [`slope_t`](Self::slope_t).
    pub fn slope_p(&self) -> Option<f64> {
        let t = self.slope_t()?.abs();
        if t.is_infinite() {
            return Some(0.0);
        }
        let dof = Dof::Finite(self.degrees_of_freedom as f64);
        Some(2.0 * student_cdf(-t, dof).ok()?)
    }
}

/// Least-squares line through points, errors in y only.
///
/// Equations: slope `Σ(x−x̄)(y−ȳ)/Σ(x−x̄)²`, residual variance `Σ r²/(n−2)`, slope s.e.
/// `s/√Σ(x−x̄)²`, intercept s.e. `s √(1/n + x̄²/Σ(x−x̄)²)`. Source: Draper & Smith, Applied
/// Regression Analysis, 3rd ed. (1998) ch. 1; checked against NIST StRD Norris.
/// Valid for three points or more with more than one x.
///
/// # Errors
/// Lists of different length, fewer than three points, a figure that is not finite, all x equal.
pub fn fit_line(x: &[f64], y: &[f64]) -> Result<LineFit, MetrologyError> {
    check(x, y, 3)?;
    let n = x.len() as f64;
    let mean_x = mean(x);
    let mean_y = mean(y);
    let sxx = compensated(x.iter().map(|v| (v - mean_x).powi(2)));
    let syy = compensated(y.iter().map(|v| (v - mean_y).powi(2)));
    let sxy = compensated(x.iter().zip(y).map(|(a, b)| (a - mean_x) * (b - mean_y)));
    let reach = x.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
    if sxx.sqrt() <= 1e-13 * reach || sxx == 0.0 {
        return Err(MetrologyError::Undetermined { why: "all points have the same x" });
    }
    let slope = sxy / sxx;
    // Residuals about the centred line; their own slope is a correction for rounding.
    let residual = |a: f64, b: f64, s: f64| (b - mean_y) - s * (a - mean_x);
    let again =
        compensated(x.iter().zip(y).map(|(a, b)| (a - mean_x) * residual(*a, *b, slope))) / sxx;
    let slope = slope + again;
    let left = compensated(x.iter().zip(y).map(|(a, b)| residual(*a, *b, slope).powi(2)));
    let degrees_of_freedom = x.len() - 2;
    let residual_sd = (left / degrees_of_freedom as f64).sqrt();
    Ok(LineFit {
        intercept: mean_y - slope * mean_x,
        slope,
        intercept_se: residual_sd * (1.0 / n + mean_x * mean_x / sxx).sqrt(),
        slope_se: residual_sd / sxx.sqrt(),
        residual_sd,
        r_squared: (syy > 0.0).then(|| 1.0 - left / syy),
        degrees_of_freedom,
    })
}

/// Least-squares line through points and the origin, errors in y only.
///
/// Equations: slope `Σxy/Σx²`, residual variance `Σ r²/(n−1)`, slope s.e. `s/√Σx²`.
/// Source: as [`fit_line`]; checked against NIST StRD NoInt1 and NoInt2.
///
/// # Errors
/// Lists of different length, fewer than two points, a figure that is not finite, all x zero.
pub fn fit_line_through_origin(x: &[f64], y: &[f64]) -> Result<LineFit, MetrologyError> {
    check(x, y, 2)?;
    let sxx = compensated(x.iter().map(|v| v * v));
    let syy = compensated(y.iter().map(|v| v * v));
    if sxx == 0.0 {
        return Err(MetrologyError::Undetermined { why: "all points lie at x = 0" });
    }
    let slope = compensated(x.iter().zip(y).map(|(a, b)| a * b)) / sxx;
    let left = compensated(x.iter().zip(y).map(|(a, b)| (b - slope * a).powi(2)));
    let degrees_of_freedom = x.len() - 1;
    let residual_sd = (left / degrees_of_freedom as f64).sqrt();
    Ok(LineFit {
        intercept: 0.0,
        slope,
        intercept_se: 0.0,
        slope_se: residual_sd / sxx.sqrt(),
        residual_sd,
        r_squared: (syy > 0.0).then(|| 1.0 - left / syy),
        degrees_of_freedom,
    })
}

/// A straight line by least squares of the distance square to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OrthogonalLine {
    /// The mean of the points, which lies on the line.
    pub through: (f64, f64),
    /// Direction of the line against the x axis, −π/2 (excluded) to π/2.
    pub angle_rad: f64,
    /// Root of the mean square distance of the points from the line (divided by n).
    pub rms_distance: f64,
}

impl OrthogonalLine {
    /// Slope of the line, infinite if it stands upright.
    pub fn slope(&self) -> f64 {
        self.angle_rad.tan()
    }

    /// y where the line crosses x = 0; no meaning for an upright line.
    pub fn intercept(&self) -> f64 {
        self.through.1 - self.slope() * self.through.0
    }
}

/// Line of closest fit, distances taken square to the line; x and y in the same unit.
///
/// Equation: the line runs through the mean at the angle `½ atan2(2 Sxy, Sxx − Syy)`; the mean
/// square distance is the lesser eigenvalue of the scatter matrix over n. Source: Pearson,
/// Philosophical Magazine 6th ser. 2 (1901) 559-572.
///
/// # Errors
/// Lists of different length, fewer than two points, a figure that is not finite, a cloud with
/// no direction (all points alike, or scattered alike in both directions).
pub fn fit_line_orthogonal(x: &[f64], y: &[f64]) -> Result<OrthogonalLine, MetrologyError> {
    check(x, y, 2)?;
    let mean_x = mean(x);
    let mean_y = mean(y);
    let sxx = compensated(x.iter().map(|v| (v - mean_x).powi(2)));
    let syy = compensated(y.iter().map(|v| (v - mean_y).powi(2)));
    let sxy = compensated(x.iter().zip(y).map(|(a, b)| (a - mean_x) * (b - mean_y)));
    let direction = (2.0 * sxy).hypot(sxx - syy);
    if direction <= 1e-14 * (sxx + syy) {
        return Err(MetrologyError::Undetermined { why: "the points show no direction" });
    }
    let angle_rad = 0.5 * (2.0 * sxy).atan2(sxx - syy);
    let (sin, cos) = angle_rad.sin_cos();
    // The eigenvalue by subtraction loses digits for points near the line; sum the squares.
    let square = compensated(
        x.iter().zip(y).map(|(a, b)| ((b - mean_y) * cos - (a - mean_x) * sin).powi(2)),
    );
    Ok(OrthogonalLine {
        through: (mean_x, mean_y),
        angle_rad,
        rms_distance: (square / x.len() as f64).sqrt(),
    })
}

fn check(x: &[f64], y: &[f64], need: usize) -> Result<(), MetrologyError> {
    if x.len() != y.len() {
        return Err(MetrologyError::LengthMismatch {
            what: "coordinates of points",
            left: x.len(),
            right: y.len(),
        });
    }
    if x.len() < need {
        return Err(MetrologyError::TooFew { what: "points", need, got: x.len() });
    }
    all_finite("x", x)?;
    all_finite("y", y)
}

fn mean(values: &[f64]) -> f64 {
    let n = values.len() as f64;
    let rough = compensated(values.iter().copied()) / n;
    rough + compensated(values.iter().map(|v| v - rough)) / n
}

/// Sum with the rounding carried along (Neumaier, ZAMM 54 (1974) 39-51).
fn compensated(values: impl Iterator<Item = f64>) -> f64 {
    let (mut sum, mut carry) = (0.0_f64, 0.0_f64);
    for v in values {
        let next = sum + v;
        carry += if sum.abs() >= v.abs() { (sum - next) + v } else { (v - next) + sum };
        sum = next;
    }
    sum + carry
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn upright_points_have_no_slope_but_a_direction() {
        let x = [1.0, 1.0, 1.0];
        let y = [0.0, 1.0, 2.0];
        assert!(matches!(fit_line(&x, &y), Err(MetrologyError::Undetermined { .. })));
        let line = fit_line_orthogonal(&x, &y).unwrap();
        assert!((line.angle_rad.abs() - std::f64::consts::FRAC_PI_2).abs() < 1e-12);
        assert!(line.rms_distance < 1e-15);
    }

    #[test]
    fn an_exact_line_has_infinite_t() {
        let fit = fit_line(&[0.0, 1.0, 2.0], &[1.0, 3.0, 5.0]).unwrap();
        assert_eq!((fit.slope, fit.intercept), (2.0, 1.0));
        assert_eq!(fit.slope_p(), Some(0.0));
        let flat = fit_line(&[0.0, 1.0, 2.0], &[1.0, 1.0, 1.0]).unwrap();
        assert_eq!(flat.slope_t(), None);
        assert_eq!(flat.r_squared, None);
    }
}
