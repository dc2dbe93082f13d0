//! Size and form of a surface from two-point readings, and what can be cleaned up from it.
//!
//! [`cylinder_form`] takes diameters read at stations along a nominally cylindrical surface, in
//! directions around it; the table may have gaps, repeats, or one reading only. [`faces_form`]
//! takes distances between two nominally parallel faces. [`traversed_cylinder`] takes dial
//! traverses at several stations about one axis, which see what two points cannot: odd lobes
//! and a bend.
//!
//! Every result that the readings do not support is `Err(`[`Missing`](super::Missing)`)` with
//! the reason, and the rest are still given.

mod axial;
mod clean_up;
mod cylinder;
mod faces;
mod readings;
mod station;
mod traversed;

pub use axial::{AxialShape, EndToEnd};
pub use clean_up::CleanUp;
pub use cylinder::{CylinderForm, cylinder_form};
pub use faces::{FacePlane, FaceReading, FacesForm, faces_form};
pub use readings::{Caution, DiameterReading, SurfaceKind};
pub use station::{HarmonicOvality, StationForm};
pub use traversed::{
    AxisLine, CylinderFit, RadialReading, TraversedCylinder, TraversedStations, traversed_cylinder,
};

#[cfg(test)]
mod tests;
