//! What can be wrong with a chain or a simulation.

use thiserror::Error;

use crate::metrology::figure;

/// A chain or a simulation that gives no answer.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum StackError {
    /// A figure of a term is NaN, infinite or out of range.
    #[error("term {term}: {what} is {}, outside {} to {}", figure(*value, ""), figure(*low, ""), figure(*high, ""))]
    Term {
        /// Which term, from 0.
        term: usize,
        /// Which of its figures.
        what: &'static str,
        /// The figure.
        value: f64,
        /// Least taken.
        low: f64,
        /// Greatest taken.
        high: f64,
    },
    /// A figure of the whole chain or simulation is NaN, infinite or out of range.
    #[error("{what} is {}, outside {} to {}", figure(*value, ""), figure(*low, ""), figure(*high, ""))]
    OutOfRange {
        /// Which figure.
        what: &'static str,
        /// The figure.
        value: f64,
        /// Least taken.
        low: f64,
        /// Greatest taken.
        high: f64,
    },
    /// A term has neither limits nor a bounded distribution, so there is no worst case.
    #[error("term {term} has no limits, so the chain has no worst case; give it limits")]
    NoLimits {
        /// Which term, from 0.
        term: usize,
    },
    /// There are no terms.
    #[error("the chain has no terms")]
    Empty,
    /// There are more terms than are taken.
    #[error("{got} terms given, at most {limit} taken")]
    TooManyTerms {
        /// How many are taken.
        limit: usize,
        /// How many there are.
        got: usize,
    },
    /// Limits the wrong way round.
    #[error("{what}: the least, {}, is above the greatest, {}", figure(*low, ""), figure(*high, ""))]
    Crossed {
        /// What the limits are of.
        what: &'static str,
        /// The least.
        low: f64,
        /// The greatest.
        high: f64,
    },
    /// The function gave NaN or an infinity for some draws.
    #[error("the function gave no finite figure for {count} of {draws} draws")]
    FunctionNotFinite {
        /// How many.
        count: u64,
        /// Of how many.
        draws: u64,
    },
    /// A worker stopped short, which only a panic in the function brings about.
    #[error("a worker of the simulation stopped before its share was done")]
    WorkerLost,
}

/// Refuses NaN and anything outside `low..=high`.
pub(super) fn in_range(
    what: &'static str,
    value: f64,
    low: f64,
    high: f64,
) -> Result<(), StackError> {
    if value >= low && value <= high {
        Ok(())
    } else {
        Err(StackError::OutOfRange { what, value, low, high })
    }
}
