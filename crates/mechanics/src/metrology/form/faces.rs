//! Distances between two nominally parallel faces: thicknesses, widths, gaps.

use super::readings::MOST_READINGS;
use crate::metrology::error::within;
use crate::metrology::least_squares;
use crate::metrology::{MetrologyError, Missing, Weighted};

/// One distance between the faces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaceReading {
    /// Where on the face it was taken, m, in two directions of the reader's choice; `None` if
    /// nobody wrote it down.
    pub place_m: Option<(f64, f64)>,
    /// The distance, m. A gap may be zero.
    pub distance_m: f64,
}

/// How far the faces are from parallel, as a plane through the readings.
#[derive(Debug, Clone, PartialEq)]
pub struct FacePlane {
    /// Change of the distance along the first direction, m per m.
    pub slope_first: Weighted,
    /// Change of the distance along the second direction, m per m; missing if all places lie on
    /// a line along the first.
    pub slope_second: Option<Weighted>,
    /// Root mean square of what the plane leaves, m; `None` if it fits exactly by count.
    pub residual_sd_m: Option<f64>,
}

/// What a set of distances says of a pair of faces.
#[derive(Debug, Clone, PartialEq)]
pub struct FacesForm {
    /// Mean distance, m.
    pub mean: Weighted,
    /// Index of the largest reading.
    pub largest: usize,
    /// Index of the smallest reading.
    pub smallest: usize,
    /// Largest less smallest reading, m: the out-of-parallel as a workshop writes it.
    pub parallelism: Result<Weighted, Missing>,
    /// The tilt of one face against the other.
    pub plane: Result<FacePlane, Missing>,
}

/// Mean and out-of-parallel of two nominally parallel faces.
///
/// Equations: mean `Σ d / n`; parallelism `d_max − d_min`; plane `d = c + p u + q v` by least
/// squares. Valid for distances 0 to 1000 m. Own derivation.
///
/// # Errors
/// No readings, more than 1000, a figure that is not finite, a negative distance.
pub fn faces_form(readings: &[FaceReading]) -> Result<FacesForm, MetrologyError> {
    if readings.len() > MOST_READINGS {
        return Err(MetrologyError::TooMany {
            what: "distances",
            limit: MOST_READINGS,
            got: readings.len(),
        });
    }
    for reading in readings {
        within("distance", reading.distance_m, (0.0, 1000.0), "m")?;
        if let Some((u, v)) = reading.place_m {
            within("place", u, (-1000.0, 1000.0), "m")?;
            within("place", v, (-1000.0, 1000.0), "m")?;
        }
    }
    let sizes: Vec<f64> = readings.iter().map(|r| r.distance_m).collect();
    let all: Vec<usize> = (0..sizes.len()).collect();
    let mean = Weighted::mean_of(&all, &sizes).ok_or(MetrologyError::TooFew {
        what: "distances",
        need: 1,
        got: 0,
    })?;
    let (mut largest, mut smallest) = (0, 0);
    for i in 1..sizes.len() {
        if sizes[i] > sizes[largest] {
            largest = i;
        }
        if sizes[i] < sizes[smallest] {
            smallest = i;
        }
    }
    Ok(FacesForm {
        mean,
        largest,
        smallest,
        parallelism: if sizes.len() < 2 {
            Err(Missing::Readings { need: 2, got: sizes.len() })
        } else {
            Ok(Weighted::difference(largest, smallest, &sizes))
        },
        plane: plane(readings, &sizes),
    })
}

fn plane(readings: &[FaceReading], sizes: &[f64]) -> Result<FacePlane, Missing> {
    let places: Vec<(f64, f64)> =
        readings.iter().map(|r| r.place_m).collect::<Option<_>>().ok_or(Missing::NoPlaces)?;
    if sizes.len() < 2 {
        return Err(Missing::Readings { need: 2, got: sizes.len() });
    }
    let n = sizes.len() as f64;
    let mean_u = places.iter().map(|p| p.0).sum::<f64>() / n;
    let mean_v = places.iter().map(|p| p.1).sum::<f64>() / n;
    let ones = vec![1.0; sizes.len()];
    let u: Vec<f64> = places.iter().map(|p| p.0 - mean_u).collect();
    let v: Vec<f64> = places.iter().map(|p| p.1 - mean_v).collect();
    let y: Vec<f64> = sizes.iter().map(|d| d - sizes[0]).collect();
    let in_line = places.iter().all(|p| p.1 == places[0].1);
    let solved = if in_line {
        least_squares::solve(&[ones, u], &y)
    } else {
        least_squares::solve(&[ones, u, v], &y)
    }
    .ok_or(Missing::NotSeparable)?;
    let slope = |row: usize| Weighted {
        value: solved.coefficients[row],
        weights: (0..y.len()).map(|i| solved.weights[(row, i)]).collect(),
    };
    let spare = y.len().saturating_sub(solved.coefficients.len());
    Ok(FacePlane {
        slope_first: slope(1),
        slope_second: (!in_line).then(|| slope(2)),
        residual_sd_m: (spare > 0).then(|| (solved.residuals.norm_squared() / spare as f64).sqrt()),
    })
}
