//! Standard uncertainty of one source: from limits (type B) or from repeats (type A).

use crate::metrology::MetrologyError;
use crate::metrology::error::{all_finite, within};

/// How values are taken to lie between two limits `±half_width`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LimitShape {
    /// Anywhere alike: `a/√3`. JCGM 100:2008 4.3.7.
    Rectangular,
    /// Near the middle more often: `a/√6`. JCGM 100:2008 4.3.9.
    Triangular,
    /// Near the limits more often, as a cycling temperature: `a/√2`. JCGM 101:2008 6.4.6.
    UShaped,
    /// The limits are a normal distribution's `±k σ`: `a/k`. JCGM 100:2008 4.3.4.
    Normal {
        /// Coverage factor k of the limits, above zero.
        coverage_factor: f64,
    },
}

/// Standard uncertainty of a quantity known to lie within `±half_width` (any unit; the result has
/// the same).
///
/// Equations and sources: see [`LimitShape`]. Worked value: ±15 mg rectangular gives 8.66 mg
/// (EA-4/02 M:2022 S2).
///
/// # Errors
/// A half width that is negative or not finite, a coverage factor not above zero.
pub fn uncertainty_of_limits(half_width: f64, shape: LimitShape) -> Result<f64, MetrologyError> {
    within("half width", half_width, (0.0, f64::MAX), "")?;
    Ok(match shape {
        LimitShape::Rectangular => half_width / 3.0_f64.sqrt(),
        LimitShape::Triangular => half_width / 6.0_f64.sqrt(),
        LimitShape::UShaped => half_width / 2.0_f64.sqrt(),
        LimitShape::Normal { coverage_factor } => {
            within("coverage factor", coverage_factor, (1e-6, 1e6), "")?;
            half_width / coverage_factor
        }
    })
}

/// A standard deviation pooled from several sets of repeats.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pooled {
    /// Standard deviation of one reading, in the unit of the readings.
    pub sd: f64,
    /// Its degrees of freedom.
    pub degrees_of_freedom: usize,
}

/// Standard deviation of one reading from one set of repeats.
///
/// Equation: `s² = Σ(q − q̄)²/(n − 1)`. Source: JCGM 100:2008, equation (4).
///
/// # Errors
/// Fewer than two repeats, a figure that is not finite.
pub fn repeat_sd(repeats: &[f64]) -> Result<Pooled, MetrologyError> {
    pooled_sd(&[repeats])
}

/// Standard deviation of one reading, pooled from repeats of several things.
///
/// Equation: `s² = Σ νᵢ sᵢ² / Σ νᵢ`, `νᵢ = nᵢ − 1`. Source: JCGM 100:2008 H.3.6, note to 4.2.4.
/// Sets of one reading add nothing and do no harm.
///
/// # Errors
/// No set with two repeats or more, a figure that is not finite.
pub fn pooled_sd(sets: &[&[f64]]) -> Result<Pooled, MetrologyError> {
    let mut squares = 0.0;
    let mut degrees_of_freedom = 0;
    let mut most = 0;
    for set in sets {
        all_finite("repeat", set)?;
        most = most.max(set.len());
        let Some(&first) = set.first() else { continue };
        // About the first value, so that equal readings give exactly zero.
        let mean = set.iter().map(|v| v - first).sum::<f64>() / set.len() as f64;
        squares += set.iter().map(|v| (v - first - mean).powi(2)).sum::<f64>();
        degrees_of_freedom += set.len() - 1;
    }
    if degrees_of_freedom == 0 {
        return Err(MetrologyError::TooFew { what: "repeats in a set", need: 2, got: most });
    }
    Ok(Pooled { sd: (squares / degrees_of_freedom as f64).sqrt(), degrees_of_freedom })
}

/// Standard uncertainty of a mean of `count` readings: `s/√n`, JCGM 100:2008 equation (5).
///
/// # Errors
/// No readings, a standard deviation that is negative or not finite.
pub fn mean_uncertainty(sd: f64, count: usize) -> Result<f64, MetrologyError> {
    within("standard deviation", sd, (0.0, f64::MAX), "")?;
    if count == 0 {
        return Err(MetrologyError::TooFew { what: "readings in the mean", need: 1, got: 0 });
    }
    Ok(sd / (count as f64).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_to_standard_uncertainty() {
        // JCGM 100:2008 4.3.7 note, 4.3.9, JCGM 101:2008 6.4.6, JCGM 100:2008 4.3.4: from memory.
        let of = |shape| uncertainty_of_limits(1.0, shape).unwrap();
        assert!((of(LimitShape::Rectangular) - 0.57735).abs() < 1e-5);
        assert!((of(LimitShape::Triangular) - 0.40825).abs() < 1e-5);
        assert!((of(LimitShape::UShaped) - std::f64::consts::FRAC_1_SQRT_2).abs() < 1e-12);
        assert_eq!(of(LimitShape::Normal { coverage_factor: 2.0 }), 0.5);
        assert!(uncertainty_of_limits(-1.0, LimitShape::Rectangular).is_err());
        assert!(uncertainty_of_limits(1.0, LimitShape::Normal { coverage_factor: 0.0 }).is_err());
    }

    #[test]
    fn pooling_weighs_by_degrees_of_freedom() {
        // Sets with variances 1 (ν = 2) and 0.5 (ν = 1): (2 × 1 + 1 × 0.5)/3.
        let pooled = pooled_sd(&[&[1.0, 2.0, 3.0], &[10.0, 11.0], &[7.0]]).unwrap();
        assert_eq!(pooled.degrees_of_freedom, 3);
        assert!((pooled.sd - (2.5_f64 / 3.0).sqrt()).abs() < 1e-15);
        assert!(pooled_sd(&[&[1.0], &[]]).is_err());
        assert!(repeat_sd(&[1.0, f64::NAN]).is_err());
    }
}
