//! Weights in the planes of two wheels that balance any set of turning masses.

use super::BalanceError;
use crate::motion::Bound;

const MASS_LIMIT: usize = 1000;
pub(crate) const LAG: Bound = Bound::new("lag", "rad", -1e5, 1e5);
pub(crate) const PLANE: Bound =
    Bound::new("distance to the left of the engine's middle", "m", -3.0, 3.0);
pub(crate) const RADIUS: Bound = Bound::new("radius", "m", 0.0, 3.0);

/// A mass that turns with the axle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RotatingMass {
    /// Mass, kg; negative for a mass taken away.
    pub mass_kg: f64,
    /// Radius of its centre, m.
    pub radius_m: f64,
    /// Lag behind the crank of lag zero, rad.
    pub lag_rad: f64,
    /// Plane, m to the left of the engine's middle.
    pub lateral_m: f64,
}

/// Planes of the balance weights, m to the left of the engine's middle (the right one negative).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Planes {
    /// Left wheel.
    pub left_m: f64,
    /// Right wheel.
    pub right_m: f64,
}

/// A balance weight as the product of mass and radius, and where it sits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BalanceWeight {
    /// Mass times radius, kg·m, never negative.
    pub mass_radius_kg_m: f64,
    /// Lag behind the crank of lag zero, rad, `-π..π`; of no meaning for a weight of nothing.
    pub lag_rad: f64,
}

impl BalanceWeight {
    /// Mass at a radius, kg; `None` for a radius not above zero.
    pub fn mass_kg(&self, radius_m: f64) -> Option<f64> {
        (radius_m.is_finite() && 0.0 < radius_m).then(|| self.mass_radius_kg_m / radius_m)
    }

    pub(crate) fn vector(&self) -> Vector {
        let (sin, cos) = self.lag_rad.sin_cos();
        Vector { c: self.mass_radius_kg_m * cos, s: self.mass_radius_kg_m * sin }
    }

    pub(crate) fn check(&self) -> Result<(), BalanceError> {
        const PRODUCT: Bound = Bound::new("mass times radius", "kg·m", 0.0, 1e5);
        PRODUCT.check(self.mass_radius_kg_m)?;
        LAG.check(self.lag_rad)?;
        Ok(())
    }
}

/// Something for the left and the right wheel of one axle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelPair {
    /// Left wheel.
    pub left: BalanceWeight,
    /// Right wheel.
    pub right: BalanceWeight,
}

/// Mass times radius as a vector that turns with the axle, kg·m.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Vector {
    pub(crate) c: f64,
    pub(crate) s: f64,
}

impl Vector {
    pub(crate) fn new(mass_radius_kg_m: f64, lag_rad: f64) -> Self {
        let (sin, cos) = lag_rad.sin_cos();
        Self { c: mass_radius_kg_m * cos, s: mass_radius_kg_m * sin }
    }

    pub(crate) fn plus(self, other: Self, share: f64) -> Self {
        Self { c: self.c + share * other.c, s: self.s + share * other.s }
    }

    pub(crate) fn amount(self) -> f64 {
        self.c.hypot(self.s)
    }

    pub(crate) fn weight(self) -> BalanceWeight {
        BalanceWeight { mass_radius_kg_m: self.amount(), lag_rad: self.s.atan2(self.c) }
    }
}

impl Planes {
    pub(crate) fn check(&self) -> Result<(), BalanceError> {
        const LEAST: f64 = 0.1;
        let (left_m, right_m) = (PLANE.check(self.left_m)?, PLANE.check(self.right_m)?);
        if left_m - right_m < LEAST {
            return Err(BalanceError::Planes { left_m, right_m, least_m: LEAST });
        }
        Ok(())
    }

    /// Sums of masses times radius, shared between left and right by the law of the lever.
    pub(crate) fn share(
        &self,
        masses: impl IntoIterator<Item = RotatingMass>,
    ) -> Result<[Vector; 2], BalanceError> {
        const MASS: Bound = Bound::new("turning mass", "kg", -2e4, 2e4);
        self.check()?;
        let span = self.left_m - self.right_m;
        let mut sums = [Vector::default(); 2];
        for m in masses {
            let v = Vector::new(
                MASS.check(m.mass_kg)? * RADIUS.check(m.radius_m)?,
                LAG.check(m.lag_rad)?,
            );
            let left = (PLANE.check(m.lateral_m)? - self.right_m) / span;
            sums[0] = sums[0].plus(v, left);
            sums[1] = sums[1].plus(v, 1.0 - left);
        }
        Ok(sums)
    }
}

pub(crate) fn opposite(sums: [Vector; 2]) -> WheelPair {
    let against = |v: Vector| Vector { c: -v.c, s: -v.s }.weight();
    WheelPair { left: against(sums[0]), right: against(sums[1]) }
}

/// Weights in two planes that balance a set of turning masses, force and couple.
///
/// Equation: `left = -Σ m r (y - yR)/(yL - yR)`, `right = -Σ m r (yL - y)/(yL - yR)` as vectors
/// (W. E. Dalby, *The Balancing of Engines*, 1902; from memory).
/// Units: kg, m, rad, kg·m. Worked value: reference case SC-10, 105.3 kg at 0.6 m on each wheel.
///
/// # Errors
/// A value not finite or out of range; planes less than 0.1 m apart; more than 1000 masses.
pub fn two_plane_balance(
    masses: &[RotatingMass],
    planes: Planes,
) -> Result<WheelPair, BalanceError> {
    if MASS_LIMIT < masses.len() {
        return Err(BalanceError::Count {
            what: "turning masses",
            count: masses.len(),
            low: 0,
            high: MASS_LIMIT,
        });
    }
    Ok(opposite(planes.share(masses.iter().copied())?))
}
