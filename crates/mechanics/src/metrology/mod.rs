//! Size, form and uncertainty from gauge readings, and the verdict against a limit.
//!
//! | module | question it answers |
//! | --- | --- |
//! | [`form`] | what size and shape is this journal, bore or pair of faces, from two-point readings? |
//! | [`circle`] | how round is it, from dial traverses, V-block traverses or points? |
//! | [`mod@line`] | how straight is the relation, and is there a drift? |
//! | [`temperature`] | what would it measure at 20 °C? |
//! | [`budget`] | how well is the figure known? |
//! | [`verdict`] | is it within its limit, beyond it, or can this gauge not tell? |
//! | [`suspect`] | which readings look like a slip of the pen or the thimble? |
//!
//! Results that are sums of readings carry their weights ([`Weighted`]), so that whoever knows
//! which readings share a gauge can carry the shared error through them exactly.
//!
//! What it does not do: it knows no gauges, people or files, and it decides nothing: a result
//! that cannot be had says why ([`Missing`], [`MetrologyError`]).

pub mod budget;
pub mod circle;
mod error;
pub mod form;
mod least_squares;
pub mod line;
mod linear_program;
pub mod suspect;
pub mod temperature;
pub mod verdict;
mod weighted;

pub use error::MetrologyError;
pub(crate) use error::figure;
pub use weighted::{Missing, Weighted};
