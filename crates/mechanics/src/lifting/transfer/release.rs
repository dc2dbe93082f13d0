//! The moment the part comes free of its seat.

use super::super::STANDARD_GRAVITY_M_S2;
use super::super::error::{LiftingError, MASS, PLACE, Range};
use super::PartEnd;

/// What decides how the part swings when it comes free.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReleaseInput {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Balance point along the axis, m, positive outwards.
    pub balance_m: f64,
    /// The hook along the axis, m.
    pub hook_m: f64,
    /// Height of the point the part swings about over its balance point, m: the bearing point of a
    /// single sling, the hook of two legs.
    pub pivot_above_m: f64,
    /// The inner and outer ends of the part, m.
    pub ends_m: [f64; 2],
    /// The length still on the seat just before it comes free, m.
    pub last_overlap_m: f64,
}

/// How the part swings when it comes free.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Release {
    /// The end that drops; `None` with the hook over the balance point.
    pub drops: Option<PartEnd>,
    /// The tilt at which it comes to rest, rad.
    pub tilt_rad: f64,
    /// How far each end moves up, inner and outer, m; negative down. At rest, before that it swings
    /// through about twice as much.
    pub ends_rise_m: [f64; 2],
    /// How far the balance point goes sideways if the hook stays, m.
    pub shift_m: f64,
    /// Energy let go as it swings down, J.
    pub energy_j: f64,
    /// Force on each edge of the seat just before it comes free, with the hook carrying the whole
    /// weight, N.
    pub edge_n: f64,
}

/// How the part swings when it comes free with its hook fore or aft of the balance point.
///
/// Own derivation: with the whole weight on the hook at d from the balance point the seat still gives
/// the couple `W d = N s` over the last overlap s; free, the balance point swings under the pivot, e
/// above it: `tan θ = d / e`, dropping by `√(d² + e²) − e`.
///
/// # Errors
/// [`LiftingError::TurnsOver`] where the pivot is not above the balance point; sizes out of range.
pub fn release(input: &ReleaseInput) -> Result<Release, LiftingError> {
    let weight = MASS.check(input.mass_kg)? * STANDARD_GRAVITY_M_S2;
    for place in [input.balance_m, input.hook_m, input.ends_m[0], input.ends_m[1]] {
        PLACE.check(place)?;
    }
    let above = PLACE.check(input.pivot_above_m)?;
    let overlap = Range::new("last overlap", "m", 1e-6, 100.0).check(input.last_overlap_m)?;
    let d = input.balance_m - input.hook_m;
    if above < 1e-6 {
        return Err(LiftingError::TurnsOver { above_m: (-above).max(0.0) });
    }
    let tilt_rad = d.abs().atan2(above);
    // About the pivot: a point at (x, y) from it turns by the tilt, the heavy side down.
    let turn = -tilt_rad * d.signum();
    let ends_rise_m = input.ends_m.map(|end| {
        let (x, y) = (end - input.hook_m, -above);
        x * turn.sin() + y * turn.cos() - y
    });
    let drops = if d > 0.0 {
        Some(PartEnd::Outer)
    } else if d < 0.0 {
        Some(PartEnd::Inner)
    } else {
        None
    };
    Ok(Release {
        drops,
        tilt_rad,
        ends_rise_m,
        shift_m: d.abs(),
        energy_j: weight * (d.hypot(above) - above),
        edge_n: weight * d.abs() / overlap,
    })
}
