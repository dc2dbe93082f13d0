//! The same diameter read from both sides.

use std::collections::BTreeMap;
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
    // Readings may be many, the places they were taken at are few: what lies opposite is looked for
    // among these.
    let mut places: BTreeMap<(usize, u64), Vec<usize>> = BTreeMap::new();
    for (at, reading) in readings.iter().enumerate() {
        places.entry((reading.station, reading.direction_rad.to_bits())).or_default().push(at);
    }
    let places: Vec<_> = places.into_iter().collect();
    let mut found = Vec::new();
    for here in places.chunk_by(|a, b| a.0.0 == b.0.0) {
        for ((_, from), (_, to)) in here.iter().flat_map(|a| here.iter().map(move |b| (a, b))) {
            let direction = |at: usize| readings[at].direction_rad;
            let apart = (direction(to[0]) - direction(from[0])).rem_euclid(2.0 * PI);
            if (apart - PI).abs() > 0.02 {
                continue;
            }
            // Of two readings the one that was taken first is the first.
            for (&first, &second) in from.iter().flat_map(|a| to.iter().map(move |b| (a, b))) {
                if first < second {
                    found.extend(disagreement(readings, first, second, expected));
                }
            }
        }
    }
    found.sort_by_key(|pair| (pair.first, pair.second));
    found.sort_by(|a, b| b.difference_m.abs().total_cmp(&a.difference_m.abs()));
    Ok(found)
}

fn disagreement(
    readings: &[OpposedReading],
    first: usize,
    second: usize,
    expected: f64,
) -> Option<Opposed> {
    let first_m = readings[first].diameter_m;
    let difference_m = readings[second].diameter_m - first_m;
    let strength = match difference_m.abs() / expected {
        r if r > 5.0 => Strength::Strong,
        r if r > 3.0 => Strength::Moderate,
        r if r > 2.0 => Strength::Weak,
        _ => return None,
    };
    Some(Opposed { first, second, difference_m, meant_m: first_m + 0.5 * difference_m, strength })
}
