//! Handling: masses and balance points, slings, load transfer, jacking, slopes and drawing.
//!
//! - [`compose`], [`Body`], [`weigh_on_supports`], [`centre_from_two_hangs`]: mass and balance point
//!   with their uncertainty.
//! - [`hang`], [`hang_elastic`], [`hang_spread`], [`leg_shares`]: how a load hangs from one hook by 1
//!   to 4 legs and what they carry; rigging that cannot be balanced is refused with the reason.
//! - [`judge_gear`], [`rated_mass_kg`], [`mode_factor`]: rated gear by statics and by the standards.
//! - [`two_hook_shares`]: two hooks through a tilt.
//! - [`transfer_stage`], [`transfer_stages`], [`transfer_events`], [`release`], [`smooth_hook`]: what
//!   seat, crane and hands carry as a part slides off.
//! - [`jack_loads`], [`end_lift`]: jacks, packing and tipping.
//! - [`slope_forces`], [`rope_round_post`]; [`check_draw`], [`cord_pull`].
//! - [`handling_cautions`]: what goes with every one of these.
//!
//! A computed lift is no permission to lift. A competent person checks the plan.
//!
//! # Example
//!
//! ```
//! use mechanics::lifting::{Body, Leg, hang};
//!
//! # fn main() -> Result<(), mechanics::lifting::LiftingError> {
//! let rod = Body::weighed((200.0, 2.0), [1.1, 0.0, 0.0], [0.005, 0.005, 0.01])?;
//! let at = hang(&rod, &[Leg::new([0.3, 0.0, 0.1], 1.2), Leg::new([1.7, 0.0, 0.1], 1.2)])?;
//! // The hook comes over 1.0 m, the balance point lies at 1.1 m: the rod tilts.
//! assert!(at.tilt_rad > 0.05);
//! # Ok(())
//! # }
//! ```

mod cautions;
mod draw;
mod error;
mod jacking;
mod part;
mod sling;
mod slope;
mod transfer;

/// Standard acceleration of free fall, m/s² (3rd CGPM, 1901: exact).
pub const STANDARD_GRAVITY_M_S2: f64 = 9.806_65;

pub use cautions::{Caution, Handling, handling_cautions};
pub use draw::{
    CordPull, DrawCheck, DrawFinding, DrawJack, PullCords, RamArea, check_draw, cord_pull,
};
pub use error::LiftingError;
pub use jacking::{
    Base, EndLift, EndLiftForce, JackFinding, JackLoad, JackLoads, Jacking, Packing, Support,
    SupportKind, base_of, end_lift, jack_loads,
};
pub use part::{
    Body, Composition, Contribution, Density, DensityNo, HangLine, HeightByTilt, HungCentre,
    Material, PartSign, Piece, PieceKind, Placement, PlateHole, Size, Solid, Source,
    SupportReading, Weighing, WeighingAxis, centre_from_two_hangs, compose, height_from_tilt,
    weigh_on_supports,
};
pub use sling::{
    AngleBand, ElasticHang, FourLegRule, FourLegs, GearFinding, GearVerdict, Hang, HangSpread,
    Hitch, HookShares, JudgeBy, Leg, LegCount, LegGear, LegShares, LegState, LegTension, ModeBasis,
    SlingUse, Stretch, TwoHooks, basket_factor, choke_angle_factor, edge_factor, hang,
    hang_elastic, hang_spread, judge_gear, leg_shares, mode_factor, rated_mass_kg, two_hook_shares,
    two_hook_shares_through,
};
pub use slope::{OnSlope, SelfHold, SlopeForces, rope_round_post, slope_forces};
pub use transfer::{
    Hands, Hook, HookKeep, PartEnd, Release, ReleaseInput, Seat, SeatHold, SmoothHook, SmoothLimit,
    Stage, StageState, Transfer, TransferEvent, release, smooth_hook, transfer_events,
    transfer_stage, transfer_stages,
};
