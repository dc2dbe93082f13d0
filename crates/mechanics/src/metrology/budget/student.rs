//! Student's t: distribution function and quantile for any degrees of freedom from 1 up.

use statrs::distribution::{Continuous, ContinuousCDF, Normal, StudentsT};

use super::combine::Dof;
use crate::metrology::MetrologyError;

/// Above this the distribution function is that of the normal with a correction good to 1e-10.
const LARGE: f64 = 1e5;
/// Above this the quantile's series in 1/ν is good to 1e-8 over the probabilities taken.
const SERIES: f64 = 1e3;

/// `P(T ≤ t)`; the normal's at infinite degrees of freedom.
///
/// Small probabilities (t far below zero) keep their digits. Large degrees of freedom: Wallace's
/// first correction, `Φ(t (1 − 1/4ν)/√(1 + t²/2ν))`, Abramowitz & Stegun (1964) 26.7.8.
pub(crate) fn student_cdf(t: f64, dof: Dof) -> Result<f64, MetrologyError> {
    dof.check()?;
    if t.is_infinite() {
        return Ok(if t > 0.0 { 1.0 } else { 0.0 });
    }
    Ok(match dof {
        Dof::Finite(dof) if dof < LARGE => distribution(dof)?.cdf(t),
        Dof::Finite(dof) => {
            let x = t * (1.0 - 0.25 / dof) / (1.0 + 0.5 * t * (t / dof)).sqrt();
            Normal::standard().cdf(x)
        }
        Dof::Infinite => Normal::standard().cdf(t),
    })
}

/// The t with `P(T ≤ t) = p`, for p from ½ up to 1 − 1e-7.
///
/// From a thousand degrees of freedom up by the series in 1/ν about the normal's quantile
/// (Abramowitz & Stegun (1964) 26.7.5, four terms); below that by Newton's steps on the
/// distribution function, kept inside a bracket.
pub(crate) fn student_quantile(p: f64, dof: Dof) -> Result<f64, MetrologyError> {
    dof.check()?;
    let z = Normal::standard().inverse_cdf(p);
    let Dof::Finite(dof) = dof else { return Ok(z) };
    let series = {
        let z2 = z * z;
        let terms = [
            z * (z2 + 1.0) / 4.0,
            z * ((5.0 * z2 + 16.0) * z2 + 3.0) / 96.0,
            z * (((3.0 * z2 + 19.0) * z2 + 17.0) * z2 - 15.0) / 384.0,
            z * ((((79.0 * z2 + 776.0) * z2 + 1482.0) * z2 - 1920.0) * z2 - 945.0) / 92_160.0,
        ];
        terms.iter().rev().fold(0.0, |sum, term| (sum + term) / dof) + z
    };
    if dof >= SERIES {
        return Ok(series);
    }
    let student = distribution(dof)?;
    // On the upper tail's own probability, which keeps its digits.
    let tail = 1.0 - p;
    let excess = |t: f64| student.cdf(-t) - tail;
    let (mut low, mut high) = (0.0, series.max(1.0));
    while excess(high) > 0.0 && high < 1e9 {
        low = high;
        high *= 2.0;
    }
    let mut t = series.clamp(low, high);
    for _ in 0..200 {
        let miss = excess(t);
        if miss > 0.0 {
            low = t;
        } else {
            high = t;
        }
        let newton = t + miss / student.pdf(t);
        let next = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
        if (next - t).abs() <= 4.0 * f64::EPSILON * t {
            return Ok(next);
        }
        t = next;
    }
    // Rounding of the distribution function keeps the last steps going to and fro.
    if high - low <= 1e-9 * high || excess(t).abs() <= 1e-12 {
        Ok(t)
    } else {
        Err(MetrologyError::NotConverged {
            what: "quantile of student's t",
            iterations: 200,
            residual: excess(t),
        })
    }
}

fn distribution(dof: f64) -> Result<StudentsT, MetrologyError> {
    StudentsT::new(0.0, 1.0, dof).map_err(|_| MetrologyError::Undetermined {
        why: "no t distribution with such degrees of freedom",
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantile_and_distribution_function_are_inverse() {
        for dof in [1.0, 1.5, 2.0, 3.7, 18.0, 120.0, 999.0, 1001.0, 5e4, 2e5, 1e9, 1e100] {
            for p in [0.5, 0.6, 0.95, 0.975, 0.9999, 1.0 - 5e-7] {
                let t = student_quantile(p, Dof::Finite(dof)).unwrap();
                let back = student_cdf(-t, Dof::Finite(dof)).unwrap();
                assert!((back / (1.0 - p) - 1.0).abs() < 1e-7, "{dof} {p}: {t} {back}");
            }
        }
    }

    #[test]
    fn closed_forms() {
        // ν = 1 is Cauchy's: tan(π(p − ½)); ν = 2: (2p − 1)√(2/(4p(1 − p))).
        for p in [0.6, 0.9, 0.975, 0.999, 0.999_99] {
            let one = student_quantile(p, Dof::Finite(1.0)).unwrap();
            assert!((one / (std::f64::consts::PI * (p - 0.5)).tan() - 1.0).abs() < 1e-9, "{p}");
            let two = student_quantile(p, Dof::Finite(2.0)).unwrap();
            let exact = (2.0 * p - 1.0) * (2.0 / (4.0 * p * (1.0 - p))).sqrt();
            assert!((two / exact - 1.0).abs() < 1e-9, "{p}");
        }
    }
}
