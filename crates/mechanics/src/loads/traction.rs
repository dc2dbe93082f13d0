//! Tractive effort: by the standard formula, and from the turning moment.

use super::{LoadError, LoadRevolution};
use crate::motion::Bound;
use std::f64::consts::TAU;

const TYRE: Bound = Bound::new("tyre diameter", "m", 0.3, 3.0);

/// Sizes for the standard formula.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandardTractiveEffort {
    /// Cylinders of simple expansion.
    pub cylinders: usize,
    /// Bore, m.
    pub bore_m: f64,
    /// Stroke, m.
    pub stroke_m: f64,
    /// Tyre diameter as it is now, m.
    pub tyre_diameter_m: f64,
    /// Mean effective pressure assumed, Pa: by common practice 0.85 of the boiler's in Britain.
    pub mean_effective_pa: f64,
}

/// Tractive effort by the standard formula, N.
///
/// Equation: `F = n p d² s / (2 D)`: the work of `n` cylinders in a turn, `n p (π d²/4) 2 s`, over
/// the circumference `π D`; for two cylinders the familiar `p d² s / D`. Rods' area, friction and
/// the angle of the cranks are left out. Source: textbook (statics; common practice for the
/// factor on pressure).
/// Units: Pa, m, N.
///
/// # Errors
/// A size not finite or out of range; no cylinder or more than 16.
pub fn standard_tractive_effort_n(sizes: &StandardTractiveEffort) -> Result<f64, LoadError> {
    const BORE: Bound = Bound::new("cylinder bore", "m", 0.01, 3.0);
    const STROKE: Bound = Bound::new("stroke", "m", 0.002, 10.0);
    const MEAN: Bound = Bound::new("mean effective pressure", "Pa", 0.0, 1e8);
    let count = sizes.cylinders;
    if count == 0 || 16 < count {
        return Err(LoadError::Count { what: "cylinders", count, low: 1, high: 16 });
    }
    let bore = BORE.check(sizes.bore_m)?;
    let stroke = STROKE.check(sizes.stroke_m)?;
    let tyre = TYRE.check(sizes.tyre_diameter_m)?;
    let mean = MEAN.check(sizes.mean_effective_pa)?;
    Ok(count as f64 * mean * bore * bore * stroke / (2.0 * tyre))
}

/// Tractive effort at the rim through a revolution.
#[derive(Debug, Clone, PartialEq)]
pub struct TractiveTrace {
    /// Tractive effort of each step, N.
    pub effort_n: Vec<f64>,
    /// Mean, N.
    pub mean_n: f64,
    /// Least, N.
    pub least_n: f64,
    /// Wheel angle of the least, rad: where the engine is hardest to start.
    pub least_at_rad: f64,
    /// Greatest, N: where the wheels slip first.
    pub greatest_n: f64,
    /// Wheel angle of the greatest, rad.
    pub greatest_at_rad: f64,
    /// Work of the turning moment in one turn, J.
    pub work_j: f64,
}

/// Tractive effort from the turning moment of all cylinders.
///
/// Equation: `F = T/(D/2)`; work in a turn `∮ T dψ` by equal steps, which for a smooth periodic
/// curve converges quickly.
/// Units: N·m, m, N, J. Friction of axleboxes and rods is left out.
///
/// # Errors
/// A tyre diameter outside 0.3 to 3 m; loads without a step.
pub fn tractive_trace(
    loads: &LoadRevolution,
    tyre_diameter_m: f64,
) -> Result<TractiveTrace, LoadError> {
    let inv_radius = 2.0 / TYRE.check(tyre_diameter_m)?;
    let effort_n: Vec<f64> = loads.moment_nm.iter().map(|t| t * inv_radius).collect();
    let at = |i: usize| loads.wheel_angle_rad.get(i).copied().unwrap_or(0.0);
    let pick = |better: fn(f64, f64) -> bool| {
        (0..effort_n.len()).reduce(|a, b| if better(effort_n[b], effort_n[a]) { b } else { a })
    };
    let none =
        LoadError::Count { what: "steps of a revolution", count: 0, low: 1, high: 2_000_000 };
    let least = pick(|b, a| b < a).ok_or_else(|| none.clone())?;
    let greatest = pick(|b, a| a < b).ok_or(none)?;
    let n = effort_n.len() as f64;
    Ok(TractiveTrace {
        mean_n: effort_n.iter().sum::<f64>() / n,
        least_n: effort_n[least],
        least_at_rad: at(least),
        greatest_n: effort_n[greatest],
        greatest_at_rad: at(greatest),
        work_j: loads.moment_nm.iter().sum::<f64>() * TAU / n,
        effort_n,
    })
}
