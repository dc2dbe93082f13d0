//! Chains of sizes: worst case, root-sum-square and Monte Carlo.
//!
//! A [`Chain`] is `constant + Σ factor · x`: the thickness of a packing, the clearance at the end of
//! the piston's stroke, the distance between two centres. [`Chain::worst_case`] takes every term
//! at its worst limit, [`Chain::root_sum_square`] takes them as independent, and
//! [`simulate_chain`] draws them from their own distributions. [`simulate_function`] does the
//! same for any function of uncertain inputs, straight or bent.
//!
//! Draws are made in vector lanes with runtime choice of instruction set; the same seed gives the
//! same result to the bit on any number of threads and any of those instruction sets. Memory does
//! not grow with the number of draws: results are kept as moments and a histogram whose bin
//! width is stated.

mod block;
mod chain;
mod error;
mod kernels;
mod normal_quantile;
mod outcome;
mod sampler;
mod simulate_chain;
mod simulate_function;
mod source;
mod spread;
mod tally;
mod truncated;
mod workers;

pub use chain::{Chain, Contribution, Range, RootSumSquare, Term, WorstCase};
pub use error::StackError;
pub use outcome::{Interval, Outcome, Proportion, Quantile};
pub use simulate_chain::simulate_chain;
pub use simulate_function::{Driver, FunctionOutcome, Input, simulate_function};
pub use spread::Spread;
pub use workers::Simulation;

#[cfg(test)]
mod tests;
