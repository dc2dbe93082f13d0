//! Fitted bolts and pins made to measured holes.
//!
//! A fitted bolt goes through several *members* (the front leg of a strap, the butt of a rod, the
//! back leg) and fits each of them. The holes of an old engine are oval, tapered, bell-mouthed
//! and out of line, and no two are alike; so each is read at several depths and directions, and
//! each bolt is made to its own holes and numbered.
//!
//! The work in order: [`hole_form`] (what the readings say of one hole), [`go_through`] and
//! [`clean_up`] (the line of all holes together), [`ream_advice`] (leave them or ream, and to
//! what), [`design_bolt`] (lands, steps and everything a drawing needs), [`drive_bolt`] (force to
//! drive it home and to draw it), [`load_bolt`] (shear, bearing, edges), [`match_bolts`] (which
//! bolt of a heap belongs in which hole).
//!
//! Conventions: SI; diameters; members are listed in the order the bolt goes in, head side
//! first, and depth in a member runs from its head-side face. Interference is land minus hole,
//! clearance is negative interference. Centres are (x, y) in a plane square to the bolt.
//!
//! What is not here: threads and tightening, bending of the bolt in a loose hole, fatigue. Where
//! limits of form are asked for, they come from the caller: there is no standard for how oval a
//! strap hole may be.

mod design;
mod drawing;
mod drive;
mod error;
mod hole;
mod line;
mod load;
mod matching;
mod ream;

pub use design::{BoltWanted, DesignMember, design_bolt};
pub use drawing::{BoltDesign, DesignFinding, Head, Land, LandRole, Security, SlideStep, Thread};
pub use drive::{DriveInput, DriveMember, DriveResult, Jack, drive_bolt};
pub use error::BoltError;
pub use hole::{GaugeUncertainty, HoleForm, HoleReading, StationForm, hole_form};
pub use line::{Circle, LineCircle, Mismatch, clean_up, go_through, mismatch_from_pin};
pub use load::{BoltLoad, BoltStress, LoadMember, MemberStress, PlaneStress, load_bolt};
pub use matching::{BoltMatch, MatchInput, Matching, match_bolts};
pub use ream::{FormLimits, ReamAdvice, ReamDecision, ReamReason, ReamWanted, ream_advice};
