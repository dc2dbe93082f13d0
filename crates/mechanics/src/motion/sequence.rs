//! Crank sequences: which crank follows which, and by how much.

use super::bounds::INCLINE;
use super::{MotionError, Place};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// The side whose crank passes a mark first in forward rotation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Leading {
    /// Left hand leading.
    Left,
    /// Right hand leading.
    Right,
}

/// What is evenly spaced in a three-cylinder engine whose lines do not share one incline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Beats {
    /// The cranks themselves stand at 120°, whatever the inclines.
    EvenCranks,
    /// The dead centres follow at 120°: the middle crank is shifted by the difference of incline.
    EvenBeats {
        /// Incline of the middle line, rad.
        middle_incline_rad: f64,
        /// Incline of both outside lines, rad.
        outside_incline_rad: f64,
    },
}

/// The usual arrangements. Any other is given to the motion as lags of the caller's own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CrankSequence {
    /// Two inside cylinders, cranks at 90°.
    TwoInside {
        /// Side that leads.
        leading: Leading,
    },
    /// Two outside cylinders, cranks at 90°.
    TwoOutside {
        /// Side that leads.
        leading: Leading,
    },
    /// Two outside and a middle one: first the leading outside crank, 120° later the other
    /// outside one, then the middle.
    Three {
        /// Outside crank that leads the other by 120°.
        leading: Leading,
        /// What is evenly spaced.
        beats: Beats,
    },
    /// Four cylinders: the sides at 90°, each inside crank opposite its outside neighbour.
    FourPaired {
        /// Side that leads.
        leading: Leading,
    },
}

/// Places and crank lags (rad, `0 <= lag < 2π` except for the middle crank's shift) of a usual
/// sequence, from the left of the engine to the right.
///
/// Equation: lag 0 for the leading side, π/2 for the other; three cylinders 0, 2π/3 and
/// `4π/3 + (b_middle - b_outside)` when the beats shall be even, because a crank passes its own
/// front dead centre (without offset) at wheel angle `lag - b`. Common practice.
/// Units: rad; lag grows against forward rotation.
///
/// # Errors
/// An incline not finite or beyond ±1.4 rad.
pub fn crank_lags(sequence: CrankSequence) -> Result<Vec<(Place, f64)>, MotionError> {
    let right_angle = |leading| match leading {
        Leading::Left => (0.0, FRAC_PI_2),
        Leading::Right => (FRAC_PI_2, 0.0),
    };
    Ok(match sequence {
        CrankSequence::TwoInside { leading } => {
            let (left, right) = right_angle(leading);
            vec![(Place::InsideLeft, left), (Place::InsideRight, right)]
        }
        CrankSequence::TwoOutside { leading } => {
            let (left, right) = right_angle(leading);
            vec![(Place::OutsideLeft, left), (Place::OutsideRight, right)]
        }
        CrankSequence::Three { leading, beats } => {
            let third = TAU / 3.0;
            let (left, right) = match leading {
                Leading::Left => (0.0, third),
                Leading::Right => (third, 0.0),
            };
            let shift = match beats {
                Beats::EvenCranks => 0.0,
                Beats::EvenBeats { middle_incline_rad, outside_incline_rad } => {
                    INCLINE.check(middle_incline_rad)? - INCLINE.check(outside_incline_rad)?
                }
            };
            vec![
                (Place::OutsideLeft, left),
                (Place::Middle, 2.0 * third + shift),
                (Place::OutsideRight, right),
            ]
        }
        CrankSequence::FourPaired { leading } => {
            let (left, right) = right_angle(leading);
            vec![
                (Place::OutsideLeft, left),
                (Place::InsideLeft, left + PI),
                (Place::InsideRight, right + PI),
                (Place::OutsideRight, right),
            ]
        }
    })
}
