//! What can go wrong with a size, a class or a symbol.

use thiserror::Error;

use super::letter::Letter;
use super::{FitFamily, Grade, Member};

/// Why limits, a choice of fits or a judgement could not be given.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[non_exhaustive]
pub enum FitsError {
    /// A size is not a number, is not positive, or lies outside the tables of ISO 286.
    #[error(
        "size {size_m} m is outside ISO 286, which runs from above 0 to 3.15 m; check the unit of the entry"
    )]
    SizeOutOfRange {
        /// The size asked for (m).
        size_m: f64,
    },
    /// A grade is not defined at this size (IT01 and IT0 above 500 mm, IT14 to IT18 to 1 mm).
    #[error("grade {grade} is not defined at {size_m} m: {reason}")]
    GradeNotDefined {
        /// The grade asked for.
        grade: Grade,
        /// The size (m).
        size_m: f64,
        /// What the standard says.
        reason: &'static str,
    },
    /// A letter is not defined at this size or with this grade.
    #[error("{member} letter {} is not defined at {size_m} m, grade {grade}: {reason}", letter.text(*member))]
    LetterNotDefined {
        /// Hole or shaft.
        member: Member,
        /// The letter.
        letter: Letter,
        /// The grade.
        grade: Grade,
        /// The size (m).
        size_m: f64,
        /// What the standard says.
        reason: &'static str,
    },
    /// A number that should be finite is not, or should not be negative and is.
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
    /// The lower end of a wanted band is above its upper end.
    #[error("wanted band is upside down: lower end {min_m} m is above upper end {max_m} m")]
    BandUpsideDown {
        /// Lower end (m).
        min_m: f64,
        /// Upper end (m).
        max_m: f64,
    },
    /// An inch class number that the standard does not have.
    #[error("there is no class {family} {number}: {family} runs from 1 to {last}")]
    NoSuchClass {
        /// The family.
        family: FitFamily,
        /// The number asked for.
        number: u8,
        /// The family's last number.
        last: u8,
    },
    /// The inch class has no entry at this size in the tables carried here.
    #[error("class {family} {number} has no limits here at {size_m} m: {reason}")]
    ClassNotCarried {
        /// The family.
        family: FitFamily,
        /// The class number.
        number: u8,
        /// The size (m).
        size_m: f64,
        /// Why.
        reason: &'static str,
    },
}

/// Where and why a symbol such as `60 H7/s6` could not be read.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("{message} at character {} of \"{text}\"", at + 1)]
pub struct SymbolError {
    /// The text as given (cut to its first 64 characters).
    pub text: String,
    /// Which character is at fault, counted from 0; equal to the length when the text ends early.
    pub at: usize,
    /// What was expected there.
    pub message: String,
}
