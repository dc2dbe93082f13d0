//! How to set the hook so that the part leaves its seat without a jerk.

use super::super::error::{FORCE, LiftingError, Range};
use super::Transfer;

/// What still counts as smooth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SmoothLimit {
    /// The most force along the axis that should be needed, N.
    pub most_pull_n: f64,
    /// The length on the seat down to which that should hold, m.
    pub last_overlap_m: f64,
    /// The most tilt when it comes free, rad.
    pub most_tilt_rad: f64,
    /// Height of the point the part swings about over its balance point, m.
    pub pivot_above_m: f64,
}

/// Where the hook belongs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SmoothHook {
    /// The place of the hook along the axis before the part moves, m: over the balance point.
    pub at_m: f64,
    /// The pull to set, N: the weight, so that the seat carries nothing.
    pub tension_n: f64,
    /// How far the hook may be out along the axis, m.
    pub out_by_m: f64,
    /// How far the pull may be out with the hook in place, N.
    pub tension_out_by_n: f64,
}

/// The setting at which nothing moves when the part comes free, and how far from it is still good.
///
/// Own derivation: with `T = W` and the hook d out, the edges carry `± W d / s`, so drawing takes
/// `2 μ W d cos α / s`; at release the tilt is `atan(d / e)`. Both bound d (μ the high friction). A
/// pull wrong by ΔT over the balance point leaves the seat ΔT to carry or hold: `μ ΔT cos α` to
/// draw, over the balance point alone. The weight along a slope is not friction and is left out.
///
/// # Errors
/// Sizes out of range; friction of zero gives no bound by the pull, then the tilt alone decides.
pub fn smooth_hook(transfer: &Transfer, limit: &SmoothLimit) -> Result<SmoothHook, LiftingError> {
    transfer.check()?;
    let pull = FORCE.check(limit.most_pull_n)?;
    let overlap = Range::new("last overlap", "m", 1e-6, 100.0).check(limit.last_overlap_m)?;
    let tilt = Range::new("most tilt", "rad", 0.0, 1.5).check(limit.most_tilt_rad)?;
    let above = Range::new("pivot over balance point", "m", 1e-6, 100.0);
    let above = above.check(limit.pivot_above_m)?;
    let weight = transfer.weight_n();
    let rub = transfer.friction.high() * transfer.incline_rad.cos();
    let by_tilt = above * tilt.tan();
    let (by_pull, tension_out_by_n) = if rub > 0.0 {
        (pull * overlap / (2.0 * rub * weight), (pull / rub).min(weight))
    } else {
        (f64::INFINITY, weight)
    };
    Ok(SmoothHook {
        at_m: transfer.balance_m,
        tension_n: weight,
        out_by_m: by_tilt.min(by_pull),
        tension_out_by_n,
    })
}
