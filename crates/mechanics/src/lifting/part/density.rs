//! Densities of the metals a running gear is made of.

use super::super::error::{LiftingError, Range};

const DENSITY: Range = Range::new("density", "kg/m3", 1.0, 25_000.0);
const U_DENSITY: Range = Range::new("standard uncertainty of the density", "kg/m3", 0.0, 25_000.0);

/// Which of the densities given a piece is made of. Pieces that share one share its error.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DensityNo(pub usize);

/// A density and how well it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Density {
    /// Mass of a cubic metre, kg/m³, 1 to 25 000.
    pub kg_m3: f64,
    /// Its standard uncertainty, kg/m³.
    pub u_kg_m3: f64,
}

impl Density {
    pub(super) fn check(&self) -> Result<(), LiftingError> {
        DENSITY.check(self.kg_m3)?;
        U_DENSITY.check(self.u_kg_m3)?;
        Ok(())
    }
}

/// A metal with a handbook density.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Material {
    /// Mild steel, forged or rolled.
    MildSteel,
    /// Wrought iron: slag lowers and scatters its density.
    WroughtIron,
    /// Grey cast iron.
    GreyCastIron,
    /// Gunmetal and bronze.
    Gunmetal,
    /// Brass.
    Brass,
    /// Copper.
    Copper,
    /// Lead.
    Lead,
    /// Tin.
    Tin,
    /// White metal of tin.
    TinWhiteMetal,
    /// Aluminium.
    Aluminium,
    /// Oak, seasoned: packing.
    Oak,
}

impl Material {
    /// Handbook density with the spread between handbooks and qualities taken as a rectangle
    /// (half width over √3, JCGM 100:2008, 4.3.7).
    ///
    /// Source: handbook tables such as Kempe's and Machinery's, from memory; the half widths for
    /// steel, copper, lead, tin, white metal, aluminium and oak are common practice.
    #[must_use]
    pub fn density(self) -> Density {
        let (kg_m3, half) = match self {
            Self::MildSteel => (7850.0, 30.0),
            Self::WroughtIron => (7700.0, 100.0),
            Self::GreyCastIron => (7200.0, 100.0),
            Self::Gunmetal => (8750.0, 50.0),
            Self::Brass => (8550.0, 150.0),
            Self::Copper => (8930.0, 40.0),
            Self::Lead => (11_340.0, 30.0),
            Self::Tin => (7290.0, 20.0),
            Self::TinWhiteMetal => (7390.0, 60.0),
            Self::Aluminium => (2700.0, 50.0),
            Self::Oak => (720.0, 120.0),
        };
        Density { kg_m3, u_kg_m3: half / 3.0_f64.sqrt() }
    }
}
