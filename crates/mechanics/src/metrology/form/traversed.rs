//! The true cylinder that a surface cleans up to, from dial traverses at several stations.

use super::readings::SurfaceKind;
use crate::metrology::error::{positive, within};
use crate::metrology::least_squares;
use crate::metrology::linear_program::{Extreme, extreme_fit};
use crate::metrology::{MetrologyError, Missing};

/// Most dial readings taken together.
const MOST_READINGS: usize = 20_000;

/// One dial reading on a part turned about a fixed axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RadialReading {
    /// Index into the list of stations, from 0.
    pub station: usize,
    /// Direction of the point under the dial, from the part's own mark.
    pub angle_rad: f64,
    /// Departure of the surface from the base radius, m, positive where the radius is larger.
    pub radial_m: f64,
}

/// Dial traverses of one surface, all about the same axis of turning.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TraversedStations<'a> {
    /// Journal or bore.
    pub kind: SurfaceKind,
    /// Radius at which the dial reads zero, m. A dial shows departures only: this comes from
    /// one diameter or a setting master, and its error goes straight into the sizes.
    pub base_radius_m: f64,
    /// Places of the stations along the axis, m.
    pub stations_m: &'a [f64],
    /// The readings.
    pub readings: &'a [RadialReading],
}

/// A straight axis near the axis of turning.
///
/// At axial place `z` its centre lies at `(x + z·slope_x, y + z·slope_y)`, `z` from the origin of
/// the stations, x towards angle 0 and y towards a quarter turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxisLine {
    /// Offset of the axis at `z = 0` towards angle 0.
    pub x_m: f64,
    /// Offset of the axis at `z = 0` towards π/2.
    pub y_m: f64,
    /// Slope of the offset along the axis, m per m.
    pub slope_x: f64,
    /// Slope of the offset along the axis, m per m.
    pub slope_y: f64,
}

/// A true cylinder fitted to the traverses.
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderFit {
    /// Diameter, m. For a zone: its mid-diameter.
    pub diameter_m: f64,
    /// Its axis.
    pub axis: AxisLine,
    /// Greatest less least radial departure of the readings from it, m.
    pub cylindricity_m: f64,
    /// Indices of the readings that fix it; empty for least squares.
    pub touching: Vec<usize>,
}

/// Cylinders fitted to dial traverses.
#[derive(Debug, Clone, PartialEq)]
pub struct TraversedCylinder {
    /// The least-squares cylinder.
    pub least_squares: CylinderFit,
    /// The narrowest zone between two coaxial cylinders that holds all readings; its
    /// `cylindricity_m` is the minimum-zone cylindricity.
    pub minimum_zone: Result<CylinderFit, MetrologyError>,
    /// Clean-up: the largest cylinder inside a journal, the smallest outside a bore, axis free.
    pub clean_up: Result<CylinderFit, MetrologyError>,
    /// The same with the axis held to the axis of turning: what cleans up if the work is
    /// machined between the same centres, m.
    pub clean_up_on_centres_m: f64,
}

