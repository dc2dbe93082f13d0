//! Why a drawing could not be made.

/// A drawing that cannot be made honestly.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum DrawingError {
    /// There is nothing to draw.
    #[error("nothing to draw: {what}")]
    Nothing {
        /// What is missing.
        what: &'static str,
    },
    /// A figure that is not a number, or has no end.
    #[error("{what} is not a finite figure: {value}")]
    NotFinite {
        /// Which figure.
        what: &'static str,
        /// The figure.
        value: f64,
    },
    /// A figure outside what can be drawn.
    #[error("{what} {value} is outside {least} to {most} {unit}")]
    OutOfRange {
        /// Which figure.
        what: &'static str,
        /// The figure.
        value: f64,
        /// Least that can be drawn.
        least: f64,
        /// Most that can be drawn.
        most: f64,
        /// Unit of all three.
        unit: &'static str,
    },
}

/// Largest length that is drawn, metres: an engine is shorter.
pub(crate) const LONGEST_M: f64 = 100.0;

/// Lets a length through that can be drawn.
pub(crate) fn length(what: &'static str, value: f64) -> Result<f64, DrawingError> {
    if !value.is_finite() {
        return Err(DrawingError::NotFinite { what, value });
    }
    if value.abs() > LONGEST_M {
        return Err(DrawingError::OutOfRange {
            what,
            value,
            least: -LONGEST_M,
            most: LONGEST_M,
            unit: "m",
        });
    }
    Ok(value)
}

/// Lets a direction through.
pub(crate) fn angle(what: &'static str, value: f64) -> Result<f64, DrawingError> {
    if !value.is_finite() {
        return Err(DrawingError::NotFinite { what, value });
    }
    if value.abs() > 1e4 {
        return Err(DrawingError::OutOfRange { what, value, least: -1e4, most: 1e4, unit: "rad" });
    }
    Ok(value)
}

/// Lets a length through that can be drawn and is not nothing.
pub(crate) fn above_zero(what: &'static str, value: f64) -> Result<f64, DrawingError> {
    if length(what, value)? <= 0.0 {
        return Err(DrawingError::OutOfRange {
            what,
            value,
            least: 0.0,
            most: LONGEST_M,
            unit: "m",
        });
    }
    Ok(value)
}
