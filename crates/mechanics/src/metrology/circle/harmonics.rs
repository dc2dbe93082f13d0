//! Harmonics of a traverse: how many lobes, how high, where.

use std::f64::consts::TAU;

use super::traverse::DialReading;
use crate::metrology::MetrologyError;
use crate::metrology::error::within;
use crate::metrology::least_squares;

/// One harmonic `amplitude · cos(n (θ − peak))`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Harmonic {
    /// Number of lobes n; 1 is eccentricity, not form.
    pub lobes: usize,
    /// Amplitude, m; the harmonic alone makes a roundness of twice this.
    pub amplitude_m: f64,
    /// Direction of a peak, 0 to 2π/n.
    pub peak_rad: f64,
}

/// The harmonics of a traverse.
#[derive(Debug, Clone, PartialEq)]
pub struct Harmonics {
    /// Mean radial departure, m.
    pub mean_m: f64,
    /// Harmonics from 1 up, in order.
    pub list: Vec<Harmonic>,
    /// Root mean square of what they leave, m; zero by count if they fit exactly.
    pub residual_rms_m: f64,
}

impl Harmonics {
    /// The lobing with the greatest amplitude from two lobes up.
    pub fn dominant(&self) -> Option<Harmonic> {
        self.list
            .iter()
            .filter(|h| h.lobes >= 2 && h.amplitude_m > 0.0)
            .copied()
            .max_by(|a, b| a.amplitude_m.total_cmp(&b.amplitude_m))
    }

    /// Amplitude of a lobing, if it was resolved.
    pub fn amplitude_m(&self, lobes: usize) -> Option<f64> {
        self.list.iter().find(|h| h.lobes == lobes).map(|h| h.amplitude_m)
    }
}

/// Most readings in a traverse.
pub(super) const MOST_READINGS: usize = 20_000;
/// Highest lobing worked out; a gauge ball or flat anvil bridges finer ones.
const HIGHEST: usize = 500;
/// The same where the readings are not evenly spread, which takes a matrix.
const HIGHEST_UNEVEN: usize = 50;

/// Harmonics of a traverse up to the lobing its readings resolve, or `highest` if that is less (never
/// more than 500 lobes, 50 if the readings are not evenly spread).
///
/// Equations: evenly spread readings over a whole turn: `a_n = (2/N) Σ δ cos nθ`,
/// `b_n = (2/N) Σ δ sin nθ` for n < N/2; else least squares of the same terms, as many as the
/// number of readings allows. Source: Fourier's series; aliasing limit n < N/2 as in
/// ISO 12181-2:2011 (from memory).
///
/// # Errors
/// Fewer than three readings, figures out of range; readings that do not separate the terms
/// (too close together, a gap too wide): ask for fewer lobes.
pub fn harmonics(readings: &[DialReading], highest: usize) -> Result<Harmonics, MetrologyError> {
    check(readings)?;
    let n = readings.len();
    let highest = highest.min((n - 1) / 2).min(HIGHEST);
    let first = readings[0].radial_m;
    let y: Vec<f64> = readings.iter().map(|r| r.radial_m - first).collect();
    let (mean, pairs) = if evenly_spread(readings) {
        let mean = y.iter().sum::<f64>() / n as f64;
        let pairs = (1..=highest)
            .map(|order| {
                let (mut a, mut b) = (0.0, 0.0);
                for (reading, value) in readings.iter().zip(&y) {
                    let (s, c) = (order as f64 * reading.angle_rad).sin_cos();
                    a += (value - mean) * c;
                    b += (value - mean) * s;
                }
                (2.0 * a / n as f64, 2.0 * b / n as f64)
            })
            .collect::<Vec<_>>();
        (mean, pairs)
    } else {
        let highest = highest.min(HIGHEST_UNEVEN);
        let mut columns = vec![vec![1.0; n]];
        for order in 1..=highest {
            let turn = |r: &DialReading| order as f64 * r.angle_rad;
            columns.push(readings.iter().map(|r| turn(r).cos()).collect());
            columns.push(readings.iter().map(|r| turn(r).sin()).collect());
        }
        let solved = least_squares::solve(&columns, &y).ok_or(MetrologyError::Undetermined {
            why: "the angles read do not separate so many lobes",
        })?;
        let c = &solved.coefficients;
        (c[0], (0..highest).map(|i| (c[2 * i + 1], c[2 * i + 2])).collect())
    };
    let mut square = 0.0;
    for (reading, value) in readings.iter().zip(&y) {
        let mut left = value - mean;
        for (i, (a, b)) in pairs.iter().enumerate() {
            let (s, c) = ((i + 1) as f64 * reading.angle_rad).sin_cos();
            left -= a * c + b * s;
        }
        square += left * left;
    }
    let list = pairs
        .iter()
        .enumerate()
        .map(|(i, (a, b))| {
            let lobes = i + 1;
            let pitch = TAU / lobes as f64;
            Harmonic {
                lobes,
                amplitude_m: a.hypot(*b),
                peak_rad: (b.atan2(*a) / lobes as f64).rem_euclid(pitch),
            }
        })
        .collect();
    Ok(Harmonics { mean_m: first + mean, list, residual_rms_m: (square / n as f64).sqrt() })
}

pub(super) fn check(readings: &[DialReading]) -> Result<(), MetrologyError> {
    if readings.len() < 3 {
        return Err(MetrologyError::TooFew { what: "dial readings", need: 3, got: readings.len() });
    }
    if readings.len() > MOST_READINGS {
        return Err(MetrologyError::TooMany {
            what: "dial readings",
            limit: MOST_READINGS,
            got: readings.len(),
        });
    }
    for reading in readings {
        within("angle", reading.angle_rad, (-1e4, 1e4), "rad")?;
        within("dial reading", reading.radial_m, (-10.0, 10.0), "m")?;
    }
    Ok(())
}

/// Whether the angles, in whatever order, divide the turn into equal parts, to a millionth of
/// a part (angles typed to 0.1 degree that are meant even are even to far better than that).
fn evenly_spread(readings: &[DialReading]) -> bool {
    let n = readings.len();
    let pitch = TAU / n as f64;
    let first = readings[0].angle_rad;
    let mut seen = vec![false; n];
    for reading in readings {
        let steps = (reading.angle_rad - first).rem_euclid(TAU) / pitch;
        let nearest = steps.round();
        if (steps - nearest).abs() > 1e-6 {
            return false;
        }
        let slot = nearest as usize % n;
        if seen[slot] {
            return false;
        }
        seen[slot] = true;
    }
    true
}
