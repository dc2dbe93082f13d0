//! Steam on both faces of a piston.

use super::diagram::{Branch, PRESSURE};
use super::{IndicatorDiagram, LoadError, MovingParts};
use crate::motion::Bound;
use std::f64::consts::PI;

/// Areas of a piston, m².
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PistonAreas {
    /// Front face, less the tail rod if there is one.
    pub front_m2: f64,
    /// Back face, less the piston rod.
    pub back_m2: f64,
}

impl PistonAreas {
    /// From bore, piston rod and tail rod (0 without one) diameters.
    ///
    /// Equation: `π (D² - d²)/4`. Units: m, m².
    ///
    /// # Errors
    /// A diameter not finite or out of range; a rod not thinner than the bore.
    pub fn from_diameters(
        bore_m: f64,
        piston_rod_m: f64,
        tail_rod_m: f64,
    ) -> Result<Self, LoadError> {
        const BORE: Bound = Bound::new("cylinder bore", "m", 0.01, 3.0);
        const ROD: Bound = Bound::new("piston rod diameter", "m", 0.0, 1.0);
        let bore = BORE.check(bore_m)?;
        let area = |rod: f64| -> Result<f64, LoadError> {
            let rod = ROD.check(rod)?;
            if bore <= rod {
                return Err(LoadError::NotBelow {
                    what: "piston rod diameter",
                    value: rod,
                    other: "bore",
                    limit: bore,
                    unit: "m",
                });
            }
            Ok(0.25 * PI * (bore - rod) * (bore + rod))
        };
        Ok(Self { front_m2: area(tail_rod_m)?, back_m2: area(piston_rod_m)? })
    }
}

/// What the steam does. Pressures above the atmosphere.
#[derive(Debug, Clone, PartialEq)]
pub enum Steam {
    /// Drifting with both ends open.
    None,
    /// The same pressure on each face at every angle: a test pressure, a stuck valve.
    Constant {
        /// On the front face, Pa.
        front_pa: f64,
        /// On the back face, Pa.
        back_pa: f64,
    },
    /// A diagram for each end.
    Diagrams(Box<EndDiagrams>),
}

/// A diagram for each end. Which of its two strokes applies goes by the way the piston moves
/// (standing still: as if running forward).
#[derive(Debug, Clone, PartialEq)]
pub struct EndDiagrams {
    /// Front end; shares counted from the front end of the stroke.
    pub front: IndicatorDiagram,
    /// Back end; shares counted from the back end of the stroke.
    pub back: IndicatorDiagram,
}

/// Everything that loads one cylinder's motion.
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderLoad {
    /// What the steam does.
    pub steam: Steam,
    /// Areas of the piston.
    pub areas: PistonAreas,
    /// Masses and friction.
    pub parts: MovingParts,
}

impl CylinderLoad {
    pub(crate) fn check(&self) -> Result<(), LoadError> {
        const AREA: Bound = Bound::new("piston area", "m²", 1e-6, 10.0);
        AREA.check(self.areas.front_m2)?;
        AREA.check(self.areas.back_m2)?;
        if let Steam::Constant { front_pa, back_pa } = self.steam {
            PRESSURE.check(front_pa)?;
            PRESSURE.check(back_pa)?;
        }
        self.parts.check()
    }
}

/// Steam force along a revolution; remembers where in the diagrams it was.
pub(crate) struct SteamForce<'a> {
    kind: Kind<'a>,
    areas: PistonAreas,
}

enum Kind<'a> {
    Constant(f64),
    Diagrams { front: [&'a Branch; 2], back: [&'a Branch; 2], hints: [usize; 4] },
}

impl<'a> SteamForce<'a> {
    pub(crate) fn new(load: &'a CylinderLoad) -> Self {
        let areas = load.areas;
        let kind = match &load.steam {
            Steam::None => Kind::Constant(0.0),
            Steam::Constant { front_pa, back_pa } => {
                Kind::Constant(back_pa * areas.back_m2 - front_pa * areas.front_m2)
            }
            Steam::Diagrams(ends) => Kind::Diagrams {
                front: ends.front.branches(),
                back: ends.back.branches(),
                hints: [0; 4],
            },
        };
        Self { kind, areas }
    }

    /// Force, N, positive towards the front, with the piston a share of the stroke from the front.
    #[inline]
    pub(crate) fn at(&mut self, from_front_share: f64, going_back: bool) -> f64 {
        match &mut self.kind {
            Kind::Constant(force) => *force,
            Kind::Diagrams { front, back, hints } => {
                let [out, home, back_out, back_home] = hints;
                let from_back = 1.0 - from_front_share;
                let (front_pa, back_pa) = if going_back {
                    (front[0].at(from_front_share, out), back[1].at(from_back, back_home))
                } else {
                    (front[1].at(from_front_share, home), back[0].at(from_back, back_out))
                };
                back_pa * self.areas.back_m2 - front_pa * self.areas.front_m2
            }
        }
    }
}
