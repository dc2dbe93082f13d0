//! Gib and cotter of a strap end, and taper pins.

use std::f64::consts::PI;

use super::error::{Range, WedgeError};
use super::taper::Taper;

const GAP: Range = Range::new("gap in the slot", "m", 0.0, 0.5);
const SIZE: Range = Range::new("size", "m", 1e-4, 3.0);
const LOAD: Range = Range::new("load", "N", 0.0, 1e9);
const TORQUE: Range = Range::new("torque", "N m", 0.0, 1e8);

/// A gib and cotter drawing a strap on to a rod's butt.
///
/// The gib bears on the strap's slot at the side of the rod's body, the cotter on the rod's slot at
/// the far side; the other two sides are the gaps that let the strap move.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GibCotter {
    /// Taper between gib and cotter.
    pub taper: Taper,
    /// Gap between gib and the rod's slot, m.
    pub gap_at_gib_m: f64,
    /// Gap between cotter and the strap's slot, m.
    pub gap_at_cotter_m: f64,
    /// Length of cotter still to be driven, m.
    pub drive_left_m: f64,
}

/// What stops the draw.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GibLimit {
    /// The gib meets the rod's slot.
    GapAtGib,
    /// The cotter meets the strap's slot.
    GapAtCotter,
    /// The cotter is driven to its end.
    CotterHome,
}

/// Draw left in a gib and cotter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GibDraw {
    /// How far the strap can still be drawn on, m.
    pub draw_left_m: f64,
    /// Drive of the cotter that takes, m.
    pub drive_m: f64,
    /// What stops it.
    pub limit: GibLimit,
}

/// How far a gib and cotter can still draw a strap.
///
/// **Equation.** Own derivation: drawn on by `x`, both gaps close by `x` and the cotter goes in by
/// `x n`; the least of the three stops it. **Units.** m.
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the sizes.
pub fn gib_draw(gib: &GibCotter) -> Result<GibDraw, WedgeError> {
    let slope = gib.taper.slope();
    let by_drive = GAP.check(gib.drive_left_m)? * slope;
    let mut least = (by_drive, GibLimit::CotterHome);
    for (gap, limit) in
        [(gib.gap_at_gib_m, GibLimit::GapAtGib), (gib.gap_at_cotter_m, GibLimit::GapAtCotter)]
    {
        if GAP.check(gap)? < least.0 {
            least = (gap, limit);
        }
    }
    let drive_m = if slope > 0.0 { least.0 / slope } else { 0.0 };
    Ok(GibDraw { draw_left_m: least.0, drive_m, limit: least.1 })
}

/// Shear stress in gib and cotter together, Pa: `P / (2 B t)` with `B` both widths (Khurmi &
/// Gupta, A Textbook of Machine Design (2005), ch. 12, from memory).
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the inputs.
pub fn gib_shear_pa(load_n: f64, both_widths_m: f64, thickness_m: f64) -> Result<f64, WedgeError> {
    Ok(LOAD.check(load_n)? / (2.0 * SIZE.check(both_widths_m)? * SIZE.check(thickness_m)?))
}

/// Shear stress in a taper pin across a shaft and its boss, Pa.
///
/// **Equation.** The torque acts as a couple over the shaft's diameter `D` on two planes of the pin:
/// `4 T / (pi d^2 D)`. **Units.** `d` mean diameter of the pin, m. **Source.** Shigley's Mechanical
/// Engineering Design, pins in shear (textbook relation). Where it seats: [`super::cone_stand`]
/// with 1 in 48 or ISO 2339's 1 in 50.
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the inputs.
pub fn pin_shear_pa(torque_n_m: f64, shaft_m: f64, pin_m: f64) -> Result<f64, WedgeError> {
    let pin = SIZE.check(pin_m)?;
    Ok(4.0 * TORQUE.check(torque_n_m)? / (PI * pin * pin * SIZE.check(shaft_m)?))
}
