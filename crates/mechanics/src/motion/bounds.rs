//! Limits of physical inputs, each written down once: name, unit, least and greatest value.

/// An input that is not a number or lies outside what the formula was made for.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BoundError {
    /// NaN or infinity.
    #[error("{what} is {value}, which is not a finite number of {unit}")]
    NotFinite {
        /// The quantity, in words.
        what: &'static str,
        /// The value given.
        value: f64,
        /// Its unit.
        unit: &'static str,
    },
    /// A finite value outside the range.
    #[error("{what} {value} {unit} is outside {low} to {high} {unit}; check the unit of the entry")]
    Outside {
        /// The quantity, in words.
        what: &'static str,
        /// The value given.
        value: f64,
        /// Least value allowed.
        low: f64,
        /// Greatest value allowed.
        high: f64,
        /// Unit of all three.
        unit: &'static str,
    },
}

/// Range of one physical input, both ends included.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bound {
    /// The quantity, in words.
    pub what: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// Least value allowed.
    pub low: f64,
    /// Greatest value allowed.
    pub high: f64,
}

impl Bound {
    /// A range; `what` names the quantity the way an error message will.
    pub const fn new(what: &'static str, unit: &'static str, low: f64, high: f64) -> Self {
        Self { what, unit, low, high }
    }

    /// The value itself when it is finite and inside the range.
    ///
    /// # Errors
    /// [`BoundError::NotFinite`] for NaN and infinities, [`BoundError::Outside`] when
    /// `value < low` or `value > high`.
    pub fn check(&self, value: f64) -> Result<f64, BoundError> {
        let Self { what, unit, low, high } = *self;
        if !value.is_finite() {
            return Err(BoundError::NotFinite { what, value, unit });
        }
        if value < low || high < value {
            return Err(BoundError::Outside { what, value, low, high, unit });
        }
        Ok(value)
    }

    /// The value itself when it is finite, above zero and not above the upper end: for divisors.
    ///
    /// # Errors
    /// As [`Bound::check`], and [`BoundError::Outside`] when `value <= 0`.
    pub fn check_above_zero(&self, value: f64) -> Result<f64, BoundError> {
        let value = self.check(value)?;
        if value <= 0.0 {
            let Self { what, unit, low, high } = *self;
            return Err(BoundError::Outside { what, value, low, high, unit });
        }
        Ok(value)
    }
}

/// Angles: far beyond any use, but near enough that sine and cosine keep ten digits.
pub(crate) const ANGLE: Bound = Bound::new("angle", "rad", -1e5, 1e5);
/// Crank throw.
pub(crate) const CRANK_THROW: Bound = Bound::new("crank throw", "m", 1e-3, 5.0);
/// Rod centres; the upper end leaves room to compare with a rod of no obliquity.
pub(crate) const ROD_CENTRES: Bound = Bound::new("rod centres", "m", 2e-3, 1e5);
/// Offset of a cylinder line from the axle centre.
pub(crate) const OFFSET: Bound = Bound::new("offset of the cylinder line", "m", -5.0, 5.0);
/// Incline of a cylinder line.
pub(crate) const INCLINE: Bound = Bound::new("incline of the cylinder line", "rad", -1.4, 1.4);
/// Distance from the middle of the engine.
pub(crate) const LATERAL: Bound =
    Bound::new("distance to the left of the engine's middle", "m", -3.0, 3.0);
/// Movement of an axle away from its drawing position.
pub(crate) const AXLE_SHIFT: Bound = Bound::new("movement of the axle", "m", -0.5, 0.5);
/// Angular speed.
pub(crate) const SPEED: Bound = Bound::new("angular speed", "rad/s", -1e3, 1e3);
/// Angular acceleration.
pub(crate) const ANGULAR_ACCELERATION: Bound =
    Bound::new("angular acceleration", "rad/s²", -1e4, 1e4);
