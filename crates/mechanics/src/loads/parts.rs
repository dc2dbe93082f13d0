//! Masses of the moving parts of one cylinder, and their friction.

use super::LoadError;
use crate::motion::Bound;

/// How the rod turns over.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RodInertia {
    /// Two point masses at the ends that keep the rod's mass and centre of mass. Their moment of
    /// inertia about the centre of mass is `m c (l - c)`, somewhat more than a real rod has.
    TwoMass,
    /// The rod's own moment of inertia about its centre of mass, kg·m² (swung as a pendulum, or
    /// from a drawing): exact for a rigid rod.
    AboutCentre(f64),
}

/// Connecting rod with its brasses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RodMass {
    /// Mass, kg; 0 for a rod without mass.
    pub mass_kg: f64,
    /// Centre of mass from the small end, on the line of the rod, m.
    pub centre_from_small_end_m: f64,
    /// Moment of inertia.
    pub inertia: RodInertia,
}

/// Moving parts of one cylinder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MovingParts {
    /// Piston, piston rod and crosshead with its pin, kg.
    pub piston_set_kg: f64,
    /// Connecting rod.
    pub rod: RodMass,
    /// Friction coefficient between slippers and bars; 0 to leave it out.
    pub slide_friction: f64,
    /// Friction of piston rings and glands, N, against the movement; 0 to leave it out.
    pub piston_friction_n: f64,
    /// Acceleration of free fall, m/s²; 0 to leave the weights out (usual for running loads).
    pub gravity_m_s2: f64,
}

impl MovingParts {
    pub(crate) fn check(&self) -> Result<(), LoadError> {
        const PISTON_SET: Bound = Bound::new("mass of the piston set", "kg", 0.0, 2e4);
        const ROD: Bound = Bound::new("mass of the connecting rod", "kg", 0.0, 2e4);
        const CENTRE: Bound = Bound::new("centre of mass from the small end", "m", -1.0, 20.0);
        const INERTIA: Bound = Bound::new("moment of inertia of the rod", "kg·m²", 0.0, 1e6);
        const FRICTION: Bound = Bound::new("friction coefficient of the slippers", "", 0.0, 0.5);
        const RINGS: Bound = Bound::new("friction of piston and glands", "N", 0.0, 1e6);
        const GRAVITY: Bound = Bound::new("acceleration of free fall", "m/s²", 0.0, 9.9);
        PISTON_SET.check(self.piston_set_kg)?;
        ROD.check(self.rod.mass_kg)?;
        CENTRE.check(self.rod.centre_from_small_end_m)?;
        if let RodInertia::AboutCentre(inertia_kg_m2) = self.rod.inertia {
            INERTIA.check(inertia_kg_m2)?;
        }
        FRICTION.check(self.slide_friction)?;
        RINGS.check(self.piston_friction_n)?;
        GRAVITY.check(self.gravity_m_s2)?;
        Ok(())
    }
}

impl RodMass {
    /// Moment of inertia about the centre of mass for a rod of given centres, kg·m².
    ///
    /// Equation: `m c (l - c)` for two masses (own derivation: masses `m (l-c)/l` at `c` and
    /// `m c/l` at `l - c` from the centre), else as given.
    pub(crate) fn inertia_kg_m2(&self, rod_centres_m: f64) -> f64 {
        let c = self.centre_from_small_end_m;
        match self.inertia {
            RodInertia::TwoMass => self.mass_kg * c * (rod_centres_m - c),
            RodInertia::AboutCentre(inertia_kg_m2) => inertia_kg_m2,
        }
    }
}
