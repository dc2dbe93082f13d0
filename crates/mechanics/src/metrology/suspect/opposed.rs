//! The same diameter read from both sides.

use std::f64::consts::PI;

use super::Strength;
use crate::metrology::MetrologyError;
use crate::metrology::error::{positive, within};

/// One diameter reading with its direction over the whole turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpposedReading {
    /// Station number.
    pub station: usize,
    /// Direction as written, not folded: θ and θ + π are the same diameter.
    pub direction_rad: f64,
    /// The diameter, m.
    pub diameter_m: f64,
}

/// Two readings of one diameter that do not agree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Opposed {
    /// Index of the one reading.
    pub first: usize,
    /// Index of the other.
    pub second: usize,
    /// Second less first, m.
    pub difference_m: f64,
    /// Their mean, m: the best figure if neither is known to be wrong.
    pub meant_m: f64,
    /// How strongly.
    pub strength: Strength,
}

/// Pairs of readings at one station, half a turn apart, that differ by more than repeats of one
/// diameter should.
///
/// Equation: the difference of two repeats has standard deviation `√2 · repeatability`; found
/// above 2 of those, moderate above 3, strong above 5. Common practice; own derivation.
///
/// # Errors
/// A figure that is not finite, a repeatability not above zero.
pub fn opposed_disagreements(
    readings: &[OpposedReading],
    repeatability_m: f64,
) -> Result<Vec<Opposed>, MetrologyError> {
    positive("repeatability", repeatability_m, "m")?;
    for reading in readings {
        within("direction", reading.direction_rad, (-1e3, 1e3), "rad")?;
        within("diameter", reading.diameter_m, (-1000.0, 1000.0), "m")?;
    }
    let expected = std::f64::consts::SQRT_2 * repeatability_m;
    let mut found = Vec::new();
    for (first, a) in readings.iter().enumerate() {
        for (second, b) in readings.iter().enumerate().skip(first + 1) {
            let apart = (b.direction_rad - a.direction_rad).rem_euclid(2.0 * PI);
            if a.station != b.station || (apart - PI).abs() > 0.02 {
                continue;
            }
            let difference_m = b.diameter_m - a.diameter_m;
            let strength = match difference_m.abs() / expected {
                r if r > 5.0 => Strength::Strong,
                r if r > 3.0 => Strength::Moderate,
                r if r > 2.0 => Strength::Weak,
                _ => continue,
            };
            let meant_m = a.diameter_m + 0.5 * difference_m;
            found.push(Opposed { first, second, difference_m, meant_m, strength });
        }
    }
    found.sort_by(|a, b| b.difference_m.abs().total_cmp(&a.difference_m.abs()));
    Ok(found)
}
