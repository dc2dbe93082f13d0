//! Masses and balance points: weighed, hung, or composed from simple solids.

mod body;
mod compose;
mod density;
mod hang_lines;
mod placement;
mod solid;
mod weigh;

pub use body::{Body, PartSign};
pub use compose::{Composition, Contribution, Piece, PieceKind, Source, compose};
pub use density::{Density, DensityNo, Material};
pub use hang_lines::{HangLine, HungCentre, centre_from_two_hangs};
pub use placement::Placement;
pub use solid::{PlateHole, Size, Solid};
pub use weigh::{
    HeightByTilt, SupportReading, Weighing, WeighingAxis, height_from_tilt, weigh_on_supports,
};
