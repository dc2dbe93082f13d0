//! What a changed part mass does to the balance.

use super::{
    AxleBalance, BalanceEffects, BalanceError, BalanceLayout, RotatingMass, WheelPair,
    balance_effects, balance_weights,
};

/// A mass that has become heavier (or, negative, lighter).
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MassChange {
    /// Reciprocating mass of one cylinder: a new piston, a crosshead built up.
    Reciprocating {
        /// Number of the cylinder, from 0.
        cylinder: usize,
        /// Change, kg.
        change_kg: f64,
    },
    /// Turning mass of one cylinder at the crank throw.
    Rotating {
        /// Number of the cylinder, from 0.
        cylinder: usize,
        /// Change, kg.
        change_kg: f64,
    },
    /// A mass put on an axle (or taken off, with a negative mass).
    OnAxle {
        /// Number of the axle, from 0.
        axle: usize,
        /// The mass.
        mass: RotatingMass,
    },
}

/// The same engine before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct MassChangeEffect {
    /// Weights wanted before.
    pub wanted_before: Vec<AxleBalance>,
    /// Weights wanted after.
    pub wanted_after: Vec<AxleBalance>,
    /// Left over before, with the weights fitted.
    pub before: BalanceEffects,
    /// Left over after, with the weights left as they are.
    pub after: BalanceEffects,
}

/// What changed masses do to the weights wanted and, with the weights left as they are, to what
/// is left over.
///
/// Equation: [`balance_weights`] and [`balance_effects`] of both engines. Units: kg·m, N, N·m.
///
/// # Errors
/// A cylinder or axle that is not there; a mass out of range before or after.
pub fn mass_change_effect(
    layout: &BalanceLayout,
    fitted: &[WheelPair],
    changes: &[MassChange],
    speed_rad_s: f64,
) -> Result<MassChangeEffect, BalanceError> {
    layout.check()?;
    let mut changed = layout.clone();
    let (cylinders, axles) = (layout.cylinders.len(), layout.axles.len());
    let missing = |what, count, there: usize| BalanceError::Count {
        what,
        count,
        low: 0,
        high: there.saturating_sub(1),
    };
    for change in changes {
        match *change {
            MassChange::Reciprocating { cylinder, change_kg } => {
                changed
                    .cylinders
                    .get_mut(cylinder)
                    .ok_or_else(|| missing("number of the cylinder", cylinder, cylinders))?
                    .reciprocating_kg += change_kg;
            }
            MassChange::Rotating { cylinder, change_kg } => {
                changed
                    .cylinders
                    .get_mut(cylinder)
                    .ok_or_else(|| missing("number of the cylinder", cylinder, cylinders))?
                    .rotating_kg += change_kg;
            }
            MassChange::OnAxle { axle, mass } => changed
                .axles
                .get_mut(axle)
                .ok_or_else(|| missing("number of the axle", axle, axles))?
                .masses
                .push(mass),
        }
    }
    Ok(MassChangeEffect {
        wanted_before: balance_weights(layout)?,
        wanted_after: balance_weights(&changed)?,
        before: balance_effects(layout, fitted, speed_rad_s)?,
        after: balance_effects(&changed, fitted, speed_rad_s)?,
    })
}
