//! Why a picture cannot be drawn.

use mechanics::loads::LoadError;
use mechanics::motion::{BoundError, MotionError};

/// Why a picture cannot be drawn.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum DrawingError {
    /// A size is not a number or out of its range.
    #[error(transparent)]
    Bound(#[from] BoundError),
    /// The motion has no answer.
    #[error(transparent)]
    Motion(#[from] MotionError),
    /// The loads have no answer.
    #[error(transparent)]
    Load(#[from] LoadError),
    /// As many things of one kind are wanted as there are of another.
    #[error("{given} {what} were given, {wanted} are wanted")]
    Unequal {
        /// The things, in words.
        what: &'static str,
        /// How many were given.
        given: usize,
        /// How many are wanted.
        wanted: usize,
    },
    /// Something to be drawn has no place on the page.
    #[error("the picture of {what} holds a place that is no number")]
    NoPlace {
        /// The picture.
        what: &'static str,
    },
}
