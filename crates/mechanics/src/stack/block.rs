//! The block of draws worked on at a time: small enough for the nearest cache.

/// Draws in a block.
pub(super) const BLOCK: usize = 1024;
/// Blocks in a unit of work, which has its own random streams.
pub(super) const UNIT_BLOCKS: u64 = 64;

/// Running sums of a block of draws.
pub(super) type Block = [f64; BLOCK];
