//! Forces the driving axle puts on its two boxes.

use super::LoadError;
use crate::motion::Bound;

/// A force on the axle in one plane across the engine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlaneForce {
    /// Plane, m to the left of the engine's middle.
    pub lateral_m: f64,
    /// Forward, N.
    pub x_n: f64,
    /// Upward, N.
    pub z_n: f64,
}

/// Forces of the axle on its boxes, N.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BoxReactions {
    /// On the left box, forward.
    pub left_x_n: f64,
    /// On the left box, upward.
    pub left_z_n: f64,
    /// On the right box, forward.
    pub right_x_n: f64,
    /// On the right box, upward.
    pub right_z_n: f64,
}

/// Forces of a stiff axle on two boxes from all other forces on it: crank pins (turn the pin
/// force into the engine frame), coupling rods, the rail, its own weight and inertia.
///
/// Equation: `left = Σ F (1/2 + y/B)`, `right = Σ F (1/2 - y/B)` (statics of a beam on two
/// supports).
/// Units: m, N.
///
/// # Errors
/// Box centres outside 0.2 to 4 m; a force or plane not finite or out of range; more than 10 000
/// forces.
pub fn axlebox_reactions(
    forces: &[PlaneForce],
    box_centres_m: f64,
) -> Result<BoxReactions, LoadError> {
    const BOXES: Bound = Bound::new("distance between axleboxes", "m", 0.2, 4.0);
    const PLANE: Bound = Bound::new("distance to the left of the engine's middle", "m", -3.0, 3.0);
    const FORCE: Bound = Bound::new("force on the axle", "N", -1e8, 1e8);
    if 10_000 < forces.len() {
        return Err(LoadError::Count {
            what: "forces on the axle",
            count: forces.len(),
            low: 0,
            high: 10_000,
        });
    }
    let boxes = BOXES.check(box_centres_m)?;
    let mut sum = BoxReactions { left_x_n: 0.0, left_z_n: 0.0, right_x_n: 0.0, right_z_n: 0.0 };
    for f in forces {
        let left = 0.5 + PLANE.check(f.lateral_m)? / boxes;
        let (x, z) = (FORCE.check(f.x_n)?, FORCE.check(f.z_n)?);
        sum.left_x_n += x * left;
        sum.left_z_n += z * left;
        sum.right_x_n += x * (1.0 - left);
        sum.right_z_n += z * (1.0 - left);
    }
    Ok(sum)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn forces_and_moments_balance() -> Result<(), LoadError> {
        let forces = [
            PlaneForce { lateral_m: 0.3, x_n: 100e3, z_n: -5e3 },
            PlaneForce { lateral_m: -0.35, x_n: -60e3, z_n: 2e3 },
            PlaneForce { lateral_m: 0.9, x_n: 10e3, z_n: 0.0 },
        ];
        let r = axlebox_reactions(&forces, 1.1)?;
        assert!((r.left_x_n + r.right_x_n - 50e3).abs() < 1e-9);
        let moment: f64 = forces.iter().map(|f| f.x_n * f.lateral_m).sum();
        assert!((0.55 * (r.left_x_n - r.right_x_n) - moment).abs() < 1e-9);
        assert!(axlebox_reactions(&forces, 0.0).is_err());
        Ok(())
    }
}
