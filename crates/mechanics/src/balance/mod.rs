//! Balance of rotating and reciprocating masses, and what is left over: hammer blow, swaying
//! couple, variation of tractive effort.
//!
//! # Frame and signs
//!
//! As in [`motion`](crate::motion): `x` forward, `y` to the left, `z` up; forward rotation carries
//! a mass from the top to the front. Where a mass or weight sits on its axle is said by its *lag*
//! behind the crank of lag zero, in radians, like the cranks themselves: at wheel angle `a` it
//! stands at `a - lag` from straight forward, going down in front.
//! Planes across the engine are metres to the *left* of its middle.
//!
//! # Method
//!
//! The classical two-plane method (W. E. Dalby, *The Balancing of Engines*, 1902; from memory):
//! every mass is shared between the planes of the two wheels by the law of the lever, and the
//! weights wanted are opposite to the sums. A share of the reciprocating masses is treated as if
//! it turned with the crank pin. That share makes the hammer blow; the rest is what shakes the
//! engine along the road.
//!
//! Primary forces only, except in [`unbalanced_trace`], which takes the pistons' exact
//! accelerations. Springs, frames and drawbar are not considered: these are forces, not movements.

mod change;
mod effects;
mod error;
mod layout;
mod primary;
mod trace;
mod two_plane;

pub use change::{MassChange, MassChangeEffect, mass_change_effect};
pub use effects::{
    AxleBlow, BalanceEffects, balance_effects, effects_against_speed, lifting_speed_rad_s,
};
pub use error::BalanceError;
pub use layout::{
    AxleBalance, AxleParts, BalanceCylinder, BalanceLayout, balance_weights, split_rod,
};
pub use primary::{PrimaryResidual, SingleCylinder, single_cylinder_balance};
pub use trace::{UnbalancedTrace, unbalanced_trace};
pub use two_plane::{BalanceWeight, Planes, RotatingMass, WheelPair, two_plane_balance};
