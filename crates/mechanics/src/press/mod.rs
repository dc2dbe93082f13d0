//! Pressed and shrunk joints: pressure, holding, stress, assembly, and the judging of a pressing.
//!
//! The joint is a *pin* (axle, crank pin, sleeve, wheel centre) in a *hub* (wheel boss, eye, tyre).
//! The sums are the thick-cylinder equations of Lamé with each member's own material, hollow pins
//! and hubs stepped outside taken in slices along the length, the elastic-plastic range of
//! DIN 7190-1, and the change of interference with temperature, speed and surface finish.
//!
//! Conventions: SI throughout. Diameters, not radii; interference is diametral, pin size minus
//! hole size, positive when they interfere. Pressure is positive; tension is positive in a
//! stress, so radial stress at the joint is minus the pressure. Axial stress is taken as nil
//! (plane stress), as DIN 7190-1 does; the rise of pressure at the ends of a hub is not counted.
//!
//! What is not here: bending and fretting of the joint, fatigue, keys, residual stress of an
//! earlier pressing, creep. A joint that carries a train is for a competent person to decide.
//!
//! Sources: Timoshenko, *Strength of Materials*, Part II, art. 41 and 44; DIN 7190-1:2017 (and
//! 7190:2001, whose equations it keeps), from memory unless a check says otherwise; Kollmann,
//! *Welle-Nabe-Verbindungen* (1984) for the effect of speed. Each function names its own.

mod assemble;
mod assembly;
mod error;
mod finish;
mod material;
mod plastic;
mod record;
mod running;
mod section;
mod sizing;
mod stress;
mod stroke;
mod tyre;

pub use assemble::{AssemblyHeat, HeatLimit, HeatWanted, assembly_heat};
pub use assembly::{Assembly, Holding, Load, Slice};
pub use error::PressError;
pub use finish::smoothing_loss_m;
pub use material::{FrictionBand, Material};
pub use plastic::{JointState, Range, joint_state};
pub use record::{
    JudgeRules, PressFinding, PressJudgement, PressReading, PressVerdict, judge_press,
};
pub use running::{Running, RunningState, loosening_speed_rad_s, loosening_temperature_k, running};
pub use section::{Geometry, Section};
pub use sizing::{HoleChoice, PinSizing, SizingWanted, size_pin};
pub use stress::{Hypothesis, JointStress, Stress};
pub use stroke::{
    Behaviour, HubStation, PinStation, PressCurve, StrokeInput, StrokePoint, press_curve,
};
pub use tyre::{TyreRule, tyre_shrink_allowance_m};
