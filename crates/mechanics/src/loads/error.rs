//! What can be wrong with a question about loads.

use crate::motion::{BoundError, MotionError};

/// Why no answer about loads can be given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LoadError {
    /// An input is not a number or out of its range.
    #[error(transparent)]
    Bound(#[from] BoundError),
    /// The motion has no answer.
    #[error(transparent)]
    Motion(#[from] MotionError),
    /// A diagram with too few or too many points.
    #[error("an indicator diagram of {count} points was given; {low} to {high} can be dealt with")]
    DiagramPoints {
        /// How many were given.
        count: usize,
        /// Least number.
        low: usize,
        /// Greatest number.
        high: usize,
    },
    /// A diagram that does not begin and end at its own dead centre, or never reaches the other.
    #[error(
        "the diagram {what} at {share} of the stroke instead of {wanted}; give the points in the \
         order the pencil drew them, from the beginning of the stroke and back to it"
    )]
    DiagramEnds {
        /// Begins, turns or ends.
        what: &'static str,
        /// Share of the stroke found.
        share: f64,
        /// Share of the stroke wanted.
        wanted: f64,
    },
    /// A point that goes against the direction of its stroke.
    #[error("diagram point {index} goes back from {before} to {share} of the stroke")]
    DiagramOrder {
        /// Number of the point, from 0.
        index: usize,
        /// Share of the stroke before.
        before: f64,
        /// Share of the stroke found.
        share: f64,
    },
    /// A loop that does not close.
    #[error(
        "the diagram does not close: it begins at {first_pa} Pa and ends at {last_pa} Pa, further \
         apart than {limit_pa} Pa"
    )]
    DiagramOpen {
        /// Pressure at the first point.
        first_pa: f64,
        /// Pressure at the last point.
        last_pa: f64,
        /// Greatest gap accepted.
        limit_pa: f64,
    },
    /// The list of loads does not fit the motion.
    #[error("{loads} cylinder loads were given for a motion of {cylinders} cylinders")]
    Unequal {
        /// Loads given.
        loads: usize,
        /// Cylinders of the motion.
        cylinders: usize,
    },
    /// Two sizes that contradict each other.
    #[error("{what} {value} {unit} is not below {other} {limit} {unit}")]
    NotBelow {
        /// The quantity, in words.
        what: &'static str,
        /// Its value.
        value: f64,
        /// The quantity it must stay below.
        other: &'static str,
        /// Its value.
        limit: f64,
        /// Unit of both.
        unit: &'static str,
    },
    /// Shares that do not make one whole.
    #[error("{what} add up to {sum}, not to 1")]
    Shares {
        /// What was to add up.
        what: &'static str,
        /// What it adds up to.
        sum: f64,
    },
    /// Both coupling cranks so near dead centre that the rods cannot pass on a moment.
    #[error(
        "both coupling cranks stand near dead centre (sum of squared sines {sum}); the rods' \
         forces cannot be told there"
    )]
    CouplingDeadCentre {
        /// Sum of the squared sines.
        sum: f64,
    },
    /// A list that must not be empty, too long, or an index outside it.
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
    /// A material without a word on where its figures come from.
    #[error("no source is given for the material's figures; name the standard, test or drawing")]
    NoSource,
    /// A thrust at or above the buckling load: the stress has no end.
    #[error("thrust {thrust_n} N reaches the buckling load {buckling_n} N")]
    Buckles {
        /// Thrust, N.
        thrust_n: f64,
        /// Buckling load, N.
        buckling_n: f64,
    },
    /// An iteration did not settle.
    #[error("{what} did not settle in {iterations} steps; {residual} {unit} was left over")]
    NotSettled {
        /// What was being solved.
        what: &'static str,
        /// Steps taken.
        iterations: usize,
        /// What was left over.
        residual: f64,
        /// Its unit.
        unit: &'static str,
    },
}
