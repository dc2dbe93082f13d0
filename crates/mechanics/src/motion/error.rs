//! What can be wrong with a question about the motion.

use super::BoundError;

/// Why no answer about the motion can be given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum MotionError {
    /// An input is not a number or out of its range.
    #[error(transparent)]
    Bound(#[from] BoundError),
    /// The crank cannot turn: crank throw and offset together reach too near the rod centres.
    #[error(
        "the crank cannot turn: throw plus offset {reach_m} m is above {limit_m} m, which is 0.95 \
         of the rod centres; check the sizes and their units"
    )]
    RodTooShort {
        /// Crank throw plus the amount of the offset.
        reach_m: f64,
        /// 0.95 of the rod centres.
        limit_m: f64,
    },
    /// The same once the sizes have been spread: some engine in the spread cannot turn.
    #[error(
        "the spread given reaches sizes with which the crank cannot turn; narrow the spread of \
         throw, rod centres or offset"
    )]
    SpreadTooWide,
    /// The list of cylinders is empty or longer than allowed.
    #[error("{count} cylinders were given; 1 to {limit} can be dealt with")]
    CylinderCount {
        /// How many were given.
        count: usize,
        /// Greatest number.
        limit: usize,
    },
    /// No cylinder of that number.
    #[error("there is no cylinder number {number}; the motion has {count}, counted from 0")]
    NoSuchCylinder {
        /// Number asked for.
        number: usize,
        /// How many there are.
        count: usize,
    },
    /// A crosshead position beyond the ends of its stroke.
    #[error("crosshead position {position_m} m is outside its stroke, {back_m} m to {front_m} m")]
    OutsideStroke {
        /// Position asked for.
        position_m: f64,
        /// Back end of the stroke.
        back_m: f64,
        /// Front end of the stroke.
        front_m: f64,
    },
    /// A count (steps, engines, jobs) outside its range.
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
    /// A name that must be unique is given twice.
    #[error("{what} is given twice")]
    Twice {
        /// The thing given twice.
        what: String,
    },
    /// The readings cannot be weighed: their covariance is singular.
    #[error(
        "the readings cannot be weighed: no spread at all on {what}; give the readings an \
         uncertainty above zero"
    )]
    NoSpread {
        /// Which readings.
        what: &'static str,
    },
    /// An iteration did not settle.
    #[error("{what} did not settle in {iterations} steps; {residual_m} m was left over")]
    NotSettled {
        /// What was being solved.
        what: &'static str,
        /// Steps taken.
        iterations: usize,
        /// What was left over.
        residual_m: f64,
    },
}
