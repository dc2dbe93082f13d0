//! One end jacked up while the other stays on its supports.

use super::super::STANDARD_GRAVITY_M_S2;
use super::super::error::{LiftingError, MASS, PLACE, Range};

/// One end of a load raised about the other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndLift {
    /// Mass, kg.
    pub mass_kg: f64,
    /// Distance from the pivot along the load to its balance point, m.
    pub balance_m: f64,
    /// Height of the balance point over the line from pivot to jack head, m.
    pub balance_above_m: f64,
    /// Distance from the pivot to the jack head, m.
    pub jack_m: f64,
    /// How far the jack raises its head, m.
    pub lift_m: f64,
}

/// What the jack carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EndLiftForce {
    /// Load on the jack before it has raised anything, N.
    pub start_n: f64,
    /// Load on the jack at that lift, N.
    pub jack_n: f64,
    /// Load left on the pivot at that lift, N.
    pub pivot_n: f64,
    /// Tilt of the load, rad.
    pub tilt_rad: f64,
    /// How far the head is drawn towards the pivot by the tilt, m: the jack leans or slips by this.
    pub drawn_m: f64,
}

/// Load on a jack that raises one end.
///
/// Own derivation: at the tilt θ, `sin θ = lift / L`, the horizontal ways are `p cos θ − z sin θ` and
/// `L cos θ`, so the jack carries `W (p − z tan θ) / L`; its head moves towards the pivot by
/// `L (1 − cos θ)`.
///
/// # Errors
/// Lift not below the distance to the jack; a pivot or jack that would have to pull; sizes out of
/// range.
pub fn end_lift(lift: &EndLift) -> Result<EndLiftForce, LiftingError> {
    let weight = MASS.check(lift.mass_kg)? * STANDARD_GRAVITY_M_S2;
    let p = PLACE.check(lift.balance_m)?;
    let z = PLACE.check(lift.balance_above_m)?;
    let l = Range::new("distance from pivot to jack", "m", 1e-3, 1000.0).check(lift.jack_m)?;
    let rise = Range::new("lift", "m", 0.0, 0.9 * l).check(lift.lift_m)?;
    let tilt_rad = (rise / l).asin();
    let at = |tilt: f64| weight * (p - z * tilt.tan()) / l;
    let jack_n = at(tilt_rad);
    for (number, force_n) in [jack_n, weight - jack_n].into_iter().enumerate() {
        if force_n < 0.0 {
            return Err(LiftingError::WrongWay { what: "support", number, force_n });
        }
    }
    Ok(EndLiftForce {
        start_n: at(0.0),
        jack_n,
        pivot_n: weight - jack_n,
        tilt_rad,
        drawn_m: l * (1.0 - tilt_rad.cos()),
    })
}
