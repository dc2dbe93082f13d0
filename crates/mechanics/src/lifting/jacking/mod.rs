//! Jacks and packing under a load.

mod base;
mod end_lift;
mod loads;

pub use base::{Base, base_of};
pub use end_lift::{EndLift, EndLiftForce, end_lift};
pub use loads::{
    JackFinding, JackLoad, JackLoads, Jacking, Packing, Support, SupportKind, jack_loads,
};
