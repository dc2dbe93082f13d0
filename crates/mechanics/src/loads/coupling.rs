//! Coupling-rod forces.

use super::LoadError;
use crate::motion::{Bound, WheelAngle};

const THROW: Bound = Bound::new("throw of the coupling cranks", "m", 0.01, 3.0);

/// Coupled axles and their cranks.
#[derive(Debug, Clone, PartialEq)]
pub struct CouplingLayout {
    /// Share of the whole moment that each axle puts on the rail, front axle first; they add up
    /// to 1. Usually the shares of the adhesive weight.
    pub axle_shares: Vec<f64>,
    /// Number of the driven axle in that list, from 0.
    pub driver: usize,
    /// Throw of the coupling cranks, m.
    pub throw_m: f64,
    /// Lag of the left coupling cranks behind the crank of lag zero, rad.
    pub left_lag_rad: f64,
    /// Lag of the right coupling cranks, rad.
    pub right_lag_rad: f64,
}

/// Forces in the two rods between one axle and the next behind it, N, positive in tension.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CouplingPair {
    /// Number of the axle in front.
    pub front_axle: usize,
    /// Left rod, N.
    pub left_tension_n: f64,
    /// Right rod, N.
    pub right_tension_n: f64,
}

// Own derivation. Rods lie level; a rod that pushes the pin of an axle with X (forward positive)
// at absolute crank angle a gives it the forward moment -r X sin a. Two rods of equal stiffness
// and no slack between axles turned against each other by d stretch by r d sin a each, so
//   X = -M sin a / (r (sin² aL + sin² aR))
// passes the moment M on. For the axle in front of the driver a push is compression, behind it a
// push is tension.
/// Forces in the coupling rods for a turning moment of all cylinders together.
///
/// Equation: each rod pair passes on the moment of the axles beyond it, split between left and
/// right as rods of equal stiffness without slack do: `F = M sin a/(r Σ sin² a)`; derivation in
/// the source. Slack, unequal wheels and axles out of quarter change this grossly: see
/// [`coupling_slip_force_n`] for what one rod must stand.
/// Units: N·m, m, rad, N.
///
/// # Errors
/// Shares that do not add up to 1; fewer than 2 axles or more than 12; the driver not among them;
/// both cranks near dead centre (`Σ sin² < 0.05`, not possible with cranks in quarter); a value
/// not finite or out of range.
pub fn coupling_forces(
    layout: &CouplingLayout,
    moment_nm: f64,
    wheel: WheelAngle,
) -> Result<Vec<CouplingPair>, LoadError> {
    const MOMENT: Bound = Bound::new("turning moment", "N·m", -1e8, 1e8);
    const SHARE: Bound = Bound::new("share of an axle", "", 0.0, 1.0);
    const LAG: Bound = Bound::new("lag of the coupling cranks", "rad", -1e5, 1e5);
    let axles = layout.axle_shares.len();
    if !(2..=12).contains(&axles) {
        return Err(LoadError::Count { what: "coupled axles", count: axles, low: 2, high: 12 });
    }
    if axles <= layout.driver {
        let (count, high) = (layout.driver, axles - 1);
        return Err(LoadError::Count { what: "number of the driven axle", count, low: 0, high });
    }
    let mut sum = 0.0;
    for share in &layout.axle_shares {
        sum += SHARE.check(*share)?;
    }
    if 1e-6 < (sum - 1.0).abs() {
        return Err(LoadError::Shares { what: "shares of the axles", sum });
    }
    let moment = MOMENT.check(moment_nm)?;
    let throw = THROW.check(layout.throw_m)?;
    let left = (wheel.rad() - LAG.check(layout.left_lag_rad)?).sin();
    let right = (wheel.rad() - LAG.check(layout.right_lag_rad)?).sin();
    let squares = left * left + right * right;
    if squares < 0.05 {
        return Err(LoadError::CouplingDeadCentre { sum: squares });
    }
    let pair = |front_axle: usize| {
        let ahead = front_axle < layout.driver;
        let beyond: f64 = if ahead {
            layout.axle_shares[..=front_axle].iter().sum()
        } else {
            layout.axle_shares[front_axle + 1..].iter().sum()
        };
        let push = -moment * beyond / (throw * squares);
        let tension = if ahead { -push } else { push };
        CouplingPair {
            front_axle,
            left_tension_n: tension * left,
            right_tension_n: tension * right,
        }
    };
    Ok((0..axles - 1).map(pair).collect())
}

