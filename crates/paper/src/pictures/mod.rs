//! Drawings of what the engine says, for a page as for paper.

mod motion;
mod works;

pub use crate::content::{JointPictures, joint_pictures};
pub use motion::{clearance_pictures, load_pictures, motion_pictures};
pub use works::{day_pictures, lift_pictures, plan_picture};
