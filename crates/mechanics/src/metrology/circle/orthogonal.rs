//! Circle by least squares of the distances themselves (geometric fit).

use nalgebra::{Matrix2, Vector2};

use super::algebraic::{kasa_1976, taubin_1991};
use super::{Circle, Point, survey};
use crate::metrology::MetrologyError;

/// A circle by least squares of the distances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CircleFit {
    /// The circle.
    pub circle: Circle,
    /// Sum of the squares of the departures, m².
    pub sum_of_squares_m2: f64,
    /// Root of that over n − 3, m; `None` with three points, which any circle fits.
    pub residual_sd_m: Option<f64>,
    /// Greatest less least departure, m: the least-squares roundness.
    pub roundness_m: f64,
    /// Steps taken.
    pub iterations: usize,
}

const MOST_STEPS: usize = 200;

/// Circle minimising `Σ (d − r)²`, d the distance of a point from the centre.
///
/// For a given centre the best radius is the mean distance, so the search is over the centre
/// alone: Gauss-Newton on `d − d̄` with Levenberg's damping, from the better of two algebraic
/// fits. Source: Gander, Golub & Strebel, BIT 34 (1994) 558-578, section 3 (the problem and its
/// example); Levenberg, Quarterly of Applied Mathematics 2 (1944) 164-168; the elimination of
/// the radius is own derivation: `∂(d − d̄)/∂c = −(u − ū)`, u the unit vector to the point.
///
/// Worked value: points (1,7) (2,6) (5,8) (7,7) (9,5) (3,7): centre (4.7398, 2.9835), radius
/// 4.7142.
///
/// # Errors
/// Fewer than three points, figures not finite, points on a line; not converged, with steps and
/// the last step's length in m.
pub fn fit_circle(points: &[Point]) -> Result<CircleFit, MetrologyError> {
    let (mean, reach) = survey(points, 3)?;
    let scaled: Vec<Vector2<f64>> = points
        .iter()
        .map(|p| Vector2::new((p.x_m - mean.x_m) / reach, (p.y_m - mean.y_m) / reach))
        .collect();
    let mut start: Option<(f64, Vector2<f64>)> = None;
    for candidate in [kasa_1976(points), taubin_1991(points)].into_iter().flatten() {
        let centre =
            Vector2::new((candidate.x_m - mean.x_m) / reach, (candidate.y_m - mean.y_m) / reach);
        let cost = about(&scaled, centre).cost;
        if start.is_none_or(|(best, _)| cost < best) {
            start = Some((cost, centre));
        }
    }
    let Some((_, mut centre)) = start else {
        return Err(MetrologyError::Undetermined { why: "the points lie on a line" });
    };
    let mut state = about(&scaled, centre);
    let mut damping = 1e-6;
    // Length of the full Gauss-Newton step: how far the bottom still is.
    let mut away = f64::INFINITY;
    for iterations in 1..=MOST_STEPS {
        let Some(full) = state.normal.lu().solve(&state.descent) else {
            return Err(MetrologyError::Undetermined { why: "the points do not fix a centre" });
        };
        away = full.norm();
        // Distances are rounded to ε d, so the gradient to ε d √Σ|turn|² and the step to that over
        // the least eigenvalue: nearer than this nothing can be told on a short arc.
        let least = state.normal.symmetric_eigenvalues().min();
        let blur = 8.0 * f64::EPSILON * (state.mean_distance + 1.0) * state.normal.trace().sqrt()
            / least.max(f64::MIN_POSITIVE);
        if blur > 1e-3 * state.mean_distance {
            return Err(MetrologyError::Undetermined {
                why: "the points cover too short an arc to fix a centre",
            });
        }
        if away <= blur.max(CLOSE) {
            return Ok(finish(points, mean, reach, (centre, state.mean_distance, iterations)));
        }
        let damped = state.normal + Matrix2::from_diagonal(&(state.normal.diagonal() * damping));
        let Some(step) = damped.lu().solve(&state.descent) else {
            return Err(MetrologyError::Undetermined { why: "the points do not fix a centre" });
        };
        let next_centre = centre + step;
        let next = about(&scaled, next_centre);
        // Near the bottom the cost is flat to rounding while its gradient still has a sign, so
        // there the gradient decides.
        let better = if away < 1e-4 {
            next.descent.norm() < state.descent.norm()
        } else {
            next.cost < state.cost
        };
        if better {
            centre = next_centre;
            state = next;
            damping = (damping * 0.1).max(1e-15);
        } else {
            damping = (damping * 10.0).min(1e12);
        }
    }
    Err(MetrologyError::NotConverged {
        what: "circle fit",
        iterations: MOST_STEPS,
        residual: away * reach,
    })
}

/// Full step, over the reach of the points, at which the fit is done.
const CLOSE: f64 = 1e-14;

struct State {
    cost: f64,
    mean_distance: f64,
    normal: Matrix2<f64>,
    /// Minus half the gradient of the cost.
    descent: Vector2<f64>,
}

fn about(points: &[Vector2<f64>], centre: Vector2<f64>) -> State {
    let n = points.len() as f64;
    let (mut mean_distance, mut mean_unit) = (0.0, Vector2::zeros());
    let mut rays = Vec::with_capacity(points.len());
    for point in points {
        let arm = point - centre;
        let distance = arm.norm();
        let unit = if distance > 0.0 { arm / distance } else { Vector2::zeros() };
        mean_distance += distance / n;
        mean_unit += unit / n;
        rays.push((distance, unit));
    }
    let mut state =
        State { cost: 0.0, mean_distance, normal: Matrix2::zeros(), descent: Vector2::zeros() };
    for (distance, unit) in rays {
        let departure = distance - mean_distance;
        let turn = unit - mean_unit;
        state.cost += departure * departure;
        state.normal += turn * turn.transpose();
        state.descent += turn * departure;
    }
    state
}

fn finish(
    points: &[Point],
    mean: Point,
    reach: f64,
    found: (Vector2<f64>, f64, usize),
) -> CircleFit {
    let (centre, mean_distance, iterations) = found;
    let circle = Circle {
        x_m: mean.x_m + reach * centre.x,
        y_m: mean.y_m + reach * centre.y,
        radius_m: reach * mean_distance,
    };
    let sum_of_squares_m2 = points.iter().map(|p| circle.departure_m(*p).powi(2)).sum::<f64>();
    let spare = points.len() - 3;
    CircleFit {
        circle,
        sum_of_squares_m2,
        residual_sd_m: (spare > 0).then(|| (sum_of_squares_m2 / spare as f64).sqrt()),
        roundness_m: circle.zone_m(points),
        iterations,
    }
}
