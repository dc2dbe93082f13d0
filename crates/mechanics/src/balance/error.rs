//! What can be wrong with a question about balance.

use crate::motion::{BoundError, MotionError};

/// Why no answer about balance can be given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BalanceError {
    /// An input is not a number or out of its range.
    #[error(transparent)]
    Bound(#[from] BoundError),
    /// The motion has no answer.
    #[error(transparent)]
    Motion(#[from] MotionError),
    /// The two planes are the same or the wrong way round.
    #[error(
        "the left plane at {left_m} m must lie at least {least_m} m left of the right one at {right_m} m"
    )]
    Planes {
        /// Left plane.
        left_m: f64,
        /// Right plane.
        right_m: f64,
        /// Least distance.
        least_m: f64,
    },
    /// A list empty or too long, or an index outside it.
    #[error("{what}: {count} is outside {low} to {high}")]
    Count {
        /// What was counted.
        what: &'static str,
        /// The count.
        count: usize,
        /// Least count.
        low: usize,
        /// Greatest count.
        high: usize,
    },
    /// Shares that do not make one whole.
    #[error("the axles' shares of the reciprocating balance add up to {sum}, not to 1")]
    Shares {
        /// What they add up to.
        sum: f64,
    },
    /// Layout and motion do not describe the same crank.
    #[error("{what} of cylinder {cylinder} is {layout} in the balance and {motion} in the motion")]
    Differs {
        /// The quantity, in words.
        what: &'static str,
        /// Number of the cylinder, from 0.
        cylinder: usize,
        /// Its value in the balance layout.
        layout: f64,
        /// Its value in the motion.
        motion: f64,
    },
}
