//! Wheel angles: one angle for the whole engine.

use super::bounds::ANGLE;
use super::{Bound, MotionError};
use std::f64::consts::TAU;

/// Angle of the driving wheels, growing in forward rotation; see the [module](super) for where
/// it is counted from.
///
/// A type of its own because crank angles differ from it by lag and incline.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct WheelAngle(f64);

impl WheelAngle {
    /// The crank of lag zero points straight forward.
    pub const ZERO: Self = Self(0.0);

    /// From radians.
    ///
    /// # Errors
    /// Not finite, or beyond ±1e5 rad.
    pub fn from_rad(wheel_angle_rad: f64) -> Result<Self, MotionError> {
        const WHEEL: Bound = Bound { what: "wheel angle", ..ANGLE };
        Ok(Self(WHEEL.check(wheel_angle_rad)?))
    }

    /// From degrees.
    ///
    /// # Errors
    /// As [`WheelAngle::from_rad`].
    pub fn from_deg(wheel_angle_deg: f64) -> Result<Self, MotionError> {
        Self::from_rad(wheel_angle_deg.to_radians())
    }

    /// In radians, as given (not folded into one turn).
    pub fn rad(self) -> f64 {
        self.0
    }

    /// In degrees, as given.
    pub fn deg(self) -> f64 {
        self.0.to_degrees()
    }

    /// Folded into `0 <= angle < 2π`.
    pub fn folded(self) -> Self {
        Self(fold_turn(self.0))
    }

    pub(crate) fn unchecked(wheel_angle_rad: f64) -> Self {
        Self(wheel_angle_rad)
    }
}

/// Fold an angle into `0 <= angle < 2π`. The remainder of a tiny negative number rounds to 2π
/// itself, hence the second step.
pub(crate) fn fold_turn(angle_rad: f64) -> f64 {
    let folded = angle_rad.rem_euclid(TAU);
    if folded < TAU { folded } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folding_keeps_the_half_open_ends() {
        assert_eq!(fold_turn(TAU), 0.0);
        assert_eq!(fold_turn(-1e-300), 0.0);
        assert!((fold_turn(-0.5) - (TAU - 0.5)).abs() < 1e-15);
        assert!(WheelAngle::from_rad(f64::NAN).is_err());
        assert!(WheelAngle::from_deg(1e9).is_err());
    }
}
