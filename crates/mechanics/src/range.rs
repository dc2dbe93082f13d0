//! A quantity that may only lie in a range: name, unit and both ends in one place, for every module
//! whose error says the same of it.

/// A value outside its range; each module's error takes it over with `From`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct OutOfRange {
    /// The quantity, in words.
    pub(crate) what: &'static str,
    /// The value that was given.
    pub(crate) value: f64,
    /// The least value accepted.
    pub(crate) low: f64,
    /// The greatest value accepted.
    pub(crate) high: f64,
    /// The unit of all three.
    pub(crate) unit: &'static str,
}

/// The range of a quantity.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Range {
    pub(crate) what: &'static str,
    pub(crate) unit: &'static str,
    pub(crate) low: f64,
    pub(crate) high: f64,
}

impl Range {
    pub(crate) const fn new(what: &'static str, unit: &'static str, low: f64, high: f64) -> Self {
        Self { what, unit, low, high }
    }

    /// The value itself when it lies in the range; NaN and infinity never do.
    pub(crate) fn check(&self, value: f64) -> Result<f64, OutOfRange> {
        if value >= self.low && value <= self.high {
            Ok(value)
        } else {
            let Self { what, unit, low, high } = *self;
            Err(OutOfRange { what, value, low, high, unit })
        }
    }
}
