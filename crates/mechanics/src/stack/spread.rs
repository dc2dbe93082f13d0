//! How the values of one quantity scatter about its centre.

use super::truncated;

/// How values scatter about a centre. Widths are in the unit of the quantity, all zero or more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spread {
    /// No scatter.
    Fixed,
    /// Normal with this standard deviation. JCGM 101:2008 6.4.7.
    Normal {
        /// Standard deviation.
        sd: f64,
    },
    /// Anywhere alike within ± the half width. JCGM 101:2008 6.4.2.
    Rectangular {
        /// Half width.
        half_width: f64,
    },
    /// Most often in the middle, falling straight to nothing at ± the half width.
    /// JCGM 101:2008 6.4.5.
    Triangular {
        /// Half width.
        half_width: f64,
    },
    /// Most often near ± the half width, as a quantity that cycles. JCGM 101:2008 6.4.6.
    UShaped {
        /// Half width.
        half_width: f64,
    },
    /// Rectangular with a half width known only to ± `inexact_by`. JCGM 101:2008 6.4.3.
    InexactRectangular {
        /// Half width.
        half_width: f64,
        /// How far either way the half width may be out; no more than the half width.
        inexact_by: f64,
    },
    /// Normal with the parts outside `low..high` cut away, as parts that passed a gauge.
    TruncatedNormal {
        /// Standard deviation of the whole normal.
        sd: f64,
        /// Lower cut, from the centre (may be −∞).
        low: f64,
        /// Upper cut, from the centre (may be +∞).
        high: f64,
    },
    /// Student's t times a scale: a mean known from few repeats. JCGM 101:2008 6.4.9.
    Student {
        /// Scale: the standard uncertainty from the repeats.
        scale: f64,
        /// Degrees of freedom, above 2 (below that there is no standard deviation).
        degrees_of_freedom: f64,
    },
}

/// Largest width taken: squares of it must not overflow.
pub(super) const WIDEST: f64 = 1e100;

impl Spread {
    /// Standard deviation.
    ///
    /// Equations: rectangular `a/√3`, triangular `a/√6`, U-shaped `a/√2`, inexact rectangular
    /// `√(a²/3 + d²/9)`, Student `s √(ν/(ν−2))` (JCGM 101:2008 6.4); truncated normal by
    /// quadrature of its density.
    ///
    /// # Errors
    /// What is wrong with the figures: `(name, value, least, greatest)`.
    pub fn standard_deviation(&self) -> Result<f64, (&'static str, f64, f64, f64)> {
        self.check()?;
        Ok(match *self {
            Self::Fixed => 0.0,
            Self::Normal { sd } => sd,
            Self::Rectangular { half_width } => half_width / 3.0_f64.sqrt(),
            Self::Triangular { half_width } => half_width / 6.0_f64.sqrt(),
            Self::UShaped { half_width } => half_width / 2.0_f64.sqrt(),
            Self::InexactRectangular { half_width, inexact_by } => {
                (half_width * half_width / 3.0 + inexact_by * inexact_by / 9.0).sqrt()
            }
            Self::TruncatedNormal { sd, low, high } => {
                sd * truncated::moments(low / sd, high / sd).1
            }
            Self::Student { scale, degrees_of_freedom } => {
                scale * (degrees_of_freedom / (degrees_of_freedom - 2.0)).sqrt()
            }
        })
    }

    /// Mean less centre: zero for all but a truncated normal cut unevenly.
    ///
    /// # Errors
    /// As [`standard_deviation`](Self::standard_deviation).
    pub fn mean_offset(&self) -> Result<f64, (&'static str, f64, f64, f64)> {
        self.check()?;
        Ok(match *self {
            Self::TruncatedNormal { sd, low, high } => {
                sd * truncated::moments(low / sd, high / sd).0
            }
            _ => 0.0,
        })
    }

    /// Least and greatest value from the centre, if the scatter is bounded.
    pub fn support(&self) -> Option<(f64, f64)> {
        match *self {
            Self::Fixed => Some((0.0, 0.0)),
            Self::Rectangular { half_width }
            | Self::Triangular { half_width }
            | Self::UShaped { half_width } => Some((-half_width, half_width)),
            Self::InexactRectangular { half_width, inexact_by } => {
                let reach = half_width + inexact_by;
                Some((-reach, reach))
            }
            Self::TruncatedNormal { low, high, .. } if low.is_finite() && high.is_finite() => {
                Some((low, high))
            }
            Self::Normal { sd: 0.0 } => Some((0.0, 0.0)),
            Self::Normal { .. } | Self::TruncatedNormal { .. } | Self::Student { .. } => None,
        }
    }

    /// Refuses figures that make no distribution.
    pub(super) fn check(&self) -> Result<(), (&'static str, f64, f64, f64)> {
        let width = |what, value: f64| {
            if (0.0..=WIDEST).contains(&value) { Ok(()) } else { Err((what, value, 0.0, WIDEST)) }
        };
        match *self {
            Self::Fixed => Ok(()),
            Self::Normal { sd } => width("standard deviation", sd),
            Self::Rectangular { half_width }
            | Self::Triangular { half_width }
            | Self::UShaped { half_width } => width("half width", half_width),
            Self::InexactRectangular { half_width, inexact_by } => {
                width("half width", half_width)?;
                if (0.0..=half_width).contains(&inexact_by) {
                    Ok(())
                } else {
                    Err(("inexactness of the half width", inexact_by, 0.0, half_width))
                }
            }
            Self::TruncatedNormal { sd, low, high } => {
                if !(f64::MIN_POSITIVE..=WIDEST).contains(&sd) {
                    return Err(("standard deviation", sd, f64::MIN_POSITIVE, WIDEST));
                }
                if low.is_nan() || low / sd > truncated::FARTHEST {
                    return Err(("lower cut", low, f64::NEG_INFINITY, truncated::FARTHEST * sd));
                }
                if high.is_nan() || high / sd < -truncated::FARTHEST {
                    return Err(("upper cut", high, -truncated::FARTHEST * sd, f64::INFINITY));
                }
                if low < high { Ok(()) } else { Err(("upper cut", high, low, f64::INFINITY)) }
            }
            Self::Student { scale, degrees_of_freedom } => {
                width("scale", scale)?;
                if (2.001..=1e12).contains(&degrees_of_freedom) {
                    Ok(())
                } else {
                    Err(("degrees of freedom", degrees_of_freedom, 2.001, 1e12))
                }
            }
        }
    }
}
