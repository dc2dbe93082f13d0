//! One leg of a sling.

use super::super::error::{LiftingError, Range, check_count, check_place};
use nalgebra::Vector3;

const LENGTH: Range = Range::new("leg length", "m", 0.01, 100.0);
const AXIAL: Range = Range::new("axial stiffness E A of a leg", "N", 1e3, 1e12);

/// How a leg stretches.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stretch {
    /// Not known; the elastic answer cannot be had.
    Unknown,
    /// Elastic: its modulus times its metal area (E A), N: force over relative stretch.
    AxialN(f64),
}

/// One leg from the hook to an eye on the part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// The eye, m in the part's frame (z up as the part sits).
    pub eye_m: [f64; 3],
    /// Length from the bowl of the hook to the bearing point in the eye, shackles counted in, m.
    pub length_m: f64,
    /// How it stretches.
    pub stretch: Stretch,
}

impl Leg {
    /// A leg whose stretch is not known.
    #[must_use]
    pub const fn new(eye_m: [f64; 3], length_m: f64) -> Self {
        Self { eye_m, length_m, stretch: Stretch::Unknown }
    }
}

/// One to four legs that passed their checks.
pub(super) struct Legs {
    pub(super) eyes: Vec<Vector3<f64>>,
    pub(super) lengths: Vec<f64>,
}

pub(super) fn check_legs(legs: &[Leg]) -> Result<Legs, LiftingError> {
    check_count("legs", legs.len(), (1, 4))?;
    let mut eyes: Vec<Vector3<f64>> = Vec::with_capacity(legs.len());
    let mut lengths = Vec::with_capacity(legs.len());
    for leg in legs {
        let eye = check_place(&leg.eye_m)?;
        lengths.push(LENGTH.check(leg.length_m)?);
        if let Stretch::AxialN(n) = leg.stretch {
            AXIAL.check(n)?;
        }
        for other in &eyes {
            let apart = (eye - other).norm();
            Range::new("distance of two eyes", "m", 1e-3, 2000.0).check(apart)?;
        }
        eyes.push(eye);
    }
    Ok(Legs { eyes, lengths })
}
