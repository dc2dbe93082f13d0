//! Wedges, cotters and tapers with friction.
//!
//! - [`Wedge`], [`drive_force_n`], [`start_out_force_n`], [`holding`]: forces, with friction as a
//!   spread of low, likely and high; [`guided_block_force`] for a wedge under a guided block.
//! - [`WedgeGauge`]: thickness at a stand, travel and take-up left.
//! - [`account_for`], [`metal_gone`], [`liner_for_mid_travel`]: what fills a slot, what is hidden in
//!   it, and the liner that brings the wedge back.
//! - [`centre_shift_m`]: which way a bearing's centre moves as its brasses are closed.
//! - [`cone_stand`], [`cone_force_n`], [`pressure_from_draw`]: piston-rod cones and taper pins.
//! - [`check_cotter_joint`], [`gib_draw`], [`screw_torque`]: cotters, gibs and screws.
//!
//! Statics only: shock, fatigue and loads that reverse are not considered.
//!
//! # Example
//!
//! ```
//! use mechanics::wedge::{Friction, Holding, Taper, Wedge, drive_force_n, holding};
//!
//! # fn main() -> Result<(), mechanics::wedge::WedgeError> {
//! let wedge = Wedge::one_sided(Taper::one_in(24.0)?, Friction::new(0.08, 0.1, 0.15)?);
//! assert_eq!(holding(&wedge), Holding::Holds);
//! let force = drive_force_n(&wedge, 100e3)?;
//! assert!((force.at_likely - 24.23e3).abs() < 10.0);
//! # Ok(())
//! # }
//! ```

mod centre;
mod cone;
mod cotter;
mod drive;
mod error;
mod friction;
mod gib;
mod screw;
mod stack;
mod stand;
mod taper;

pub use centre::{FixedBrass, RodEnd, centre_shift_m, liner_to_hold_centre_m, rod_length_change_m};
pub use cone::{
    ConeElastic, ConeForce, ConeGrip, ConeGripPressure, ConeSeat, ConeStand, DrawLimit,
    cone_force_n, cone_stand, home_for_wear_m, pressure_from_draw,
};
pub use cotter::{
    AllowedStress, CotterCheck, CotterFailure, CotterJoint, CotterSizes, check_cotter_joint,
    least_cotter_sizes,
};
pub use drive::{
    BlockMotion, DrawEffort, Face, GuidedBlock, GuidedForce, Holding, Wedge, drive_force_n,
    guided_block_force, holding, judge_draw_effort, preload_from_drive_n, start_out_force_n,
};
pub use error::WedgeError;
pub use friction::{Friction, HANDBOOK_FRICTION, HandbookFriction, Spread};
pub use gib::{GibCotter, GibDraw, GibLimit, gib_draw, gib_shear_pa, pin_shear_pa};
pub use screw::{Screw, ScrewTorque, screw_torque};
pub use stack::{
    LinerAdvice, MetalGone, Stack, StackAccount, StackBefore, StackFinding, account_for,
    liner_for_mid_travel, liner_for_stand, liner_from_stock, metal_gone,
};
pub use stand::{WedgeGauge, WedgeTravel};
pub use taper::{ConeTaper, Taper};
