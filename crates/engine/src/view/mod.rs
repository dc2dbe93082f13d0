//! Judgements as words and figures: one shape for the command line, JSON, paper and page.
//!
//! These types own what leaves the program. Every length is given in SI and, to the figures its
//! uncertainty supports, in both systems.

mod build;
mod design;
mod figure;
mod motion;
mod places;
mod repair;
mod round;
mod shape;
mod shapes;
mod words;
mod works;

pub use build::{chain_simulation, chain_view, feature_view, joint_view, summary};
pub use design::{AbsentView, DesignView, GivenView, ItemView, SectionView, design_view};
pub use figure::Figure;
pub use motion::*;
pub use places::{Along, GearPlan, JointPlace, Out, Side, gear_plan};
pub use repair::{machine_to_view, option_views, trial_view};
pub use round::{GaugingRound, features_of_joint, features_of_part};
pub use shape::{Field, Record, Shape, Shaped};
pub use shapes::*;
pub use words::{caution_texts, suspicion_words, verdict_sign};
pub use works::*;
