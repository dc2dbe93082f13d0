//! The motion of the engine, joined to its readings: where everything is at any position of the
//! wheels, how far to bar it, what clearance is left at the covers, what the parts carry and how
//! the wheels balance.
//!
//! Sizes are given in the file as a written size, a feature, a chain or a joint, or a sum of them
//! (`docs/motion.md`). What is read is used as read, with every source of its uncertainty; what is
//! not is taken as made, and that is said; what is nowhere is said to be missing, with the place
//! where to write it. Nothing is assumed in silence.
//!
//! Signs, angles and what is left out are those of [`mechanics::motion`], [`mechanics::loads`] and
//! [`mechanics::balance`].

mod balancing;
mod bearings;
mod build;
mod bump_check;
mod centre;
mod clearances;
mod coupling;
mod diagram;
mod error;
mod error_words;
mod fatigue;
mod mechanism;
mod model;
mod pistons;
mod reach;
mod resolve;
mod said;
mod standing;
mod sum;
mod working;

pub use balancing::{AxleAnswer, Balancing, HeavierBy, balancing, parse_heavier};
pub use bearings::{
    BearingKind, BearingLoad, BearingLoads, LoadAt, Rubbing, bearing_loads, bearings_of,
};
pub use bump_check::{BumpCheck, bump_check};
pub use centre::{Centring, From, Way, centring};
pub use clearances::{
    Clearances, EndClearance, Part as ClearancePart, PistonEnds, clearances, piston_ends,
};
pub use coupling::{BoxWorking, CouplingStrength, CouplingWorking, PinForce, RodPair};
pub use diagram::read_diagram;
pub use error::{Missing, NoAnswer};
pub use error_words::{bound_words, load_words, motion_words};
pub use fatigue::{FatigueAnswer, FatigueUse};
pub use mechanism::{ChainInputs, Mechanism, chain_of, size_of};
pub use model::{
    Axle, Bump, By, Cylinder, End, Fatigue, FatiguePart, Figures, Mark, MassSum, MotionModel,
    Reach, Size, Sizes, TurningMass,
};
pub use pistons::PistonEffect;
pub use reach::{JobWindow, PlannedStop, Reaching, reaching};
pub use resolve::Notes;
pub use said::{At, Said, parse_said};
pub use standing::{Bringing, Standing, bring, standing};
pub use working::{
    CylinderWorking, Part as LoadPart, RodStrength, STEPS, SlideBar, SteamSaid, Working, working,
};

pub(crate) use build::build;
pub(crate) use mechanism::field_of;
pub(crate) use pistons::piston_effects;
