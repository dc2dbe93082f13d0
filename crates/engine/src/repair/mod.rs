//! What could be done, what it would do to everything else, and what to machine every part to.

mod act;
mod machine_to;
mod options;
mod plan;
mod trial;

pub use act::{Act, parse_act};
pub use machine_to::{Family, MachineTo, MachineToLine, machine_to};
pub use options::{RepairOption, Target, options_for, recommended};
pub use trial::{ChainEffect, JointEffect, Trial, TrialResult};
