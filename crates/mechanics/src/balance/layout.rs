//! Balance weights wanted on every wheel of an engine.

use super::two_plane::{LAG, PLANE, RADIUS, opposite};
use super::{BalanceError, Planes, RotatingMass, WheelPair};
use crate::motion::Bound;

/// Masses of one cylinder that load the balance of the driving axle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BalanceCylinder {
    /// Plane of the crank pin, m to the left of the engine's middle.
    pub lateral_m: f64,
    /// Crank throw, m.
    pub throw_m: f64,
    /// Lag of the crank, rad.
    pub lag_rad: f64,
    /// Incline of the cylinder line, rad, front end higher positive.
    pub incline_rad: f64,
    /// Turning mass reduced to the crank throw, kg: crank pin, webs, the rod's share.
    pub rotating_kg: f64,
    /// Reciprocating mass, kg: piston, rod, crosshead, the connecting rod's share.
    pub reciprocating_kg: f64,
}

/// One axle: its own turning masses (besides those of the cylinders) and its weights' planes.
#[derive(Debug, Clone, PartialEq)]
pub struct AxleParts {
    /// Planes of the balance weights.
    pub planes: Planes,
    /// Coupling crank pins, coupling rods' share, return cranks, eccentrics.
    pub masses: Vec<RotatingMass>,
    /// Share of the balanced reciprocating masses whose weights sit on this axle.
    pub reciprocating_share: f64,
}

/// The whole engine.
#[derive(Debug, Clone, PartialEq)]
pub struct BalanceLayout {
    /// Cylinders; all drive one axle.
    pub cylinders: Vec<BalanceCylinder>,
    /// Axles from the front, driven one among them.
    pub axles: Vec<AxleParts>,
    /// Number of the driven axle, from 0.
    pub driver: usize,
    /// Share of the reciprocating masses that is balanced, 0 to 1.
    pub reciprocating_balanced: f64,
}

/// Weights wanted on the wheels of one axle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleBalance {
    /// All together: what the wheels should carry.
    pub wanted: WheelPair,
    /// Part for the turning masses.
    pub for_rotating: WheelPair,
    /// Part for the reciprocating masses: this makes the hammer blow.
    pub for_reciprocating: WheelPair,
}

impl BalanceLayout {
    pub(crate) fn check(&self) -> Result<(), BalanceError> {
        const SHARE: Bound = Bound::new("share of the reciprocating masses", "", 0.0, 1.0);
        const MASS: Bound = Bound::new("mass of a cylinder's parts", "kg", 0.0, 2e4);
        const INCLINE: Bound = Bound::new("incline of the cylinder line", "rad", -1.4, 1.4);
        let list = |what, count: usize, high| {
            if count == 0 || high < count {
                Err(BalanceError::Count { what, count, low: 1, high })
            } else {
                Ok(())
            }
        };
        list("cylinders", self.cylinders.len(), 16)?;
        list("axles", self.axles.len(), 12)?;
        if self.axles.len() <= self.driver {
            return Err(BalanceError::Count {
                what: "number of the driven axle",
                count: self.driver,
                low: 0,
                high: self.axles.len() - 1,
            });
        }
        SHARE.check(self.reciprocating_balanced)?;
        let mut sum = 0.0;
        for axle in &self.axles {
            axle.planes.check()?;
            sum += SHARE.check(axle.reciprocating_share)?;
            list("turning masses of an axle", axle.masses.len().max(1), 1000)?;
        }
        if 1e-6 < (sum - 1.0).abs() {
            return Err(BalanceError::Shares { sum });
        }
        for c in &self.cylinders {
            MASS.check(c.rotating_kg)?;
            MASS.check(c.reciprocating_kg)?;
            INCLINE.check(c.incline_rad)?;
            RADIUS.check(c.throw_m)?;
            LAG.check(c.lag_rad)?;
            PLANE.check(c.lateral_m)?;
        }
        Ok(())
    }

    /// Turning masses of one axle, the cylinders' among them.
    pub(crate) fn rotating(&self, axle: usize) -> impl Iterator<Item = RotatingMass> + '_ {
        let own = self.axles[axle].masses.iter().copied();
        let driven = self.cylinders.iter().filter(move |_| axle == self.driver);
        own.chain(driven.map(|c| c.at_pin(c.rotating_kg)))
    }
}

impl BalanceCylinder {
    pub(crate) fn at_pin(&self, mass_kg: f64) -> RotatingMass {
        RotatingMass {
            mass_kg,
            radius_m: self.throw_m,
            lag_rad: self.lag_rad,
            lateral_m: self.lateral_m,
        }
    }
}

/// Weights wanted on every axle, in the order of the layout.
///
/// Equation: two-plane method for the turning masses of each axle, and for the balanced share of
/// the reciprocating masses, taken as turning at the crank pin, times the axle's share of it.
/// Source: classical method (Dalby 1902; Khurmi & Gupta, *Theory of Machines*, ch. 22).
/// Units: kg·m, rad. With an inclined cylinder the weight is set opposite the crank, which meets
/// the force along the line; the small part across it is in [`balance_effects`](super::balance_effects).
///
/// # Errors
/// A value not finite or out of range; shares that do not add up; the driver not among the axles.
pub fn balance_weights(layout: &BalanceLayout) -> Result<Vec<AxleBalance>, BalanceError> {
    layout.check()?;
    (0..layout.axles.len())
        .map(|i| {
            let axle = &layout.axles[i];
            let rotating = axle.planes.share(layout.rotating(i))?;
            let part = layout.reciprocating_balanced * axle.reciprocating_share;
            let pins = layout.cylinders.iter().map(|c| c.at_pin(part * c.reciprocating_kg));
            let reciprocating = axle.planes.share(pins)?;
            let both = [0, 1].map(|k| rotating[k].plus(reciprocating[k], 1.0));
            Ok(AxleBalance {
                wanted: opposite(both),
                for_rotating: opposite(rotating),
                for_reciprocating: opposite(reciprocating),
            })
        })
        .collect()
}

/// Connecting rod shared between its ends, (reciprocating, rotating), kg.
///
/// Equation: `m (l - c)/l` goes to and fro, `m c/l` turns, `c` the centre of mass from the small
/// end (two-mass rod; common practice).
/// Units: kg, m.
///
/// # Errors
/// A value not finite or out of range; a centre of mass beyond the rod.
pub fn split_rod(
    mass_kg: f64,
    centre_from_small_end_m: f64,
    rod_centres_m: f64,
) -> Result<(f64, f64), BalanceError> {
    const MASS: Bound = Bound::new("mass of the connecting rod", "kg", 0.0, 2e4);
    const LENGTH: Bound = Bound::new("rod centres", "m", 2e-3, 1e5);
    const SHARE: Bound = Bound::new("centre of mass as a share of the rod centres", "", 0.0, 1.0);
    const CENTRE: Bound = Bound::new("centre of mass from the small end", "m", 0.0, 1e5);
    let mass = MASS.check(mass_kg)?;
    let length = LENGTH.check(rod_centres_m)?;
    let big = SHARE.check(CENTRE.check(centre_from_small_end_m)? / length)?;
    Ok((mass * (1.0 - big), mass * big))
}
