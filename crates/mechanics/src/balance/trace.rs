//! Forces left over through a revolution with the pistons' exact accelerations.

use super::effects::over_balance;
use super::{BalanceError, BalanceLayout, WheelPair};
use crate::motion::{CylinderNo, Motion, Running};

/// Forces on the frames through one revolution, one entry a step from wheel angle 0.
#[derive(Debug, Clone, PartialEq)]
pub struct UnbalancedTrace {
    /// Wheel angle, rad.
    pub wheel_angle_rad: Vec<f64>,
    /// Along the road, N, forward positive.
    pub forward_n: Vec<f64>,
    /// Couple about an upright axis, N·m; positive when it turns the front of the engine to the
    /// left.
    pub swaying_nm: Vec<f64>,
    /// Load of all wheels on the rails less the mean, N, from the weights (hammer blow of the
    /// engine); positive when the rails are pressed harder.
    pub rail_n: Vec<f64>,
}

/// Forces of reciprocating masses and weights through a revolution, obliquity of the rods
/// included.
///
/// Equation: piston force on the frames `-m a` along its line with the exact `a` of
/// [`Motion::revolution`]; each wheel's over-balance `V` gives `ω² V` outward. Own derivation.
/// The connecting rod counts as two masses (put in with [`split_rod`](super::split_rod)).
/// Units: N, N·m. Cylinders of layout and motion are the same, in the same order. Of the weights
/// only the centrifugal force counts, not what spinning them up takes.
///
/// # Errors
/// Different numbers of cylinders, throws, lags or inclines that differ by more than 0.01; a value not finite or out of range; steps out of range.
pub fn unbalanced_trace(
    layout: &BalanceLayout,
    fitted: &[WheelPair],
    motion: &Motion,
    running: &Running,
    steps: usize,
) -> Result<UnbalancedTrace, BalanceError> {
    layout.check()?;
    let (count, wanted) = (layout.cylinders.len(), motion.cylinders());
    if count != wanted {
        let what = "cylinders of the layout";
        return Err(BalanceError::Count { what, count, low: wanted, high: wanted });
    }
    for (cylinder, c) in layout.cylinders.iter().enumerate() {
        let line = motion.line(CylinderNo(cylinder))?;
        let pairs = [
            ("crank throw (m)", c.throw_m, line.crank_throw_m),
            ("crank lag (rad)", c.lag_rad, line.crank_lag_rad),
            ("incline (rad)", c.incline_rad, line.incline_rad),
        ];
        for (what, layout, motion) in pairs {
            // Worn throws may differ by a little; another crank does not.
            if 0.01 < (layout - motion).abs() {
                return Err(BalanceError::Differs { what, cylinder, layout, motion });
            }
        }
    }
    let over = over_balance(layout, fitted)?;
    let revolution = motion.revolution(steps, running)?;
    let w2 = running.speed_rad_s * running.speed_rad_s;
    let n = revolution.wheel_angle_rad.len();
    let (mut forward_n, mut swaying_nm) = (vec![0.0; n], vec![0.0; n]);
    let mut rail_n = vec![0.0; n];
    for (c, trace) in layout.cylinders.iter().zip(&revolution.cylinders) {
        let level = c.incline_rad.cos();
        for i in 0..n {
            let force = -c.reciprocating_kg * trace.acceleration_m_s2[i] * level;
            forward_n[i] += force;
            swaying_nm[i] -= force * c.lateral_m;
        }
    }
    for (pair, axle) in over.iter().zip(&layout.axles) {
        for (v, lateral_m) in pair.iter().zip([axle.planes.left_m, axle.planes.right_m]) {
            for (i, angle) in revolution.wheel_angle_rad.iter().enumerate() {
                let (sin, cos) = angle.sin_cos();
                // A mass at lag k stands at a - k: forward part cos(a - k), upward -sin(a - k).
                let force = w2 * (v.c * cos + v.s * sin);
                forward_n[i] += force;
                swaying_nm[i] -= force * lateral_m;
                rail_n[i] += w2 * (v.c * sin - v.s * cos);
            }
        }
    }
    Ok(UnbalancedTrace {
        wheel_angle_rad: revolution.wheel_angle_rad,
        forward_n,
        swaying_nm,
        rail_n,
    })
}
