//! Materials and friction: what a joint's members are made of, and how they grip.

use super::PressError;
use super::error::need;

/// An isotropic material.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Young's modulus (Pa).
    pub youngs_pa: f64,
    /// Poisson's ratio (-), above -1 and below 0.5.
    pub poisson: f64,
    /// Linear expansion (1/K).
    pub expansion_per_k: f64,
    /// Density (kg/m^3).
    pub density_kg_m3: f64,
    /// Yield strength or 0.2 % proof stress (Pa).
    pub yield_pa: f64,
}

impl Material {
    /// Steel of a given yield strength: E 206 GPa, 0.3, 11.5e-6 /K, 7850 kg/m^3 (handbook).
    pub fn steel(yield_pa: f64) -> Self {
        Self {
            youngs_pa: 206e9,
            poisson: 0.30,
            expansion_per_k: 11.5e-6,
            density_kg_m3: 7850.0,
            yield_pa,
        }
    }

    /// Grey cast iron: E 100 GPa, 0.26, 10.5e-6 /K, 7200 kg/m^3 (handbook). It does not yield:
    /// give a proof stress that a competent person allows in tension.
    pub fn cast_iron(proof_pa: f64) -> Self {
        Self {
            youngs_pa: 100e9,
            poisson: 0.26,
            expansion_per_k: 10.5e-6,
            density_kg_m3: 7200.0,
            yield_pa: proof_pa,
        }
    }

    /// Tin bronze or gunmetal: E 105 GPa, 0.34, 18e-6 /K, 8750 kg/m^3 (handbook).
    pub fn bronze(yield_pa: f64) -> Self {
        Self {
            youngs_pa: 105e9,
            poisson: 0.34,
            expansion_per_k: 18e-6,
            density_kg_m3: 8750.0,
            yield_pa,
        }
    }

    pub(super) fn check(&self) -> Result<(), PressError> {
        need("Young's modulus", self.youngs_pa, "Pa", self.youngs_pa > 0.0, "above 0")?;
        let poisson = self.poisson;
        need("Poisson's ratio", poisson, "-", poisson > -1.0 && poisson < 0.5, "in -1 to 0.5")?;
        let expansion = self.expansion_per_k;
        need("linear expansion", expansion, "1/K", expansion > 0.0, "above 0")?;
        need("density", self.density_kg_m3, "kg/m^3", self.density_kg_m3 > 0.0, "above 0")?;
        need("yield strength", self.yield_pa, "Pa", self.yield_pa > 0.0, "above 0")
    }
}

/// Coefficient of friction as it may be: low, likely, high (-).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FrictionBand {
    /// The lowest to be reckoned with: holding is worked from this.
    pub low: f64,
    /// The likely one.
    pub likely: f64,
    /// The highest: the press must be able to give this.
    pub high: f64,
}

impl FrictionBand {
    /// Steel in steel pressed in with oil or tallow: 0.05, 0.08, 0.12. Within the spread of the
    /// tables for longitudinal press fits (DIN 7190-1, from memory: sliding 0.06 to 0.08
    /// lubricated, release 0.08 to 0.12 after standing).
    pub const OILED_STEEL: Self = Self { low: 0.05, likely: 0.08, high: 0.12 };
    /// Steel shrunk on steel, dry and clean: 0.12, 0.15, 0.20 (DIN 7190-1, from memory: 0.14
    /// heated, 0.20 degreased and heated).
    pub const SHRUNK_STEEL: Self = Self { low: 0.12, likely: 0.15, high: 0.20 };

    pub(super) fn check(&self) -> Result<(), PressError> {
        need("lowest friction", self.low, "-", self.low > 0.0, "above 0")?;
        let ordered = self.low <= self.likely && self.likely <= self.high;
        need("likely friction", self.likely, "-", ordered, "from the lowest to the highest")?;
        need("highest friction", self.high, "-", self.high <= 2.0, "not above 2")
    }
}
