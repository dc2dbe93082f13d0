//! Motion of every cylinder at any position of the wheels, the clearance left at the covers,
//! and how far to move the engine.
//!
//! With inside cylinders nobody can see the motion. This module knows, for any wheel angle,
//! where each crank pin, rod, crosshead and piston is; the rest follows from that.
//!
//! # Frame and signs
//!
//! * **Engine frame**: `x` forward, `y` to the left, `z` up; origin at the centre of the driving
//!   axle with its boxes mid-way in the horns and at the ride height of the drawing.
//! * **Forward rotation** carries a crank from the top to the *front*, then down to the bottom and
//!   back: clockwise when the engine is seen from its right-hand side (front to the right). A
//!   crank at absolute angle `a` has its pin at `x = r cos a`, `z = -r sin a`.
//! * **Wheel angle** ([`WheelAngle`]): one angle for the whole engine, growing in forward
//!   rotation. A crank of lag `k` stands at absolute angle `a = wheel angle - k`: it passes any
//!   mark `k` later than the crank of lag zero when the engine runs forward.
//! * **Cylinder line** of one cylinder: the line on which its crosshead pin travels. It rises
//!   towards the front by the incline `b` (positive: the front end is the higher) and passes the
//!   axle centre at the perpendicular distance `h` (positive: it passes *above*). `s` is measured
//!   along it from the foot of the axle centre's drawing position, positive towards the cylinder,
//!   which is *ahead* of the axle; `w` is square to it, positive upwards.
//! * **Crank angle** `f = a + b`: from the cylinder line, zero with the crank pointing along the
//!   line at the cylinder, growing in forward rotation. With `h = 0` it is the angle past front
//!   dead centre; with an offset the front dead centre stands at `-asin(e/(l + r))`, see
//!   [`DeadCentres`], and "past front dead centre" is always reckoned from there.
//! * **Front** is the end of the cylinder away from the crank. Crosshead positions, velocities and
//!   accelerations are positive towards the front.
//! * **Rod angle**: of the connecting rod to the cylinder line, positive when the crank pin is
//!   below the line of the crosshead pin.
//!
//! A unit whose cylinders stand *behind* the axle is described looking at it from the other end
//! (its "front" is then the engine's back, and its forward rotation the engine's backward).
//!
//! # What is not considered
//!
//! Parts are rigid and cold; the wheels do not slip on the rail; the crosshead pin travels on a
//! straight line (wear of slippers and bars enters as the offset of that line).

mod angle;
mod arcs;
mod axle;
mod barring;
mod bounds;
mod bump;
mod cautions;
mod centring;
mod chain;
mod clearance;
mod clearance_monte_carlo;
mod clearance_spread;
mod clearance_worst;
mod error;
mod gear;
mod line;
mod revolution;
mod sequence;
mod slider_crank;
mod stops;
mod ziggurat;

pub(crate) use revolution::Grid;
pub(crate) use slider_crank::RodLine;

pub use angle::WheelAngle;
pub use arcs::{Arc, Arcs};
pub use axle::{AxleBoxes, AxlePosition};
pub use barring::{Barring, Move, MoveChoice, StandingAt, Tyre, Wanted, Way};
pub use bounds::{Bound, BoundError};
pub use bump::{BumpFinding, BumpReadings, BumpReport, Fault, FaultPrior, bump_test};
pub use cautions::{Caution, barring_cautions};
pub use centring::{CentringChange, CentringTarget, SideEffect, centring_changes};
pub use chain::{ChainSizes, Contributor};
pub use clearance::{ClearanceAt, ClearanceChain, ClearancePartials, Float};
pub use clearance_monte_carlo::{MonteCarlo, MonteCarloOptions, MonteCarloSide};
pub use clearance_spread::{ClearanceRss, SharedError, Spread, Spreads};
pub use clearance_worst::ClearanceRange;
pub use error::MotionError;
pub use gear::{CylinderState, Motion, PointXz, Running};
pub use line::{CylinderLine, CylinderNo, Place};
pub use revolution::{CylinderTrace, Revolution};
pub use sequence::{Beats, CrankSequence, Leading, crank_lags};
pub use slider_crank::{DeadCentres, SliderCrank, SliderCrankPartials, SliderCrankState};
pub use stops::{Job, Stop, StopPlan, common_window, stop_plan};
