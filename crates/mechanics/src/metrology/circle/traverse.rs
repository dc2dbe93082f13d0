//! The reference circles of a dial traverse.

use super::harmonics::{Harmonics, check, harmonics};
use crate::metrology::MetrologyError;
use crate::metrology::least_squares;
use crate::metrology::linear_program::{Extreme, extreme_fit};

/// One dial reading on a part turned about a fixed axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DialReading {
    /// Direction of the point under the dial, from the part's own mark.
    pub angle_rad: f64,
    /// Radial departure, m, positive where there is more radius.
    pub radial_m: f64,
}

/// A reference circle of a dial traverse.
#[derive(Debug, Clone, PartialEq)]
pub struct ReferenceCircle {
    /// Offset of its centre from the axis of turning towards angle 0, m.
    pub x_m: f64,
    /// Offset of its centre from the axis of turning towards π/2, m.
    pub y_m: f64,
    /// Its radius less the radius at which the dial reads zero, m (mid-radius of a zone).
    pub radial_m: f64,
    /// Greatest less least departure of the readings from it, m.
    pub roundness_m: f64,
    /// Greatest departure outside it, m, zero or more (peak).
    pub peak_m: f64,
    /// Greatest departure inside it, m, zero or more (valley).
    pub valley_m: f64,
    /// Readings that fix it; empty for least squares.
    pub touching: Vec<usize>,
}

impl ReferenceCircle {
    /// Distance of the centre from the axis of turning, m. A dial shows twice this as run-out.
    pub fn eccentricity_m(&self) -> f64 {
        self.x_m.hypot(self.y_m)
    }
}

/// Roundness of a traverse against the four reference circles.
///
/// A circle that the readings do not determine carries its own error; the rest are still given.
#[derive(Debug, Clone, PartialEq)]
pub struct Roundness {
    /// Least-squares circle.
    pub least_squares: Result<ReferenceCircle, MetrologyError>,
    /// Minimum-zone circles.
    pub minimum_zone: Result<ReferenceCircle, MetrologyError>,
    /// Largest inscribed circle.
    pub largest_inscribed: Result<ReferenceCircle, MetrologyError>,
    /// Smallest circumscribed circle.
    pub smallest_circumscribed: Result<ReferenceCircle, MetrologyError>,
    /// Lobes.
    pub harmonics: Result<Harmonics, MetrologyError>,
}

/// Roundness from a dial traverse.
///
/// Equations: departure of reading i from a circle with centre (x, y) and radius ρ, to first order
/// in the offset: `δᵢ − ρ − x cos θᵢ − y sin θᵢ` (error about offset²/(2 radius)). Least squares
/// of that; least range, largest inside and smallest outside as exact linear programs. Source:
/// ISO 12181-1:2011 and ISO 4291:1985 (the four circles; from memory); own derivation of the
/// programs.
///
/// Valid where the offset is small against the radius: a dial shows no radius, so the caller must
/// see to it. At offset 1 % of the radius the error is 0.005 % of the radius.
///
/// # Errors
/// Fewer than three readings, figures out of range. Fewer than four readings, or readings on one
/// side only, leave single circles undetermined: the error is in that circle.
pub fn roundness(readings: &[DialReading]) -> Result<Roundness, MetrologyError> {
    check(readings)?;
    let basis: Vec<Vec<f64>> = readings
        .iter()
        .map(|r| {
            let (s, c) = r.angle_rad.sin_cos();
            vec![1.0, c, s]
        })
        .collect();
    let y: Vec<f64> = readings.iter().map(|r| r.radial_m).collect();
    let describe = |c: &[f64], touching: Vec<usize>| {
        let (mut peak, mut valley) = (0.0_f64, 0.0_f64);
        let (mut least, mut greatest) = (f64::INFINITY, f64::NEG_INFINITY);
        for (row, value) in basis.iter().zip(&y) {
            let departure = value - row.iter().zip(c).map(|(a, b)| a * b).sum::<f64>();
            peak = peak.max(departure);
            valley = valley.max(-departure);
            least = least.min(departure);
            greatest = greatest.max(departure);
        }
        ReferenceCircle {
            radial_m: c[0],
            x_m: c[1],
            y_m: c[2],
            roundness_m: greatest - least,
            peak_m: peak,
            valley_m: valley,
            touching,
        }
    };
    let columns: Vec<Vec<f64>> = (0..3).map(|j| basis.iter().map(|row| row[j]).collect()).collect();
    let least_squares = least_squares::solve(&columns, &y)
        .map(|s| describe(s.coefficients.as_slice(), Vec::new()))
        .ok_or(MetrologyError::Undetermined { why: "the angles read do not fix a centre" });
    let extreme = |which: Extreme, need: usize| {
        if readings.len() < need {
            return Err(MetrologyError::TooFew {
                what: "dial readings",
                need,
                got: readings.len(),
            });
        }
        let fit = extreme_fit(which, &basis, &y)?;
        let mut touching: Vec<usize> = fit.touching.iter().map(|(i, _)| *i).collect();
        touching.sort_unstable();
        Ok(describe(&fit.coefficients, touching))
    };
    Ok(Roundness {
        least_squares,
        minimum_zone: extreme(Extreme::NarrowestZone, 4),
        largest_inscribed: extreme(Extreme::LargestBelow, 3),
        smallest_circumscribed: extreme(Extreme::SmallestAbove, 3),
        harmonics: harmonics(readings, usize::MAX),
    })
}
