//! Loads through a revolution: steam, inertia, slide bars, pins, coupling rods, tractive effort,
//! and the rod as a strut.
//!
//! # Frame and signs
//!
//! As in [`motion`](crate::motion): along the cylinder line `s` positive towards the front, `w`
//! square to it and up, crank angle growing in forward rotation.
//!
//! * **Pressures are gauge** (above the atmosphere), as an indicator draws them: the atmosphere
//!   on the outer end of the piston rod then cancels.
//! * **Steam force** on the piston is positive towards the front:
//!   `back pressure * back area - front pressure * front area`.
//! * **Slide bar force** is the force of the bars *on the crosshead*, positive upwards: positive
//!   when the lower bar carries it.
//! * **Pin force** is the force of the rod *on the crank pin*, in `s` and `w`.
//! * **Turning moment** is positive when it drives the wheels forward.
//! * **Rod thrust** is positive in compression, **coupling rod tension** positive in tension.
//!
//! # Rod dynamics
//!
//! One set of equations serves both usual treatments. The *exact* rod has its own moment of
//! inertia; the *two-mass* rod is the same with the moment of inertia `m c (l - c)`, which is
//! what two point masses at the ends have that keep mass and centre of mass ([`RodInertia`]).
//!
//! # What is not considered
//!
//! Elastic deflection, clearance blows, water in the cylinder, friction in the pins. Friction of
//! slide bars and of piston and glands is taken where it is given.

mod axlebox;
mod bearing_duty;
mod coupling;
mod diagram;
mod error;
mod fatigue;
mod forces;
mod parts;
mod polar;
mod revolution;
mod section;
mod steam;
mod strut;
mod theoretical_diagram;
mod traction;
mod whipping;

pub use axlebox::{BoxReactions, PlaneForce, axlebox_reactions};
pub use bearing_duty::{
    BearingDuty, PinBearing, big_end_duty, slide_bar_pressure_pa, small_end_duty,
};
pub use coupling::{CouplingLayout, CouplingPair, coupling_forces, coupling_slip_force_n};
pub use diagram::{DiagramPoint, IndicatorDiagram};
pub use error::LoadError;
pub use fatigue::{
    FatigueCriterion, FatigueMaterial, FatigueUtilisation, StressCycle, fatigue_utilisation,
};
pub use forces::{CylinderForces, forces_at};
pub use parts::{MovingParts, RodInertia, RodMass};
pub use polar::{PinPolar, PolarPoint, pin_polar};
pub use revolution::{CylinderLoadTrace, LoadRevolution, RepeatedLoads, load_revolution};
pub use section::RodSection;
pub use steam::{CylinderLoad, EndDiagrams, PistonAreas, Steam};
pub use strut::{
    Strut, StrutMaterial, euler_load_n, johnson_load_n, rankine_load_n, secant_load_n, strut_load_n,
};
pub use theoretical_diagram::{TheoreticalDiagram, theoretical_diagram};
pub use traction::{
    StandardTractiveEffort, TractiveTrace, standard_tractive_effort_n, tractive_trace,
};
pub use whipping::{
    RodBending, RodLoad, Whipping, connecting_rod_whipping, coupling_rod_whipping, rod_stress,
};
