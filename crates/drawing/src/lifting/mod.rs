//! Drawings for handling: a sling diagram in two views, and the stages of a load transfer.
//!
//! A drawing of a lift is no permission to lift: the sheet says so.

mod sling_diagram;
mod space;
#[cfg(test)]
mod tests;
mod transfer_strip;
mod words;

pub use sling_diagram::{SlingDiagram, sling_diagram};
pub use transfer_strip::{TransferStrip, transfer_strip};
