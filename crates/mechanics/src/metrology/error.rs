//! What can be wrong with the figures handed to this module.

use thiserror::Error;

/// A figure or a set of figures that no answer can be computed from.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum MetrologyError {
    /// A figure is NaN or infinite.
    #[error("{what} number {index} is {value}, which is not a finite figure")]
    NotFinite {
        /// What the figure is.
        what: &'static str,
        /// Its place in the list, from 0.
        index: usize,
        /// The figure.
        value: f64,
    },
    /// A figure that must be above zero is not.
    #[error("{what} is {}, it must be above zero", figure(*value, unit))]
    NotPositive {
        /// What the figure is.
        what: &'static str,
        /// The figure.
        value: f64,
        /// Its unit.
        unit: &'static str,
    },
    /// A figure lies outside the range in which the formula holds.
    #[error("{what} is {}, outside {} to {}", figure(*value, unit), figure(*low, ""), figure(*high, unit))]
    OutOfRange {
        /// What the figure is.
        what: &'static str,
        /// The figure.
        value: f64,
        /// Least value taken.
        low: f64,
        /// Greatest value taken.
        high: f64,
        /// Its unit.
        unit: &'static str,
    },
    /// There are fewer figures than the answer needs.
    #[error("{what}: {got} given, at least {need} needed")]
    TooFew {
        /// What is short.
        what: &'static str,
        /// How many are needed.
        need: usize,
        /// How many there are.
        got: usize,
    },
    /// There are more figures than the method takes.
    #[error("{what}: {got} given, at most {limit} taken; thin them out first")]
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// How many are taken at most.
        limit: usize,
        /// How many there are.
        got: usize,
    },
    /// Two lists that belong together differ in length.
    #[error("{what}: {left} of the one and {right} of the other")]
    LengthMismatch {
        /// What the lists are.
        what: &'static str,
        /// Length of the first.
        left: usize,
        /// Length of the second.
        right: usize,
    },
    /// An index points past the end of the list it refers to.
    #[error("{what} {index} does not exist, there are {count}")]
    NoSuch {
        /// What is pointed at.
        what: &'static str,
        /// The index, from 0.
        index: usize,
        /// How many there are.
        count: usize,
    },
    /// The figures leave the answer undetermined.
    #[error("the figures do not determine the answer: {why}")]
    Undetermined {
        /// Why not.
        why: &'static str,
    },
    /// The least is above the greatest.
    #[error("{what}: the least, {}, is above the greatest, {}", figure(*low, ""), figure(*high, ""))]
    Crossed {
        /// What the limits are of.
        what: &'static str,
        /// The least.
        low: f64,
        /// The greatest.
        high: f64,
    },
    /// An iteration stopped before it met its own test.
    #[error("{what} did not converge in {iterations} steps, residual {residual:e}")]
    NotConverged {
        /// Which computation.
        what: &'static str,
        /// Steps taken.
        iterations: usize,
        /// What was left, in the unit of the answer.
        residual: f64,
    },
}

/// A figure with its unit as a person reads it: very large and very small ones by their power of
/// ten, no space after a figure without unit.
pub(crate) fn figure(value: f64, unit: &str) -> String {
    let size = value.abs();
    let plain = size == 0.0 || !value.is_finite() || (1e-6..1e9).contains(&size);
    let text = if plain { value.to_string() } else { format!("{value:e}") };
    if unit.is_empty() { text } else { format!("{text} {unit}") }
}

/// Refuses a list that holds NaN or an infinity.
pub(crate) fn all_finite(what: &'static str, values: &[f64]) -> Result<(), MetrologyError> {
    match values.iter().position(|v| !v.is_finite()) {
        Some(index) => Err(MetrologyError::NotFinite { what, index, value: values[index] }),
        None => Ok(()),
    }
}

/// Refuses NaN, infinity, zero and negative.
pub(crate) fn positive(
    what: &'static str,
    value: f64,
    unit: &'static str,
) -> Result<(), MetrologyError> {
    if value.is_finite() && value > 0.0 {
        Ok(())
    } else {
        Err(MetrologyError::NotPositive { what, value, unit })
    }
}

/// Refuses NaN and anything outside `range` (both ends allowed).
pub(crate) fn within(
    what: &'static str,
    value: f64,
    range: (f64, f64),
    unit: &'static str,
) -> Result<(), MetrologyError> {
    if value >= range.0 && value <= range.1 {
        Ok(())
    } else {
        Err(MetrologyError::OutOfRange { what, value, low: range.0, high: range.1, unit })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn messages_read_like_sentences() {
        let probability = within("confidence", 1.2, (0.5, 0.999_999), "").unwrap_err();
        assert_eq!(probability.to_string(), "confidence is 1.2, outside 0.5 to 0.999999");
        let warm = within("part temperature", 393.15, (-50.0, 300.0), "degC").unwrap_err();
        assert_eq!(warm.to_string(), "part temperature is 393.15 degC, outside -50 to 300 degC");
        let wide = within("half width", -1.0, (0.0, f64::MAX), "").unwrap_err();
        assert_eq!(wide.to_string(), "half width is -1, outside 0 to 1.7976931348623157e308");
        let size = positive("radius", 0.0, "m").unwrap_err();
        assert_eq!(size.to_string(), "radius is 0 m, it must be above zero");
    }
}