/// Greatest force one coupling rod meets when it alone slips an axle, its crank at the quarter and
/// the other rod at dead centre, N.
///
/// Equation: `F = μ W D/(2 r)`. Common practice for the design of coupling rods (statics).
/// Units: N, m. `axle_load_n` is the load of all the axles beyond the rod on the rail.
///
/// # Errors
/// A value not finite or out of range.
pub fn coupling_slip_force_n(
    axle_load_n: f64,
    adhesion: f64,
    tyre_diameter_m: f64,
    throw_m: f64,
) -> Result<f64, LoadError> {
    const LOAD: Bound = Bound::new("axle load", "N", 0.0, 1e7);
    const ADHESION: Bound = Bound::new("adhesion", "", 0.0, 1.0);
    const TYRE: Bound = Bound::new("tyre diameter", "m", 0.3, 3.0);
    let moment =
        ADHESION.check(adhesion)? * LOAD.check(axle_load_n)? * 0.5 * TYRE.check(tyre_diameter_m)?;
    Ok(moment / THROW.check(throw_m)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Moments of the rod forces on each axle must add up to what that axle passes to the rail.
    #[test]
    fn every_axle_gets_its_share() -> Result<(), LoadError> {
        let layout = CouplingLayout {
            axle_shares: vec![0.3, 0.4, 0.2, 0.1],
            driver: 1,
            throw_m: 0.3,
            left_lag_rad: 0.4,
            right_lag_rad: 0.4 + std::f64::consts::FRAC_PI_2,
        };
        for i in 0..36 {
            let wheel = WheelAngle::from_deg(f64::from(i) * 10.0)?;
            let pairs = coupling_forces(&layout, 20e3, wheel)?;
            // Forward moment on axle k from rods in front (pair k-1) and behind (pair k): tension
            // pulls the pin forward from in front, backward from behind.
            let arm = |lag: f64| -0.3 * (wheel.rad() - lag).sin();
            for axle in [0, 2, 3] {
                let mut moment = 0.0;
                for p in &pairs {
                    let sign = if p.front_axle + 1 == axle {
                        1.0
                    } else if p.front_axle == axle {
                        -1.0
                    } else {
                        0.0
                    };
                    moment += sign
                        * (p.left_tension_n * arm(layout.left_lag_rad)
                            + p.right_tension_n * arm(layout.right_lag_rad));
                }
                let wanted = 20e3 * layout.axle_shares[axle];
                assert!((moment - wanted).abs() < 1e-6, "{axle}: {moment} {wanted}");
            }
        }
        Ok(())
    }

    #[test]
    fn refuses_what_cannot_be() -> Result<(), LoadError> {
        let good = CouplingLayout {
            axle_shares: vec![0.5, 0.5],
            driver: 0,
            throw_m: 0.3,
            left_lag_rad: 0.0,
            right_lag_rad: 0.0,
        };
        let zero = WheelAngle::ZERO;
        assert!(matches!(
            coupling_forces(&good, 1.0, zero),
            Err(LoadError::CouplingDeadCentre { .. })
        ));
        let bad = CouplingLayout { axle_shares: vec![0.5, 0.4], ..good.clone() };
        assert!(matches!(coupling_forces(&bad, 1.0, zero), Err(LoadError::Shares { .. })));
        let bad = CouplingLayout { driver: 2, ..good.clone() };
        assert!(coupling_forces(&bad, 1.0, zero).is_err());
        assert!(coupling_forces(&good, f64::NAN, zero).is_err());
        // 150 kN, adhesion 0.25, wheels 1.5 m, throw 0.3 m.
        assert!((coupling_slip_force_n(150e3, 0.25, 1.5, 0.3)? - 93_750.0).abs() < 1e-9);
        Ok(())
    }
}
