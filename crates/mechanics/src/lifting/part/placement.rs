//! Where a piece sits in its part.

use super::super::error::{LiftingError, Range, check_place};
use nalgebra::{Rotation3, Vector3};

const TURN: Range = Range::new("turn", "rad", -10.0, 10.0);

/// Where a piece sits: turned about the fixed x, then y, then z axis (right-handed), then moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placement {
    /// Where the piece's own datum comes to lie, m.
    pub origin_m: [f64; 3],
    /// Turns about the fixed x, y and z axes, in that order, rad.
    pub turn_rad: [f64; 3],
}

impl Placement {
    /// In its own frame.
    pub const HOME: Self = Self { origin_m: [0.0; 3], turn_rad: [0.0; 3] };

    /// Moved without turning.
    #[must_use]
    pub fn at(origin_m: [f64; 3]) -> Self {
        Self { origin_m, ..Self::HOME }
    }

    pub(super) fn check(&self) -> Result<(Rotation3<f64>, Vector3<f64>), LiftingError> {
        for &angle in &self.turn_rad {
            TURN.check(angle)?;
        }
        let [x, y, z] = self.turn_rad;
        Ok((Rotation3::from_euler_angles(x, y, z), check_place(&self.origin_m)?))
    }
}
