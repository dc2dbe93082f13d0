//! What can be wrong with the figures handed to this module.

use thiserror::Error;

/// A figure or a set of figures that no answer can be computed from.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum MetrologyError {
    /// A figure is NaN or infinite.
    #[error("{what} number {index} is {value}, which is not a finite figure")]
    NotFinite {
        /// What the figure is.
        what: &'static str,
        /// Its place in the list, from 0.
        index: usize,
        /// The figure.
        value: f64,
    },
    /// A figure that must be above zero is not.
    #[error("{what} is {value} {unit}, it must be above zero")]
    NotPositive {
        /// What the figure is.
        what: &'static str,
        /// The figure.
        value: f64,
        /// Its unit.
        unit: &'static str,
    },
    /// A figure lies outside the range in which the formula holds.
    #[error("{what} is {value} {unit}, outside {low} to {high} {unit}")]
    OutOfRange {
        /// What the figure is.
        what: &'static str,
        /// The figure.
        value: f64,
        /// Least value taken.
        low: f64,
        /// Greatest value taken.
        high: f64,
        /// Its unit.
        unit: &'static str,
    },
    /// There are fewer figures than the answer needs.
    #[error("{what}: {got} given, at least {need} needed")]
    TooFew {
        /// What is short.
        what: &'static str,
        /// How many are needed.
        need: usize,
        /// How many there are.
        got: usize,
    },
    /// There are more figures than the method takes.
    #[error("{what}: {got} given, at most {limit} taken; thin them out first")]
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// How many are taken at most.
        limit: usize,
        /// How many there are.
        got: usize,
    },
    /// Two lists that belong together differ in length.
    #[error("{what}: {left} of the one and {right} of the other")]
    LengthMismatch {
        /// What the lists are.
        what: &'static str,
        /// Length of the first.
        left: usize,
        /// Length of the second.
        right: usize,
    },
    /// An index points past the end of the list it refers to.
    #[error("{what} {index} does not exist, there are {count}")]
    NoSuch {
        /// What is pointed at.
        what: &'static str,
        /// The index, from 0.
        index: usize,
        /// How many there are.
        count: usize,
    },
    /// The figures leave the answer undetermined.
    #[error("the figures do not determine the answer: {why}")]
    Undetermined {
        /// Why not.
        why: &'static str,
    },
    /// The least is above the greatest.
    #[error("{what}: the least, {low}, is above the greatest, {high}")]
    Crossed {
        /// What the limits are of.
        what: &'static str,
        /// The least.
        low: f64,
        /// The greatest.
        high: f64,
    },
    /// An iteration stopped before it met its own test.
    #[error("{what} did not converge in {iterations} steps, residual {residual:e}")]
    NotConverged {
        /// Which computation.
        what: &'static str,
        /// Steps taken.
        iterations: usize,
        /// What was left, in the unit of the answer.
        residual: f64,
    },
}

/// Refuses a list that holds NaN or an infinity.
pub(crate) fn all_finite(what: &'static str, values: &[f64]) -> Result<(), MetrologyError> {
    match values.iter().position(|v| !v.is_finite()) {
        Some(index) => Err(MetrologyError::NotFinite { what, index, value: values[index] }),
        None => Ok(()),
    }
}

/// Refuses NaN, infinity, zero and negative.
pub(crate) fn positive(
    what: &'static str,
    value: f64,
    unit: &'static str,
) -> Result<(), MetrologyError> {
    if value.is_finite() && value > 0.0 {
        Ok(())
    } else {
        Err(MetrologyError::NotPositive { what, value, unit })
    }
}

/// Refuses NaN and anything outside `range` (both ends allowed).
pub(crate) fn within(
    what: &'static str,
    value: f64,
    range: (f64, f64),
    unit: &'static str,
) -> Result<(), MetrologyError> {
    if value >= range.0 && value <= range.1 {
        Ok(())
    } else {
        Err(MetrologyError::OutOfRange { what, value, low: range.0, high: range.1, unit })
    }
}
