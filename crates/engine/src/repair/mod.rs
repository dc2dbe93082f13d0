//! What could be done, what it would do to everything else, and what to machine every part to.

mod act;
mod aim;
mod close_up;
mod machine_to;
mod options;
mod pair;
mod plan;
mod trial;
mod wedge;
mod words;

pub use act::{Act, parse_act, wanted_size};
pub use machine_to::{Family, MachineTo, MachineToLine, Scope, machine_to, machine_to_within};
pub use options::{RepairOption, Target, options_for, recommended};
pub use trial::{ChainEffect, JointEffect, Trial, TrialResult};
