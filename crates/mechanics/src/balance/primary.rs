//! One cylinder by itself: partial balance of its reciprocating mass.

use super::BalanceError;
use crate::motion::Bound;

/// One crank with its masses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SingleCylinder {
    /// Reciprocating mass, kg.
    pub reciprocating_kg: f64,
    /// Turning mass at the crank throw, kg.
    pub rotating_kg: f64,
    /// Crank throw, m.
    pub throw_m: f64,
    /// Share of the reciprocating mass to be balanced, 0 to 1.
    pub reciprocating_balanced: f64,
    /// Radius of the balance weight, m.
    pub weight_radius_m: f64,
    /// Angular speed, rad/s.
    pub speed_rad_s: f64,
}

/// Balance weight and what is left over at one crank angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrimaryResidual {
    /// Balance weight opposite the crank, kg.
    pub weight_kg: f64,
    /// Force along the line of stroke, N, positive towards the cylinder.
    pub along_n: f64,
    /// Force square to it, N, positive towards the side the crank is on.
    pub across_n: f64,
}

impl PrimaryResidual {
    /// Amount of the force, N.
    pub fn amount_n(&self) -> f64 {
        self.along_n.hypot(self.across_n)
    }
}

/// Balance weight of a single crank and the primary force left over at an angle from its dead
/// centre.
///
/// Equation: `B b = (m_rot + c m_rec) r`; along `(1 - c) m_rec r ω² cos f`, across
/// `-c m_rec r ω² sin f` (the weight pulls away from the crank's side).
/// Source: Khurmi & Gupta, *Theory of Machines*, ch. 22; worked value Example 22.1: 240 rev/min,
/// stroke 300 mm, 50 kg and 37 kg, two thirds, weight at 400 mm, 60°: 26.38 kg, 2849 N (the book's
/// ω rounded; 2847 N).
/// Units: kg, m, rad/s, N.
///
/// # Errors
/// A value not finite or out of range.
pub fn single_cylinder_balance(
    cylinder: &SingleCylinder,
    crank_angle_rad: f64,
) -> Result<PrimaryResidual, BalanceError> {
    const MASS: Bound = Bound::new("mass", "kg", 0.0, 2e4);
    const THROW: Bound = Bound::new("crank throw", "m", 1e-3, 5.0);
    const RADIUS: Bound = Bound::new("radius of the balance weight", "m", 1e-3, 3.0);
    const SHARE: Bound = Bound::new("share of the reciprocating mass", "", 0.0, 1.0);
    const SPEED: Bound = Bound::new("angular speed", "rad/s", -1e3, 1e3);
    const ANGLE: Bound = Bound::new("crank angle", "rad", -1e5, 1e5);
    let reciprocating = MASS.check(cylinder.reciprocating_kg)?;
    let rotating = MASS.check(cylinder.rotating_kg)?;
    let throw = THROW.check(cylinder.throw_m)?;
    let share = SHARE.check(cylinder.reciprocating_balanced)?;
    let radius = RADIUS.check(cylinder.weight_radius_m)?;
    let speed = SPEED.check(cylinder.speed_rad_s)?;
    let (sin, cos) = ANGLE.check(crank_angle_rad)?.sin_cos();
    let force = reciprocating * throw * speed * speed;
    Ok(PrimaryResidual {
        weight_kg: (rotating + share * reciprocating) * throw / radius,
        along_n: (1.0 - share) * force * cos,
        across_n: -share * force * sin,
    })
}
