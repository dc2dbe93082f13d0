//! Split bearings and white metal.
//!
//! - [`close_bore`], [`clean_up`], [`file_for_nip`]: brasses closed by filing their joint faces, and
//!   whether they then bore clean.
//! - [`lining_thickness`]: white metal after boring and when worn, bronze behind it.
//! - [`hot_clearance_m`], [`cold_bore_for_m`]: clearance at working heat from cold sizes, and back.
//! - [`alloy_sheet`], [`pour_sheet`]: white metals and the sheet for re-metalling, with [`Caution`]s.
//!
//! Melting and pouring metal can kill. The sheet carries its cautions, and a competent person, the
//! maker's data and local rules decide.
//!
//! # Example
//!
//! ```
//! use mechanics::lining::{WhiteMetal, PourInput, pour_sheet};
//!
//! # fn main() -> Result<(), mechanics::lining::LiningError> {
//! let sheet = pour_sheet(&PourInput {
//!     alloy: WhiteMetal::AstmB23Alloy2,
//!     bore_m: 0.200,
//!     thickness_m: 0.006,
//!     length_m: 0.220,
//!     arc_rad: std::f64::consts::PI,
//!     machining_m: 0.003,
//!     shrinkage: 0.006,
//!     head_m: 0.020,
//!     extra_m3: 0.0,
//!     waste: 0.15,
//! })?;
//! assert!((sheet.shell_bore_m - 0.212).abs() < 1e-12);
//! assert!(!sheet.cautions.is_empty());
//! # Ok(())
//! # }
//! ```

mod alloy;
mod caution;
mod circle;
mod error;
mod hot;
mod pour;
mod split;
mod thickness;

pub use alloy::{AlloySheet, Composition, FigureStanding, WHITE_METALS, WhiteMetal, alloy_sheet};
pub use caution::{Caution, Hazard, pouring_cautions};
pub use error::LiningError;
pub use hot::{
    Expansion, HotPair, Seating, cold_bore_for_m, cold_clearance_for_m, hot_clearance_m,
};
pub use pour::{HeatRange, PourInput, PourSheet, pour_sheet};
pub use split::{
    BoreCentre, BorePoint, CleanUp, CleanUpFinding, ClosedBore, Closing, FixedHalf, JointAdvice,
    JointFit, clean_up, close_bore, file_for_nip,
};
pub use thickness::{LinedBearing, Thickness, ThicknessFinding, lining_thickness};
