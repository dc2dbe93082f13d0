//! What can go wrong when a bearing is judged.

pub(super) use crate::range::{OutOfRange, Range};

use super::film::Convergence;

/// Why a bearing question could not be answered.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BearingError {
    /// A value is not a number, is infinite, or lies outside the range the formula holds for.
    #[error("{what} is {value} {unit}: it must lie between {low} and {high} {unit}")]
    OutOfRange {
        /// The quantity, in words.
        what: &'static str,
        /// The value that was given.
        value: f64,
        /// The least value accepted.
        low: f64,
        /// The greatest value accepted.
        high: f64,
        /// The unit of all three.
        unit: &'static str,
    },
    /// A count (of cells, of map points, of passes) is outside its range.
    #[error("{what} is {value}: it must lie between {low} and {high}")]
    CountOutOfRange {
        /// What is counted.
        what: &'static str,
        /// The count that was given.
        value: usize,
        /// The least count accepted.
        low: usize,
        /// The greatest count accepted.
        high: usize,
    },
    /// The grid across the bearing must have an even number of cells, so that one line of
    /// nodes lies on the middle.
    #[error("{cells} cells across the bearing: give an even number")]
    OddAcross {
        /// The number of cells that was given.
        cells: usize,
    },
    /// The film is so thin beside the grid that the answer would be guesswork.
    #[error(
        "the thinnest part of the film spans {cells:.1} cells, fewer than {least:.1}: \
         use more cells around the journal"
    )]
    GridTooCoarse {
        /// Cells across the thinnest part of the film.
        cells: f64,
        /// The fewest that are accepted.
        least: f64,
    },
    /// The gap widens all along the arc, so that no pressure builds up.
    #[error(
        "no film forms: the gap widens all along the arc, thinnest {thinnest_rad} rad from its start"
    )]
    NoFilm {
        /// Where the thinnest gap lies, rad from the inlet edge.
        thinnest_rad: f64,
    },
    /// Wherever the journal swings round its brass, the film does not push along the load.
    #[error("at eccentricity ratio {eccentricity_ratio} the film never pushes along the load")]
    NoBalance {
        /// The eccentricity ratio that was tried.
        eccentricity_ratio: f64,
    },
    /// The film pressure, or the search around it, did not settle.
    #[error("{what} did not settle: {convergence}")]
    NotConverged {
        /// Which search did not settle.
        what: &'static str,
        /// Where it stood when it gave up.
        convergence: Convergence,
    },
    /// No eccentricity between the limits carries this load.
    #[error(
        "no film carries this load: it asks for a Sommerfeld number of {wanted:.3e}, and the \
         grid can answer for {low:.3e} to {high:.3e}"
    )]
    LoadOutsideFilm {
        /// The Sommerfeld number the load, speed and viscosity ask for.
        wanted: f64,
        /// The Sommerfeld number at the thinnest film that was tried.
        low: f64,
        /// The Sommerfeld number at the thickest film that was tried.
        high: f64,
    },
    /// The two viscosity readings do not make a falling curve.
    #[error(
        "the oil reads {first_pa_s} Pa s at {first_k} K and {second_pa_s} Pa s at {second_k} K: \
         viscosity must fall as the oil warms"
    )]
    ViscosityNotFalling {
        /// Viscosity at the cooler temperature, Pa s.
        first_pa_s: f64,
        /// The cooler temperature, K.
        first_k: f64,
        /// Viscosity at the warmer temperature, Pa s.
        second_pa_s: f64,
        /// The warmer temperature, K.
        second_k: f64,
    },
    /// No running temperature balances the heat made with the heat carried off.
    #[error(
        "no running temperature between {low_k:.1} K and {high_k:.1} K balances the heat: \
         more oil, more cooling surface or less load is wanted"
    )]
    NoHeatBalance {
        /// The coolest temperature that was tried, K.
        low_k: f64,
        /// The hottest temperature that was tried, K.
        high_k: f64,
    },
}

impl BearingError {
    /// What the person at the bench can do about it, where there is something.
    #[must_use]
    pub fn mend(&self) -> Option<&'static str> {
        match self {
            Self::OutOfRange { .. } | Self::CountOutOfRange { .. } => {
                Some("check the figure and its unit")
            }
            Self::OddAcross { .. } => Some("add one cell across the bearing"),
            Self::GridTooCoarse { .. } => Some("ask for more cells around the journal"),
            Self::NoFilm { .. } | Self::NoBalance { .. } => {
                Some("check which way the journal turns and where the load points")
            }
            Self::NotConverged { .. } => Some("allow more passes, or change the grid"),
            Self::LoadOutsideFilm { .. } => {
                Some("check load, speed, clearance and oil; at rest or crawling there is no film")
            }
            Self::ViscosityNotFalling { .. } => Some("check the two points of the oil's sheet"),
            Self::NoHeatBalance { .. } => {
                Some("a bearing that cannot shed its heat has no steady running temperature")
            }
        }
    }
}

impl From<OutOfRange> for BearingError {
    fn from(o: OutOfRange) -> Self {
        let OutOfRange { what, value, low, high, unit } = o;
        Self::OutOfRange { what, value, low, high, unit }
    }
}

/// Refuses a count outside `low..=high`.
pub(super) fn check_count(
    what: &'static str,
    value: usize,
    low: usize,
    high: usize,
) -> Result<usize, BearingError> {
    if (low..=high).contains(&value) {
        Ok(value)
    } else {
        Err(BearingError::CountOutOfRange { what, value, low, high })
    }
}
