//! What can go wrong with a lining.

pub(super) use crate::range::{OutOfRange, Range};

/// Why a lining question could not be answered.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LiningError {
    /// A value is not a number, is infinite, or lies outside the range the formula holds for.
    #[error("{what} is {value} {unit}: it must lie between {low} and {high} {unit}")]
    OutOfRange {
        /// The quantity, in words.
        what: &'static str,
        /// The value that was given.
        value: f64,
        /// The least value accepted.
        low: f64,
        /// The greatest value accepted.
        high: f64,
        /// The unit of all three.
        unit: &'static str,
    },
    /// A bore's form has too few or too many points.
    #[error("{given} points of the bore were given: {least} to {most} are wanted")]
    PointCount {
        /// How many were given.
        given: usize,
        /// The fewest.
        least: usize,
        /// The most.
        most: usize,
    },
    /// One half of the bore has no points left once its joint face is filed.
    #[error("no point of the {half} half is left above the filed joint")]
    HalfMissing {
        /// Which half.
        half: &'static str,
    },
    /// A size that must be the larger is not.
    #[error("{outer} {outer_m} m is not larger than {inner} {inner_m} m")]
    NotLarger {
        /// The outer size, in words.
        outer: &'static str,
        /// Its value, m.
        outer_m: f64,
        /// The inner size, in words.
        inner: &'static str,
        /// Its value, m.
        inner_m: f64,
    },
    /// A bush grows less than the housing that is said to hold it: it would be loose.
    #[error(
        "the bush grows {bush_per_k} per K and its housing {housing_per_k} per K: warm, the housing \
         no longer holds it"
    )]
    BushLoosens {
        /// Expansion of the bush, 1/K.
        bush_per_k: f64,
        /// Expansion of the housing, 1/K.
        housing_per_k: f64,
    },
}

impl LiningError {
    /// What the person at the bench can do about it, where there is something.
    #[must_use]
    pub fn mend(&self) -> Option<&'static str> {
        match self {
            Self::OutOfRange { .. } => Some("check the figure and its unit"),
            Self::PointCount { .. } | Self::HalfMissing { .. } => {
                Some("gauge the bore at more places round")
            }
            Self::NotLarger { .. } => Some("check which size is which"),
            Self::BushLoosens { .. } => Some("take the bush as free to grow"),
        }
    }
}

impl From<OutOfRange> for LiningError {
    fn from(o: OutOfRange) -> Self {
        let OutOfRange { what, value, low, high, unit } = o;
        Self::OutOfRange { what, value, low, high, unit }
    }
}

/// Refuses an outer size that is not larger than the inner one.
pub(super) fn check_larger(
    (outer, outer_m): (&'static str, f64),
    (inner, inner_m): (&'static str, f64),
) -> Result<(), LiningError> {
    if outer_m > inner_m {
        Ok(())
    } else {
        Err(LiningError::NotLarger { outer, outer_m, inner, inner_m })
    }
}
