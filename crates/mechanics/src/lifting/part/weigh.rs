//! Balance point from weighing on supports.

use super::super::error::{LiftingError, MASS, PLACE, Range, check_count};
use super::Body;
use nalgebra::{Matrix4, Vector4};

const U_PLACE: Range = Range::new("standard uncertainty of a place", "m", 0.0, 10.0);
const U_MASS: Range = Range::new("standard uncertainty of a reading", "kg", 0.0, 1e6);
const READING: Range = Range::new("reading of a support", "kg", 0.0, 1e6);
const TILT: Range = Range::new("tilt", "rad", 0.02, 1.0);

/// What one support showed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SupportReading {
    /// Place of the support in plan, m from the part's datum.
    pub at_m: [f64; 2],
    /// Standard uncertainty of that place on each axis, m.
    pub u_at_m: f64,
    /// What the scale shows, kg, tare taken off.
    pub mass_kg: f64,
    /// Standard uncertainty of the reading, kg.
    pub u_mass_kg: f64,
}

/// What a weighing on supports can tell across the line of two supports.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WeighingAxis {
    /// Supports in one line: the place across it is that of the line, as the part sat there by
    /// itself (only then).
    AlongTheLineOnly,
    /// Supports that span an area: both coordinates.
    Plan,
}

/// Mass and balance point in plan from a weighing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weighing {
    /// Mass and balance point; the height is what was passed in as known, or 0 with its own
    /// uncertainty.
    pub body: Body,
    /// Which coordinates the weighing really gave.
    pub axis: WeighingAxis,
}

/// Balance point from the readings of two or more supports, the part level, supports that push
/// straight up.
///
/// Equation: `m = Σ m_i`, `c = Σ m_i p_i / m`. Weighing says nothing about the height: give it from
/// elsewhere (see [`height_from_tilt`]) as `height_m` with its standard uncertainty.
/// Errors of readings and places are taken as independent: weigh with one scale after the other and
/// its zero error is shared, which this does not know.
///
/// # Errors
/// Fewer than two supports or more than 64; negative readings; all readings zero; places out of
/// range.
///
/// Source: moments about a point (Beer & Johnston, Statics, from memory).
pub fn weigh_on_supports(
    readings: &[SupportReading],
    (height_m, u_height_m): (f64, f64),
) -> Result<Weighing, LiftingError> {
    check_count("supports", readings.len(), (2, 64))?;
    PLACE.check(height_m)?;
    U_PLACE.check(u_height_m)?;
    let mut q = Vector4::zeros();
    let mut covariance = Matrix4::zeros();
    for r in readings {
        let m = READING.check(r.mass_kg)?;
        let (u, u_at) = (U_MASS.check(r.u_mass_kg)?, U_PLACE.check(r.u_at_m)?);
        let (x, y) = (PLACE.check(r.at_m[0])?, PLACE.check(r.at_m[1])?);
        let one = Vector4::new(1.0, x, y, height_m);
        q += one * m;
        covariance += one * one.transpose() * (u * u);
        for axis in [1, 2] {
            covariance[(axis, axis)] += (m * u_at).powi(2);
        }
    }
    covariance[(3, 3)] += (q[0] * u_height_m).powi(2);
    let (across, along) = spread(readings);
    if along < 1e-6 {
        return Err(LiftingError::InLine { what: "supports", spread_m: along });
    }
    let axis =
        if across < 1e-3 * along { WeighingAxis::AlongTheLineOnly } else { WeighingAxis::Plan };
    Ok(Weighing { body: Body::from_moments(q, covariance)?, axis })
}

/// Spread of the supports across and along their longest line, m.
fn spread(readings: &[SupportReading]) -> (f64, f64) {
    let mut longest = (0.0, [0.0, 0.0], [1.0, 0.0]);
    for (i, a) in readings.iter().enumerate() {
        for b in &readings[..i] {
            let d = [b.at_m[0] - a.at_m[0], b.at_m[1] - a.at_m[1]];
            let l = d[0].hypot(d[1]);
            if l > longest.0 {
                longest = (l, a.at_m, [d[0] / l, d[1] / l]);
            }
        }
    }
    let (along, from, u) = longest;
    let across = readings
        .iter()
        .map(|r| (u[0] * (r.at_m[1] - from[1]) - u[1] * (r.at_m[0] - from[0])).abs())
        .fold(0.0, f64::max);
    (across, along)
}

/// What is read when one of two supports is raised.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeightByTilt {
    /// Whole mass, kg.
    pub mass_kg: f64,
    /// Distance of the two supports along the part, m.
    pub apart_m: f64,
    /// Reading of the raised support with the part level, kg.
    pub level_kg: f64,
    /// Its reading with the part tilted, kg.
    pub tilted_kg: f64,
    /// Tilt, rad, 0.02 to 1: the raised end up.
    pub tilt_rad: f64,
    /// Standard uncertainty of each reading, kg.
    pub u_reading_kg: f64,
    /// Standard uncertainty of the tilt, rad.
    pub u_tilt_rad: f64,
}

/// Height of the balance point over the line of the two pivots, and its standard uncertainty, m.
///
/// Own derivation: with pivots at (0, 0) and (L, 0) of the part and balance point (x, z), a tilt θ
/// brings the horizontal distances to `L cos θ` and `x cos θ − z sin θ`, so the raised support
/// carries `W (x − z tan θ) / L`; level it carries `W x / L`. Hence
/// `z = L (level − tilted) / (m tan θ)`, the well-known rule for weighing a vehicle twice. The
/// supports must be free to push straight up only (rollers), or friction takes its share.
///
/// # Errors
/// Tilt below 0.02 or above 1 rad, readings above the mass, sizes not positive.
pub fn height_from_tilt(case: &HeightByTilt) -> Result<(f64, f64), LiftingError> {
    const APART: Range = Range::new("distance of the supports", "m", 1e-3, 100.0);
    const U_TILT: Range = Range::new("standard uncertainty of the tilt", "rad", 0.0, 1.0);
    let m = MASS.check(case.mass_kg)?;
    let l = APART.check(case.apart_m)?;
    let most = Range::new("reading of a support", "kg", 0.0, m);
    let change = most.check(case.level_kg)? - most.check(case.tilted_kg)?;
    let tilt = TILT.check(case.tilt_rad)?;
    let (u, u_tilt) = (U_MASS.check(case.u_reading_kg)?, U_TILT.check(case.u_tilt_rad)?);
    let z = l * change / (m * tilt.tan());
    let by_reading = l * u * 2.0_f64.sqrt() / (m * tilt.tan());
    // dz/dθ = -z / (sin θ cos θ)
    let by_tilt = z * u_tilt / (tilt.sin() * tilt.cos());
    Ok((z, by_reading.hypot(by_tilt)))
}
