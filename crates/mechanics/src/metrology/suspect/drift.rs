//! Readings that change with the time or order they were taken in.

use nalgebra::{DMatrix, DVector};

use super::Strength;
use crate::metrology::MetrologyError;
use crate::metrology::budget::{Dof, student_cdf};
use crate::metrology::error::within;

/// One reading for the drift test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DriftReading {
    /// Time it was taken, s from any origin; or its order, 0, 1, 2 …, if no times were kept.
    pub time_s: f64,
    /// What was measured: readings that should agree but for drift and chance share the number.
    pub station: usize,
    /// The same for a second grouping, usually the direction.
    pub direction: usize,
    /// The reading, m.
    pub reading_m: f64,
}

/// A drift.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drift {
    /// Change with time, m/s (m per reading if orders were given).
    pub slope_m_per_s: f64,
    /// Its standard error, same unit.
    pub standard_error: f64,
    /// Change from first to last reading, m.
    pub total_m: f64,
    /// Student's t.
    pub t: f64,
    /// Degrees of freedom.
    pub degrees_of_freedom: usize,
    /// Two-sided probability of such a t if there were no drift.
    pub p: f64,
    /// How strongly, or `None` if p is above 0.05: no drift shown.
    pub strength: Option<Strength>,
}

/// Most different stations and directions together.
const MOST_GROUPS: usize = 500;

/// Tests whether readings drift with time once stations and directions have had their means
/// taken out.
///
/// Equation: least squares of `reading = stationᵢ + directionⱼ + slope · time`; done by taking the
/// station and direction effects out of both reading and time (Frisch & Waugh, Econometrica 1
/// (1933) 387-401) and fitting a line through the origin to what is left; t on the degrees of
/// freedom that remain. Found weak at p ≤ 0.05, moderate at 0.01, strong at 0.001 (two-sided; own
/// choice of steps). If every station is read in the same order as its place, drift and taper
/// cannot be told apart: the time has nothing left once stations are taken out, and the test says
/// so.
///
/// # Errors
/// Figures not finite; no degree of freedom left; time fixed by station and direction.
pub fn drift(readings: &[DriftReading]) -> Result<Drift, MetrologyError> {
    let n = readings.len();
    if n < 4 {
        return Err(MetrologyError::TooFew { what: "readings for a drift", need: 4, got: n });
    }
    for reading in readings {
        within("time", reading.time_s, (-1e12, 1e12), "s")?;
        within("reading", reading.reading_m, (-1000.0, 1000.0), "m")?;
    }
    let number = |of: &dyn Fn(&DriftReading) -> usize| {
        let mut keys: Vec<usize> = readings.iter().map(of).collect();
        keys.sort_unstable();
        keys.dedup();
        keys
    };
    let stations = number(&|r| r.station);
    let directions = number(&|r| r.direction);
    let groups = stations.len() + directions.len();
    if groups > MOST_GROUPS {
        return Err(MetrologyError::TooMany {
            what: "stations and directions",
            limit: MOST_GROUPS,
            got: groups,
        });
    }
    let place = |keys: &[usize], key: usize| keys.binary_search(&key).unwrap_or(0);
    // Normal equations of the group effects. Their eigenvalues are whole-number-like, so rank and
    // pseudo-inverse from the symmetric decomposition are well determined.
    let row: Vec<[usize; 2]> = readings
        .iter()
        .map(|r| [place(&stations, r.station), stations.len() + place(&directions, r.direction)])
        .collect();
    let mut normal = DMatrix::<f64>::zeros(groups, groups);
    for ends in &row {
        for a in ends {
            for b in ends {
                normal[(*a, *b)] += 1.0;
            }
        }
    }
    let eigen = normal.clone().symmetric_eigen();
    let tiny = 1e-9 * eigen.eigenvalues.amax();
    let rank = eigen.eigenvalues.iter().filter(|v| **v > tiny).count();
    let take_out = |values: &[f64]| -> Vec<f64> {
        let mut left = values.to_vec();
        // Twice: the second pass removes the rounding of the first.
        for _ in 0..2 {
            let mut sums = DVector::<f64>::zeros(groups);
            for (ends, v) in row.iter().zip(&left) {
                for e in ends {
                    sums[*e] += v;
                }
            }
            let mut coordinates = eigen.eigenvectors.tr_mul(&sums);
            for (c, value) in coordinates.iter_mut().zip(eigen.eigenvalues.iter()) {
                *c = if *value > tiny { *c / value } else { 0.0 };
            }
            let effects = &eigen.eigenvectors * coordinates;
            for (ends, v) in row.iter().zip(&mut left) {
                for e in ends {
                    *v -= effects[*e];
                }
            }
        }
        left
    };
    let first_time = readings[0].time_s;
    let times: Vec<f64> = readings.iter().map(|r| r.time_s - first_time).collect();
    let sizes: Vec<f64> = readings.iter().map(|r| r.reading_m - readings[0].reading_m).collect();
    let t_left = take_out(&times);
    let y_left = take_out(&sizes);
    let span = times.iter().fold(f64::NEG_INFINITY, |m, v| m.max(*v))
        - times.iter().fold(f64::INFINITY, |m, v| m.min(*v));
    let stt: f64 = t_left.iter().map(|v| v * v).sum();
    if span <= 0.0 || stt.sqrt() <= 1e-9 * span * (n as f64).sqrt() {
        return Err(MetrologyError::Undetermined {
            why: "the order of reading follows the stations or directions, so a drift cannot be \
                  told from a taper; read some again in another order",
        });
    }
    let degrees_of_freedom = n.saturating_sub(rank + 1);
    if degrees_of_freedom == 0 {
        return Err(MetrologyError::TooFew {
            what: "readings for a drift",
            need: rank + 2,
            got: n,
        });
    }
    let slope = t_left.iter().zip(&y_left).map(|(t, y)| t * y).sum::<f64>() / stt;
    let square: f64 = t_left.iter().zip(&y_left).map(|(t, y)| (y - slope * t).powi(2)).sum();
    let standard_error = (square / degrees_of_freedom as f64 / stt).sqrt();
    // An exact fit has no error; below rounding of the readings the t would be of noise.
    let floor = 4.0 * f64::EPSILON * readings.iter().fold(0.0_f64, |m, r| m.max(r.reading_m.abs()))
        / stt.sqrt();
    let t = slope / standard_error.max(floor).max(f64::MIN_POSITIVE);
    let p = 2.0 * student_cdf(-t.abs(), Dof::Finite(degrees_of_freedom as f64))?;
    let strength = match p {
        p if p <= 0.001 => Some(Strength::Strong),
        p if p <= 0.01 => Some(Strength::Moderate),
        p if p <= 0.05 => Some(Strength::Weak),
        _ => None,
    };
    Ok(Drift {
        slope_m_per_s: slope,
        standard_error,
        total_m: slope * span,
        t,
        degrees_of_freedom,
        p,
        strength,
    })
}
