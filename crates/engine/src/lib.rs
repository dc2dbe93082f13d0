//! The engine model: one locomotive, its parts, the surfaces on them, how those mate, what was
//! read with which gauge, and what was decided; and every judgement that follows from it.
//!
//! It knows no storage, no screen and no clock: texts and streams come in, judgements go out, and
//! the day is an argument. The same input gives the same engine and the same judgement, to the
//! bit; a changed reading reaches every answer that depends on it and no other.

pub mod description;
pub mod design;
pub mod judge;
pub mod model;
pub mod motion;
pub mod pattern;
pub mod problem;
pub mod readings;
pub mod repair;
pub mod side_by_side;
pub mod view;
pub mod works;

mod load;

pub use load::{Loaded, load};
