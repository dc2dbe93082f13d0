//! Drawings of what the engine says, for a page as for paper.

mod motion;

pub use crate::content::{JointPictures, joint_pictures};
pub use motion::motion_pictures;
