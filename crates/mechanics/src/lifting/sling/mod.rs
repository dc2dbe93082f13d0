//! Slings from a hook to eyes: the hanging attitude, leg tensions, rated gear, two hooks.
//!
//! Everything is said in the part's own frame: z is up as the part sits before the lift, and the
//! answer tells where the hook comes to stand over it and how far it tilts.

mod elastic;
mod equilibria;
mod gear;
mod hang;
mod judge;
mod leg;
mod share;
mod spread;
mod two_hooks;

pub use elastic::{ElasticHang, hang_elastic};
pub use gear::{
    AngleBand, LegCount, SlingUse, basket_factor, choke_angle_factor, edge_factor, mode_factor,
    rated_mass_kg,
};
pub use hang::{FourLegs, Hang, LegState, LegTension, hang};
pub use judge::{
    FourLegRule, GearFinding, GearVerdict, Hitch, JudgeBy, LegGear, ModeBasis, judge_gear,
};
pub use leg::{Leg, Stretch};
pub(super) use share::shares;
pub use share::{LegShares, leg_shares};
pub use spread::{HangSpread, hang_spread};
pub use two_hooks::{HookShares, TwoHooks, two_hook_shares, two_hook_shares_through};
