//! Roundness: circles through dial traverses, V-block traverses and points, and what lobes there
//! are.
//!
//! - [`roundness`]: the four reference circles of a dial traverse (least squares, minimum zone,
//!   largest inscribed, smallest circumscribed), harmonics, dominant lobing.
//! - [`v_block_roundness`]: the same from a part turned in a V-block, each harmonic corrected for
//!   what the V makes of it, and those it cannot see named.
//! - [`fit_circle`], [`minimum_zone_circle`], [`largest_inscribed_circle`],
//!   [`smallest_circumscribed_circle`]: of points in a plane, without the first-order
//!   approximation of a dial traverse.
//!
//! Sign: a radial departure is positive where there is more radius, for journal and bore alike.

mod algebraic;
mod extreme;
mod harmonics;
mod orthogonal;
mod smallest_circle;
mod traverse;
mod v_block;

pub use algebraic::{gander_golub_strebel_1994, kasa_1976, taubin_1991};
pub use extreme::{
    ZoneCircle, ZoneProof, ZoneSearch, largest_inscribed_circle, minimum_zone_circle,
    prove_minimum_zone,
};
pub use harmonics::{Harmonic, Harmonics, harmonics};
pub use orthogonal::{CircleFit, fit_circle};
pub use smallest_circle::smallest_circumscribed_circle;
pub use traverse::{DialReading, ReferenceCircle, Roundness, roundness};
pub use v_block::{DialPlace, VBlock, VBlockRoundness, v_block_roundness};

use super::MetrologyError;

/// A point in a plane, both coordinates in the same unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// First coordinate, m.
    pub x_m: f64,
    /// Second coordinate, m.
    pub y_m: f64,
}

/// A circle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circle {
    /// Centre, first coordinate.
    pub x_m: f64,
    /// Centre, second coordinate.
    pub y_m: f64,
    /// Radius.
    pub radius_m: f64,
}

impl Circle {
    /// Distance of a point from the centre less the radius: positive outside.
    pub fn departure_m(&self, point: Point) -> f64 {
        (point.x_m - self.x_m).hypot(point.y_m - self.y_m) - self.radius_m
    }

    /// Greatest less least departure of points from the circle.
    pub fn zone_m(&self, points: &[Point]) -> f64 {
        let (mut least, mut greatest) = (f64::INFINITY, f64::NEG_INFINITY);
        for &point in points {
            let departure = self.departure_m(point);
            least = least.min(departure);
            greatest = greatest.max(departure);
        }
        (greatest - least).max(0.0)
    }
}

/// Most points taken by the fits.
const MOST_POINTS: usize = 100_000;

/// Refuses too few, too many or not finite points; gives their mean and their greatest distance
/// from it.
fn survey(points: &[Point], need: usize) -> Result<(Point, f64), MetrologyError> {
    if points.len() < need {
        return Err(MetrologyError::TooFew { what: "points", need, got: points.len() });
    }
    if points.len() > MOST_POINTS {
        return Err(MetrologyError::TooMany {
            what: "points",
            limit: MOST_POINTS,
            got: points.len(),
        });
    }
    for (index, point) in points.iter().enumerate() {
        for value in [point.x_m, point.y_m] {
            // Beyond this, squares of squares leave the range of the number.
            if !value.is_finite() || value.abs() > 1e60 {
                return Err(MetrologyError::NotFinite {
                    what: "coordinate of point",
                    index,
                    value,
                });
            }
        }
    }
    let n = points.len() as f64;
    let x_m: f64 = points.iter().map(|p| p.x_m / n).sum();
    let y_m: f64 = points.iter().map(|p| p.y_m / n).sum();
    let reach = points.iter().map(|p| (p.x_m - x_m).hypot(p.y_m - y_m)).fold(0.0_f64, f64::max);
    if reach == 0.0 {
        return Err(MetrologyError::Undetermined { why: "all points are one point" });
    }
    Ok((Point { x_m, y_m }, reach))
}

#[cfg(test)]
mod tests;
