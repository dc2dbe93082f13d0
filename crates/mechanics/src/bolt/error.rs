//! What can go wrong in the making of a fitted bolt.

use thiserror::Error;

use crate::press::PressError;

/// Why a hole, a bolt or a set of bolts could not be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum BoltError {
    /// A figure is not finite or fails its condition.
    #[error("{what} is {value} {unit}, it must be finite and {condition}")]
    BadNumber {
        /// Which input.
        what: &'static str,
        /// The value given.
        value: f64,
        /// Its unit.
        unit: &'static str,
        /// The condition it fails.
        condition: &'static str,
    },
    /// A list is too short.
    #[error("{what}: {given} given, at least {least} needed")]
    TooFew {
        /// Which list.
        what: &'static str,
        /// How many were given.
        given: usize,
        /// How many are needed.
        least: usize,
    },
    /// A list is too long for the method.
    #[error("{what}: {given} given, at most {most} can be worked")]
    TooMany {
        /// Which list.
        what: &'static str,
        /// How many were given.
        given: usize,
        /// How many can be worked.
        most: usize,
    },
    /// Two lists that belong together differ in length.
    #[error("{what}: {given} given where {expected} belong")]
    Unequal {
        /// Which list.
        what: &'static str,
        /// How many were given.
        given: usize,
        /// How many belong there.
        expected: usize,
    },
    /// The holes do not overlap at all: nothing goes through.
    #[error(
        "holes do not meet: they are out of line by {short_m} m more than the smallest pin could pass"
    )]
    NothingPasses {
        /// By how much the go-through diameter is below nil (m).
        short_m: f64,
    },
    /// A wanted band is too narrow for the guards and the land's tolerance.
    #[error(
        "member {member}: the wanted band leaves {left_m} m for the land's tolerance after guards, {tolerance_m} m is needed"
    )]
    BandTooNarrow {
        /// Index of the member, head side first, from 0.
        member: usize,
        /// What is left (m).
        left_m: f64,
        /// The tolerance the machine needs (m).
        tolerance_m: f64,
    },
    /// The shares of the load in the members do not balance.
    #[error("load shares of the members sum to {sum}, they must balance to 0")]
    LoadDoesNotBalance {
        /// Their sum (-).
        sum: f64,
    },
    /// The grip of a land could not be worked out.
    #[error("grip of the lands: {0}")]
    Press(#[from] PressError),
}

pub(super) fn need(
    what: &'static str,
    value: f64,
    unit: &'static str,
    holds: bool,
    condition: &'static str,
) -> Result<(), BoltError> {
    if value.is_finite() && holds {
        Ok(())
    } else {
        Err(BoltError::BadNumber { what, value, unit, condition })
    }
}
