//! Drawings as SVG, made once for page and paper alike.
//!
//! Everything is drawn with plain SVG 1.1 attributes: no style sheets, no classes, no scripts, no
//! outside files, so that a browser, a PDF writer and a printer show the same thing. Lengths on
//! the picture are points (1/72 in) at the size it is meant to be printed; lengths of the engine
//! are metres. Black ink on white, verdicts by shape and word, one restrained colour for what is
//! beyond; all of it stays legible from a laser printer without colour.
//!
//! This crate knows nothing of engines, files or clocks: figures and words come in, a
//! [`Picture`] goes out, the same to the byte for the same input. It judges nothing: verdicts are
//! told to it.
//!
//! ```
//! use drawing::{LimitBar, Mark, Verdict, limit_bar};
//!
//! let picture = limit_bar(&LimitBar {
//!     name: "clearance in service".into(),
//!     least: None,
//!     most: Some(Mark { at_m: 0.5e-3, text: "0.50 mm (20 thou)".into() }),
//!     as_made: Some(Mark { at_m: 0.15e-3, text: "0.15 mm".into() }),
//!     guard_m: 0.02e-3,
//!     value: Some(Mark { at_m: 0.61e-3, text: "0.610 ± 0.024 mm".into() }),
//!     expanded_m: 0.024e-3,
//!     verdict: Verdict::Beyond,
//! })?;
//! assert!(picture.svg.contains("beyond"));
//! # Ok::<(), drawing::DrawingError>(())
//! ```

#[cfg(test)]
mod check;
mod error;
mod gear;
mod lettering;
mod limit_bar;
mod polar;
mod polar_frame;
mod profile;
mod scale;
mod sign;
mod sketch;
mod stacked;
mod surface;
mod traverse;

pub mod bearing;
pub mod bolt;
pub mod cone;
pub mod day_chart;
pub mod lifting;
pub mod motion;
pub mod press;
pub mod sheet;
pub mod slide;
pub mod svg;
pub mod turn;
pub mod wedge;

pub use error::DrawingError;
pub use gear::{GearAlong, GearDrawing, GearRow, GearSpot, running_gear};
pub use limit_bar::{LimitBar, limit_bar};
pub use polar::{Diameter, PolarPlot, StationDiameters, polar_plot};
pub use profile::{ProfilePlot, ProfileStation, profile_plot};
pub use sign::{Verdict, sign_picture};
pub use sketch::{
    GaugingSketch, GaugingStation, MachineSketch, SketchShape, gauging_sketch, machine_sketch,
};
pub use stacked::stacked;
pub use surface::{Bound, LimitSize, Mark, Surface};
pub use svg::Picture;
pub use traverse::{
    DialPoint, OffsetCircle, TraversePlot, TraverseStation, ZoneCircles, traverse_plot,
};
