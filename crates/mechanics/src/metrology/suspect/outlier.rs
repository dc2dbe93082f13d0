//! One reading far from its fellows.

use super::Strength;
use crate::metrology::MetrologyError;
use crate::metrology::error::{all_finite, within};

/// A reading far from its fellows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outlier {
    /// Index of the reading.
    pub reading: usize,
    /// Its distance from the median over the robust standard deviation, with sign.
    pub score: f64,
    /// The median of the others: what the reading might have been.
    pub meant: f64,
    /// How strongly.
    pub strength: Strength,
}

/// What the test could say.
#[derive(Debug, Clone, PartialEq)]
pub enum OutlierTest {
    /// Tested; the list may be empty. Farthest first.
    Tested(Vec<Outlier>),
    /// Fewer readings than the test can judge: with three or four, one stray reading and one
    /// good one out of two camps look alike.
    TooFewToSay {
        /// Readings needed.
        need: usize,
        /// Readings given.
        got: usize,
    },
}

/// Readings farther from the median than wear and chance explain.
///
/// Equation: robust standard deviation `s = max(1.4826 · median|x − median| · c(n), floor)`; score
/// `(x − median)/s`; found above 3.5, moderate above 5, strong above 8. Source: Iglewicz & Hoaglin,
/// How to Detect and Handle Outliers (ASQC 1993), the 3.5 rule (from memory); 1.4826 makes the
/// median deviation agree with a normal's standard deviation. For small n the median deviation
/// falls short; c(n) = n/(n − 0.8) for n up to 9 makes up for it, Croux & Rousseeuw, Computational
/// Statistics 1 (1992) 411-428 (from memory, their form for larger n).
///
/// `floor`: least standard deviation believed, in the unit of the readings: the gauge's own
/// repeatability or the reading's last digit. Without it, several equal readings would make
/// every other an outlier. It must be above zero.
///
/// # Errors
/// A figure that is not finite, a floor not above zero.
pub fn outliers(readings: &[f64], floor: f64) -> Result<OutlierTest, MetrologyError> {
    const NEED: usize = 5;
    all_finite("reading", readings)?;
    within("least standard deviation", floor, (f64::MIN_POSITIVE, f64::MAX), "")?;
    let n = readings.len();
    if n < NEED {
        return Ok(OutlierTest::TooFewToSay { need: NEED, got: n });
    }
    let middle = median(readings);
    let deviations: Vec<f64> = readings.iter().map(|x| (x - middle).abs()).collect();
    let small_sample = n as f64 / (n as f64 - 0.8);
    let s = (1.4826 * small_sample * median(&deviations)).max(floor);
    let mut found: Vec<Outlier> = readings
        .iter()
        .enumerate()
        .filter_map(|(reading, x)| {
            let score = (x - middle) / s;
            if score.abs() <= 3.5 {
                return None;
            }
            let others: Vec<f64> = readings
                .iter()
                .enumerate()
                .filter(|(i, _)| *i != reading)
                .map(|(_, v)| *v)
                .collect();
            let strength = match score.abs() {
                a if a > 8.0 => Strength::Strong,
                a if a > 5.0 => Strength::Moderate,
                _ => Strength::Weak,
            };
            Some(Outlier { reading, score, meant: median(&others), strength })
        })
        .collect();
    found.sort_by(|a, b| b.score.abs().total_cmp(&a.score.abs()));
    Ok(OutlierTest::Tested(found))
}

/// Median; the mean of the middle two for an even count. The caller sees to at least one value.
pub(super) fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    match sorted.len() {
        0 => f64::NAN,
        n if n % 2 == 1 => sorted[n / 2],
        n => 0.5 * (sorted[n / 2 - 1] + sorted[n / 2]),
    }
}
