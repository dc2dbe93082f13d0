//! Finding where two functions of two unknowns are zero together, when each look costs a film.
//!
//! Broyden's method (Math. Comp. 19 (1965) 577-593, from memory): a Jacobian by differences to
//! start with, then bettered by every step taken. A step that does not bring the worse of the
//! two nearer zero is halved; when that does not help the Jacobian is taken afresh, and when a
//! fresh one does not help either, the search gives up and says so.

use super::error::BearingError;
use super::film::Convergence;

/// Where to start and when to stop.
#[derive(Debug, Clone, Copy)]
pub(super) struct PairSearch {
    pub(super) guess: [f64; 2],
    /// Limits of both unknowns.
    pub(super) low: [f64; 2],
    pub(super) high: [f64; 2],
    /// Longest step of each unknown.
    pub(super) stride: [f64; 2],
    /// Largest values taken for zero.
    pub(super) tolerance: [f64; 2],
    pub(super) most_looks: usize,
}

/// The difference step of the Jacobian.
const NUDGE: f64 = 1e-4;

/// The pair at which both functions are zero and how it settled, or `None` when the search gave up.
pub(super) fn find_pair(
    search: &PairSearch,
    mut look: impl FnMut([f64; 2]) -> Result<[f64; 2], BearingError>,
) -> Option<([f64; 2], Convergence)> {
    let mut looks = 0;
    let mut ask = |at: [f64; 2]| {
        looks += 1;
        let value = if looks <= search.most_looks { look(at).ok()? } else { return None };
        value.iter().all(|v| v.is_finite()).then_some((value, looks))
    };
    let size = |value: &[f64; 2]| {
        (value[0].abs() / search.tolerance[0]).max(value[1].abs() / search.tolerance[1])
    };
    let mut at: [f64; 2] =
        std::array::from_fn(|i| search.guess[i].clamp(search.low[i], search.high[i]));
    let (mut value, mut count) = ask(at)?;
    let mut jacobian: Option<[[f64; 2]; 2]> = None;
    let mut fresh = false;
    loop {
        if size(&value) <= 1.0 {
            let residual = value[0].abs();
            return Some((at, Convergence { passes: count, residual, unknowns: 2 }));
        }
        let matrix = match jacobian {
            Some(matrix) => matrix,
            None => {
                let mut matrix = [[0.0; 2]; 2];
                for column in 0..2 {
                    let mut beside = at;
                    // Nudged inward where the limit is near.
                    let up = at[column] + NUDGE <= search.high[column];
                    let nudge = if up { NUDGE } else { -NUDGE };
                    beside[column] += nudge;
                    let (nudged, _) = ask(beside)?;
                    for row in 0..2 {
                        matrix[row][column] = (nudged[row] - value[row]) / nudge;
                    }
                }
                fresh = true;
                matrix
            }
        };
        let mut step = solve_two(&matrix, &value)?;
        let too_long = (step[0].abs() / search.stride[0]).max(step[1].abs() / search.stride[1]);
        if too_long > 1.0 {
            step = step.map(|s| s / too_long);
        }
        let mut taken = None;
        for _ in 0..5 {
            let next: [f64; 2] =
                std::array::from_fn(|i| (at[i] + step[i]).clamp(search.low[i], search.high[i]));
            if next == at {
                break;
            }
            if let Some((found, looked)) = ask(next)
                && size(&found) < size(&value)
            {
                taken = Some((next, found, looked));
                break;
            }
            step = step.map(|s| 0.5 * s);
        }
        match taken {
            Some((next, found, looked)) => {
                let moved = [next[0] - at[0], next[1] - at[1]];
                let length = moved[0] * moved[0] + moved[1] * moved[1];
                let mut better = matrix;
                for row in 0..2 {
                    let foreseen = matrix[row][0] * moved[0] + matrix[row][1] * moved[1];
                    let missed = (found[row] - value[row] - foreseen) / length;
                    for column in 0..2 {
                        better[row][column] += missed * moved[column];
                    }
                }
                (at, value, count) = (next, found, looked);
                (jacobian, fresh) = (Some(better), false);
            }
            None if fresh => return None,
            None => jacobian = None,
        }
    }
}

/// `-matrix^-1 value`, or `None` when the matrix is as good as singular.
fn solve_two(matrix: &[[f64; 2]; 2], value: &[f64; 2]) -> Option<[f64; 2]> {
    let [[a, b], [c, d]] = *matrix;
    let determinant = a * d - b * c;
    let scale = (a * d).abs() + (b * c).abs();
    if determinant.is_nan() || determinant.abs() <= 1e-12 * scale {
        return None;
    }
    Some([
        -(d * value[0] - b * value[1]) / determinant,
        -(a * value[1] - c * value[0]) / determinant,
    ])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn circle_and_line_meet() {
        let search = PairSearch {
            guess: [2.0, 0.1],
            low: [-10.0; 2],
            high: [10.0; 2],
            stride: [0.5; 2],
            tolerance: [1e-11; 2],
            most_looks: 100,
        };
        // x^2 + y^2 = 2 and x = y: both are one.
        let found = find_pair(&search, |[x, y]| Ok([x * x + y * y - 2.0, x - y]));
        let ([x, y], convergence) = found.expect("they meet");
        assert!((x - 1.0).abs() < 1e-10 && (y - 1.0).abs() < 1e-10);
        assert!(convergence.passes < 40);
        // A line that misses the circle is given up, not made up.
        assert!(find_pair(&search, |[x, y]| Ok([x * x + y * y - 2.0, x + y - 9.0])).is_none());
        assert!(find_pair(&search, |_| Ok([f64::NAN, 0.0])).is_none());
    }
}
