//! Results that are weighted sums of readings, and why a result may be missing.

use thiserror::Error;

/// A result with its weight on every reading.
///
/// Equation: `value = Σ weights[i] · reading[i]`, one weight per reading in the order given,
/// zero for readings that do not take part. The weights are therefore also the exact first
/// derivatives of the result, JCGM 100:2008 5.1.3, where the choice of readings (which is the
/// largest, for instance) stays the same.
///
/// Unit of a weight: unit of the value per unit of the readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighted {
    /// The result.
    pub value: f64,
    /// Its weight on each reading.
    pub weights: Vec<f64>,
}

impl Weighted {
    /// Standard uncertainty of the result from errors that are independent from reading to
    /// reading, each with standard uncertainty `own_u` (unit of the readings).
    ///
    /// Equation: `u = own_u · √(Σ wᵢ²)`. Source: JCGM 100:2008, equation (10).
    pub fn independent_uncertainty(&self, own_u: f64) -> f64 {
        own_u * self.weights.iter().map(|w| w * w).sum::<f64>().sqrt()
    }

    /// Change of the result when every reading shifts by one unit of the readings, as it does
    /// when the zero of the one gauge used is out: `Σ wᵢ`. One for a size, nothing for an
    /// ovality or a taper.
    pub fn shared_sensitivity(&self) -> f64 {
        self.weights.iter().sum()
    }

    /// `readings[plus] − readings[minus]`.
    pub(crate) fn difference(plus: usize, minus: usize, readings: &[f64]) -> Self {
        let mut weights = vec![0.0; readings.len()];
        weights[plus] += 1.0;
        weights[minus] -= 1.0;
        Self { value: readings[plus] - readings[minus], weights }
    }

    /// The mean of the chosen readings, about their first so that no digits are lost.
    pub(crate) fn mean_of(chosen: &[usize], readings: &[f64]) -> Option<Self> {
        let first = readings[*chosen.first()?];
        let n = chosen.len() as f64;
        let mut weights = vec![0.0; readings.len()];
        for &i in chosen {
            weights[i] += 1.0 / n;
        }
        let value = first + chosen.iter().map(|&i| readings[i] - first).sum::<f64>() / n;
        Some(Self { value, weights })
    }
}

/// Why a result that some sets of readings give is not to be had from this one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum Missing {
    /// Fewer stations were read than the result needs.
    #[error("needs readings at {need} stations or more, there are {got}")]
    Stations {
        /// Stations needed.
        need: usize,
        /// Stations with readings.
        got: usize,
    },
    /// Fewer directions were read than the result needs.
    #[error("needs readings in {need} directions or more, there are {got}")]
    Directions {
        /// Directions needed.
        need: usize,
        /// Distinct directions with readings.
        got: usize,
    },
    /// Fewer readings were taken than the result needs.
    #[error("needs {need} readings or more, there are {got}")]
    Readings {
        /// Readings needed.
        need: usize,
        /// Readings there are.
        got: usize,
    },
    /// Directions were not written down.
    #[error("the directions of the readings were not recorded")]
    NoDirections,
    /// Places were not written down.
    #[error("the places of the readings were not recorded")]
    NoPlaces,
    /// Places or directions lie so that the result cannot be told from another effect.
    #[error("the places read do not separate this result from the others")]
    NotSeparable,
    /// The result is zero where its direction or derivative has no meaning.
    #[error("nothing there: a direction of zero ovality has no meaning")]
    Nothing,
}
