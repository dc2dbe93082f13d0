//! Drawings of the motion: side view and end view at a position of the wheels, piston position and
//! velocity, piston clearance near the dead centres, the polar diagram of a crank pin, and turning
//! moment or forces against the wheel angle.
//!
//! Every function gives one whole SVG 1.1 picture as text. Plain attributes only (no style sheets,
//! classes or scripts), so that page and paper show the same. The view is from the right-hand side
//! of the engine unless said otherwise: the front is to the right, forward rotation is clockwise.
//! Lines are told apart by dashes and labels, never by colour alone.

mod axes;
mod body;
mod clearance_plot;
mod end_view;
mod error;
mod load_plot;
mod piston_plot;
mod polar_plot;
mod side_view;
mod style;
mod svg;
#[cfg(test)]
mod tests;

pub use body::CylinderBody;
pub use clearance_plot::clearance_plot;
pub use end_view::{EndViewSizes, end_view};
pub use error::DrawingError;
pub use load_plot::{LoadCurve, LoadPlot, PlottedLoad, load_plot};
pub use piston_plot::piston_plot;
pub use polar_plot::polar_plot;
pub use side_view::{SideView, side_view};
pub use style::{DrawingStyle, DrawnUnits};
