//! Friction, which nobody knows to better than a spread.

use super::error::{Range, WedgeError};

const COEFFICIENT: Range = Range::new("coefficient of friction", "(ratio)", 0.0, 1.5);

/// Low, likely and high coefficient of friction of one pair of faces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Friction {
    low: f64,
    likely: f64,
    high: f64,
}

impl Friction {
    /// A spread.
    ///
    /// # Errors
    ///
    /// [`WedgeError::OutOfRange`] unless each lies in 0 to 1.5; [`WedgeError::FrictionOutOfOrder`]
    /// unless `low <= likely <= high`.
    pub fn new(low: f64, likely: f64, high: f64) -> Result<Self, WedgeError> {
        for coefficient in [low, likely, high] {
            COEFFICIENT.check(coefficient)?;
        }
        if low <= likely && likely <= high {
            Ok(Self { low, likely, high })
        } else {
            Err(WedgeError::FrictionOutOfOrder { low, likely, high })
        }
    }

    /// One figure without a spread.
    ///
    /// # Errors
    ///
    /// As [`Friction::new`].
    pub fn exactly(coefficient: f64) -> Result<Self, WedgeError> {
        Self::new(coefficient, coefficient, coefficient)
    }

    /// Greased steel or bronze on steel in a shop: 0.08, 0.12, 0.18 (common practice; Marks gives
    /// about 0.1 for greased steel, from memory).
    #[must_use]
    pub fn oiled_metal() -> Self {
        Self { low: 0.08, likely: 0.12, high: 0.18 }
    }

    /// The low coefficient.
    #[must_use]
    pub fn low(&self) -> f64 {
        self.low
    }

    /// The likely coefficient.
    #[must_use]
    pub fn likely(&self) -> f64 {
        self.likely
    }

    /// The high coefficient.
    #[must_use]
    pub fn high(&self) -> f64 {
        self.high
    }

    /// Friction angles at low, likely and high friction, rad.
    pub(super) fn angles_rad(&self) -> [f64; 3] {
        [self.low.atan(), self.likely.atan(), self.high.atan()]
    }
}

/// A result at low, likely and high friction, in the unit the function names. The figure at low
/// friction need not be the lowest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// At low friction.
    pub at_low: f64,
    /// At likely friction.
    pub at_likely: f64,
    /// At high friction.
    pub at_high: f64,
}

impl Spread {
    pub(super) fn from_three(values: [f64; 3]) -> Self {
        let [at_low, at_likely, at_high] = values;
        Self { at_low, at_likely, at_high }
    }

    /// The least of the three.
    #[must_use]
    pub fn least(&self) -> f64 {
        self.at_low.min(self.at_likely).min(self.at_high)
    }

    /// The greatest of the three.
    #[must_use]
    pub fn greatest(&self) -> f64 {
        self.at_low.max(self.at_likely).max(self.at_high)
    }
}

/// A row of a handbook's friction table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HandbookFriction {
    /// The pair of metals and their state.
    pub pair: &'static str,
    /// Coefficient at rest, where the book gives one.
    pub at_rest: Option<f64>,
    /// Coefficient when sliding, where the book gives one.
    pub sliding: Option<f64>,
}

/// Marks' Standard Handbook for Mechanical Engineers, table of friction coefficients (from
/// memory, not looked up).
pub const HANDBOOK_FRICTION: [HandbookFriction; 5] = [
    HandbookFriction {
        pair: "hard steel on hard steel, dry",
        at_rest: Some(0.78),
        sliding: Some(0.42),
    },
    HandbookFriction {
        pair: "mild steel on mild steel, dry",
        at_rest: Some(0.74),
        sliding: Some(0.57),
    },
    HandbookFriction {
        pair: "cast iron on cast iron, dry",
        at_rest: Some(1.10),
        sliding: Some(0.15),
    },
    HandbookFriction { pair: "bronze on cast iron, dry", at_rest: None, sliding: Some(0.22) },
    HandbookFriction { pair: "steel on steel, greased", at_rest: Some(0.1), sliding: None },
];
