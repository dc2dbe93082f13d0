//! How well tilt and tensions are known when mass and balance point are not.

use super::super::Body;
use super::super::error::LiftingError;
use super::{Hang, Leg, hang};

/// Standard uncertainties of a hang.
#[derive(Debug, Clone, PartialEq)]
pub struct HangSpread {
    /// Of the tilt along the part's x and y axes, rad.
    pub u_lean_rad: [f64; 2],
    /// Of the most each leg can carry, N.
    pub u_most_n: Vec<f64>,
}

/// Standard uncertainty of tilt and leg tensions from that of mass and balance point.
///
/// Equation: differences over ± one standard uncertainty on each of mass, x, y, z, taken as
/// independent (JCGM 100:2008, 5.1.3 note 2).
///
/// # Errors
/// As [`hang`]: also where the load hangs as it should, but would turn over or go slack with its
/// balance point one standard uncertainty away. That is a reason to refuse it.
pub fn hang_spread(body: &Body, legs: &[Leg]) -> Result<HangSpread, LiftingError> {
    let (m, c) = (body.mass_kg(), body.centre_m());
    let u = body.u_centre_m();
    let mut variance = ([0.0; 2], vec![0.0; legs.len()]);
    let mut add = |high: &Hang, low: &Hang| {
        for axis in 0..2 {
            variance.0[axis] += (0.5 * (high.lean_rad[axis] - low.lean_rad[axis])).powi(2);
        }
        for ((v, h), l) in variance.1.iter_mut().zip(&high.legs).zip(&low.legs) {
            *v += (0.5 * (h.tension.most_n - l.tension.most_n)).powi(2);
        }
    };
    let exact = |mass: f64, centre| Body::weighed((mass, 0.0), centre, [0.0; 3]);
    let u_mass = body.u_mass_kg().min(0.9 * m);
    if u_mass > 0.0 {
        add(&hang(&exact(m + u_mass, c)?, legs)?, &hang(&exact(m - u_mass, c)?, legs)?);
    }
    for axis in 0..3 {
        if u[axis] > 0.0 {
            let (mut high, mut low) = (c, c);
            high[axis] += u[axis];
            low[axis] -= u[axis];
            add(&hang(&exact(m, high)?, legs)?, &hang(&exact(m, low)?, legs)?);
        }
    }
    Ok(HangSpread {
        u_lean_rad: variance.0.map(f64::sqrt),
        u_most_n: variance.1.iter().map(|v| v.sqrt()).collect(),
    })
}
