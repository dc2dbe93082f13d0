//! How steep a wedge or cone is.

use super::error::{Range, WedgeError};

const ONE_IN: Range = Range::new("taper, one in", "(ratio)", 0.5, 10_000.0);
const SLOPE: Range = Range::new("slope", "(ratio)", 0.0, 2.0);

/// The slope of one face of a wedge: rise across for each unit along.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Taper {
    slope: f64,
}

impl Taper {
    /// A face that does not slope.
    pub const STRAIGHT: Self = Self { slope: 0.0 };

    /// One in so many.
    ///
    /// # Errors
    ///
    /// [`WedgeError::OutOfRange`] unless 0.5 to 10 000.
    pub fn one_in(n: f64) -> Result<Self, WedgeError> {
        Ok(Self { slope: 1.0 / ONE_IN.check(n)? })
    }

    /// By its slope: 0 for a straight face.
    ///
    /// # Errors
    ///
    /// [`WedgeError::OutOfRange`] unless 0 to 2.
    pub fn from_slope(slope: f64) -> Result<Self, WedgeError> {
        Ok(Self { slope: SLOPE.check(slope)? })
    }

    /// By its angle to the line of driving, rad.
    ///
    /// # Errors
    ///
    /// [`WedgeError::OutOfRange`] unless its slope is 0 to 2.
    pub fn from_angle_rad(angle_rad: f64) -> Result<Self, WedgeError> {
        Self::from_slope(angle_rad.tan())
    }

    /// Rise for each unit along.
    #[must_use]
    pub fn slope(&self) -> f64 {
        self.slope
    }

    /// Angle to the line of driving, rad.
    #[must_use]
    pub fn angle_rad(&self) -> f64 {
        self.slope.atan()
    }

    /// One in how many; infinite for a straight face.
    #[must_use]
    pub fn n(&self) -> f64 {
        1.0 / self.slope
    }
}

/// The taper of a cone or pin, taken on the diameter: one in 8 grows 1 mm in diameter over 8 mm.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct ConeTaper {
    on_diameter: f64,
}

impl ConeTaper {
    /// One in so many on the diameter.
    ///
    /// # Errors
    ///
    /// [`WedgeError::OutOfRange`] unless 0.5 to 10 000.
    pub fn one_in(n: f64) -> Result<Self, WedgeError> {
        Ok(Self { on_diameter: 1.0 / ONE_IN.check(n)? })
    }

    /// The taper between two diameters a distance apart.
    ///
    /// # Errors
    ///
    /// [`WedgeError::OutOfRange`] unless the answer lies between 1 in 0.5 and 1 in 10 000.
    pub fn between(large_m: f64, small_m: f64, apart_m: f64) -> Result<Self, WedgeError> {
        Self::one_in(apart_m / (large_m - small_m))
    }

    /// Growth of diameter for each unit along.
    #[must_use]
    pub fn on_diameter(&self) -> f64 {
        self.on_diameter
    }

    /// One in how many, on the diameter.
    #[must_use]
    pub fn n(&self) -> f64 {
        1.0 / self.on_diameter
    }

    /// Angle of the surface to the axis, rad: half the angle of the cone.
    #[must_use]
    pub fn half_angle_rad(&self) -> f64 {
        (0.5 * self.on_diameter).atan()
    }
}
