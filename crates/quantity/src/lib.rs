//! Units as the trade writes them, and values that know where their uncertainty came from.

mod decimal;
mod dimension;
mod fraction;
mod parse;
mod print;
mod quantity;
mod taper;
mod uncertain;
mod unit;

pub use dimension::Dimension;
pub use fraction::{Fraction, nearest_fraction};
pub use parse::{ParseError, ParseErrorKind};
pub use print::{
    System, print, print_both, print_both_from, print_difference, print_in, print_with_uncertainty,
    print_with_uncertainty_in,
};
pub use quantity::Quantity;
pub use taper::Taper;
pub use uncertain::{SourceId, Uncertain};
pub use unit::Unit;
