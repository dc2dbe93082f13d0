//! One part on two hooks.

use super::super::error::{LiftingError, Range, check_place};
use super::super::{Body, STANDARD_GRAVITY_M_S2};
use nalgebra::Vector3;

const ANGLE: Range = Range::new("tilt", "rad", -1.55, 1.55);

/// A part on two hooks whose falls hang plumb.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoHooks {
    /// The two eyes, m in the part's frame (z up as the part sits).
    pub eyes_m: [[f64; 3]; 2],
}

/// Shares of two hooks at a tilt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HookShares {
    /// Tilt of the line of the eyes from how the part sits, rad: positive with the second eye up.
    pub tilt_rad: f64,
    /// What each hook carries, N.
    pub force_n: [f64; 2],
    /// How much higher the second eye stands than the first, m.
    pub rise_m: f64,
    /// How far the part rolls about the line of the eyes when it comes free, rad, because its
    /// balance point sits to one side of that line.
    pub roll_rad: f64,
}

/// What two hooks carry at a tilt, both falls plumb.
///
/// Own derivation: free on two plumb falls the part rolls about the line of the eyes until its
/// balance point is under that line, at its distance d from it. With p the way of the balance point
/// along the line from the first eye, D the distance of the eyes and φ the slope of their line, its
/// horizontal way from the first eye is `p cos φ + d sin φ`, and moments about the first eye give
/// `F₂ = W (p + d tan φ) / D`. A part hung from above its balance point gives load to the upper
/// hook.
///
/// # Errors
/// Eyes in one plumb line; a hook that would have to push; a balance point above the line of the
/// eyes or on it ([`LiftingError::TurnsOver`]); places out of range.
pub fn two_hook_shares(
    body: &Body,
    hooks: &TwoHooks,
    tilt_rad: f64,
) -> Result<HookShares, LiftingError> {
    let tilt = ANGLE.check(tilt_rad)?;
    let [a, b] = [check_place(&hooks.eyes_m[0])?, check_place(&hooks.eyes_m[1])?];
    let g = Vector3::from(body.centre_m());
    let line = b - a;
    let apart = Range::new("distance of the eyes", "m", 1e-3, 2000.0).check(line.norm())?;
    let flat = line.x.hypot(line.y);
    let sits = line.z.atan2(flat);
    let slope = Range::new("slope of the line of the eyes", "rad", -1.5, 1.5).check(sits + tilt)?;
    let axis = line / apart;
    let along = (g - a).dot(&axis);
    let off = (g - a) - axis * along;
    // Upward direction across the line, and sideways.
    let up = Vector3::z() - axis * axis.z;
    Range::new("flatness of the line of the eyes", "(ratio)", 1e-3, 1.0).check(up.norm())?;
    let above = off.dot(&up.normalize());
    let side = (off - up.normalize() * above).norm();
    if above >= 0.0 || off.norm() < 1e-6 {
        return Err(LiftingError::TurnsOver { above_m: above.max(0.0) });
    }
    let weight = body.mass_kg() * STANDARD_GRAVITY_M_S2;
    let second = weight * (along + off.norm() * slope.tan()) / apart;
    let force_n = [weight - second, second];
    for (number, &force_n) in force_n.iter().enumerate() {
        if force_n < 0.0 {
            return Err(LiftingError::WrongWay { what: "hook", number, force_n });
        }
    }
    Ok(HookShares {
        tilt_rad: tilt,
        force_n,
        rise_m: apart * slope.sin(),
        roll_rad: side.atan2(-above),
    })
}

/// The shares through a range of tilts, in even steps, ends included.
///
/// # Errors
/// As [`two_hook_shares`] at any of them; fewer than 2 or more than 10 000 steps.
pub fn two_hook_shares_through(
    body: &Body,
    hooks: &TwoHooks,
    (from_rad, to_rad, steps): (f64, f64, usize),
) -> Result<Vec<HookShares>, LiftingError> {
    super::super::error::check_count("tilts", steps, (2, 10_000))?;
    (0..steps)
        .map(|i| {
            let part = i as f64 / (steps - 1) as f64;
            two_hook_shares(body, hooks, from_rad + (to_rad - from_rad) * part)
        })
        .collect()
}