/// True cylinders from dial traverses at one or more stations.
///
/// Equations: `δ(θ, z) ≈ ρ + (x + p z) cos θ + (y + q z) sin θ`, the offset taken to first order
/// (error about offset²/(2 radius): 0.0025 mm for 1 mm on 200 mm radius). Least squares of that;
/// minimum zone, largest inscribed and smallest circumscribed as exact linear programs in it.
/// Source: ISO 12180-1:2011 (cylindricity, the four reference cylinders; from memory); own
/// derivation of the programs. With one station the axis stays parallel to the axis of turning.
///
/// Valid for departures below a tenth of the base radius. What lies between the points read is
/// not seen.
///
/// # Errors
/// Fewer readings than unknowns, readings that leave the axis free, figures out of range.
/// `minimum_zone` and `clean_up` carry their own errors.
pub fn traversed_cylinder(
    survey: &TraversedStations<'_>,
) -> Result<TraversedCylinder, MetrologyError> {
    positive("base radius", survey.base_radius_m, "m")?;
    let readings = survey.readings;
    if readings.len() > MOST_READINGS {
        return Err(MetrologyError::TooMany {
            what: "dial readings",
            limit: MOST_READINGS,
            got: readings.len(),
        });
    }
    let tenth = 0.1 * survey.base_radius_m;
    for &station_m in survey.stations_m {
        within("station", station_m, (-1000.0, 1000.0), "m")?;
    }
    for reading in readings {
        if reading.station >= survey.stations_m.len() {
            return Err(MetrologyError::NoSuch {
                what: "station",
                index: reading.station,
                count: survey.stations_m.len(),
            });
        }
        within("angle", reading.angle_rad, (-1e4, 1e4), "rad")?;
        within("dial reading", reading.radial_m, (-tenth, tenth), "m")?;
    }
    let places: Vec<f64> = readings.iter().map(|r| survey.stations_m[r.station]).collect();
    let (low, high) = places
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), z| (lo.min(*z), hi.max(*z)));
    let tilted = high > low;
    let middle = if readings.is_empty() { 0.0 } else { low + 0.5 * (high - low) };
    let basis: Vec<Vec<f64>> = readings
        .iter()
        .zip(&places)
        .map(|(r, z)| {
            let (s, c) = r.angle_rad.sin_cos();
            let mut row = vec![1.0, c, s];
            if tilted {
                row.extend([c * (z - middle), s * (z - middle)]);
            }
            row
        })
        .collect();
    let unknowns = if tilted { 5 } else { 3 };
    if readings.len() < unknowns {
        return Err(MetrologyError::TooFew {
            what: "dial readings",
            need: unknowns,
            got: readings.len(),
        });
    }
    let y: Vec<f64> = readings.iter().map(|r| r.radial_m).collect();
    let columns: Vec<Vec<f64>> =
        (0..unknowns).map(|j| basis.iter().map(|row| row[j]).collect()).collect();
    let solved = least_squares::solve(&columns, &y).ok_or(MetrologyError::Undetermined {
        why: "the stations and angles read leave the axis free",
    })?;
    let describe = |coefficients: &[f64], touching: Vec<usize>| {
        let slope_x = if tilted { coefficients[3] } else { 0.0 };
        let slope_y = if tilted { coefficients[4] } else { 0.0 };
        let (mut least, mut greatest) = (f64::INFINITY, f64::NEG_INFINITY);
        for (row, value) in basis.iter().zip(&y) {
            let left = value - row.iter().zip(coefficients).map(|(a, b)| a * b).sum::<f64>();
            least = least.min(left);
            greatest = greatest.max(left);
        }
        CylinderFit {
            diameter_m: 2.0 * (survey.base_radius_m + coefficients[0]),
            axis: AxisLine {
                x_m: coefficients[1] - slope_x * middle,
                y_m: coefficients[2] - slope_y * middle,
                slope_x,
                slope_y,
            },
            cylindricity_m: greatest - least,
            touching,
        }
    };
    let extreme = |which: Extreme| {
        extreme_fit(which, &basis, &y).map(|fit| {
            let mut touching: Vec<usize> = fit.touching.iter().map(|(i, _)| *i).collect();
            touching.sort_unstable();
            describe(&fit.coefficients[..unknowns], touching)
        })
    };
    let extremes = |start: f64, pick: fn(f64, f64) -> f64| y.iter().copied().fold(start, pick);
    let (inside, on_centres) = match survey.kind {
        SurfaceKind::Journal => (Extreme::LargestBelow, extremes(f64::INFINITY, f64::min)),
        SurfaceKind::Bore => (Extreme::SmallestAbove, extremes(f64::NEG_INFINITY, f64::max)),
    };
    Ok(TraversedCylinder {
        least_squares: describe(solved.coefficients.as_slice(), Vec::new()),
        minimum_zone: extreme(Extreme::NarrowestZone),
        clean_up: extreme(inside),
        clean_up_on_centres_m: 2.0 * (survey.base_radius_m + on_centres),
    })
}

impl TraversedCylinder {
    /// Offset of the least-squares axis at an axial place, m: how far that station runs out of
    /// true with the axis of turning (half the run-out a dial shows).
    ///
    /// # Errors
    /// [`Missing::NoPlaces`] for a place that is not finite.
    pub fn offset_at(&self, axial_m: f64) -> Result<f64, Missing> {
        if !axial_m.is_finite() {
            return Err(Missing::NoPlaces);
        }
        let axis = &self.least_squares.axis;
        Ok((axis.x_m + axis.slope_x * axial_m).hypot(axis.y_m + axis.slope_y * axial_m))
    }
}
