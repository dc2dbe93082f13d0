//! Limits and fits: ISO 286 (millimetre sizes to 3150 mm) and the ANSI B4.1 inch classes.
//!
//! What it answers:
//! - any tolerance class (`H7`, `js6`) or fit (`H7/s6`) at a size: its limits, from the standard's
//!   tables ([`Zone::limits`], [`Fit::at`], [`parse_symbol`]);
//! - which fits give a wanted clearance or interference ([`choose_fits`]);
//! - what a pair of measured parts gives, with its uncertainty, and which member is off
//!   ([`judge_reading`]);
//! - the inch classes RC, LC, LT, LN and FN to 19.69 in ([`ImperialClass::at`]).
//!
//! Conventions: sizes and deviations in metres; a deviation is measured from the nominal size,
//! positive towards more diameter, in holes and shafts alike; clearance is hole minus shaft, so
//! interference is a negative clearance. Two-point sizes and form are not the business of this
//! module: it deals in size alone.
//!
//! Any letter is given with any grade where the rules of ISO 286-1 define it, also where ISO
//! 286-2 prints no column for the class (`x3`, say): the limits follow, the class is rare.
//!
//! Inside, table values are whole nanometres, so sums of table values are exact.
//!
//! Sources: ISO 286-1:2010 (grades, fundamental deviations, delta rule) and ISO 286-2:2010
//! (limit tables). The tables here were compared cell by cell with two public transcriptions
//! and with the standard's own formulas ([`formula`]); `tests/fits.rs` repeats the second
//! comparison and lists every cell where the table and the formula part.

mod choose;
mod deviation;
mod deviation_table;
mod error;
pub mod formula;
mod grade;
mod imperial;
mod imperial_table;
mod letter;
mod limits;
mod reading;
mod step;
mod symbol;

pub use choose::{Basis, Choice, FitCandidate, FitWanted, choose_fits};
pub use deviation::fundamental_deviation_m;
pub use error::{FitsError, SymbolError};
pub use grade::{Grade, standard_tolerance_m};
pub use imperial::{FitFamily, ImperialClass, ImperialLimits, Provenance};
pub use letter::{Letter, Member};
pub use limits::{Band, Fit, FitKind, FitLimits, Limits, Zone};
pub use reading::{
    FitJudgement, FitReading, Measured, MemberJudgement, OffMember, Place, judge_reading,
};
pub use step::{SizeStep, size_step};
pub use symbol::{Symbol, parse_symbol};
