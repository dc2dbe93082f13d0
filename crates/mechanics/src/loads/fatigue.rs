//! Fatigue utilisation of a stress that comes and goes.

use super::LoadError;
use crate::motion::Bound;

/// Which line in the mean-amplitude diagram counts as used up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FatigueCriterion {
    /// Modified Goodman: straight from endurance limit to ultimate strength.
    Goodman,
    /// Soderberg: straight from endurance limit to yield, on the cautious side.
    Soderberg,
    /// Gerber: parabola from endurance limit to ultimate strength.
    Gerber,
}

/// Strength of the material *as it is in the part*, and where the figures come from.
#[derive(Debug, Clone, PartialEq)]
pub struct FatigueMaterial {
    /// Ultimate tensile strength, Pa.
    pub ultimate_pa: f64,
    /// Yield strength, Pa.
    pub yield_pa: f64,
    /// Endurance limit of the part, fully reversed, Pa: already reduced for surface, size,
    /// reliability and corrosion by whoever answers for it.
    pub endurance_pa: f64,
    /// Standard, test certificate or drawing these figures come from.
    pub source: String,
}

/// Greatest and least stress of a cycle, stress concentration included, Pa, tension positive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StressCycle {
    /// Greatest, Pa.
    pub greatest_pa: f64,
    /// Least, Pa.
    pub least_pa: f64,
}

/// How much of the material's strength a cycle uses; 1 is all of it.
#[derive(Debug, Clone, PartialEq)]
pub struct FatigueUtilisation {
    /// Mean stress, Pa.
    pub mean_pa: f64,
    /// Amplitude, Pa.
    pub amplitude_pa: f64,
    /// By the criterion: 1 over its factor.
    pub fatigue: f64,
    /// Greatest amount of stress over yield.
    pub first_cycle_yield: f64,
    /// The material's source, handed through.
    pub source: String,
}

/// Fatigue utilisation of one cycle by one criterion.
///
/// Equation: Goodman `σa/Se + σm/Su`; Soderberg `σa/Se + σm/Sy`; Gerber `1/n` from
/// `n σa/Se + (n σm/Su)² = 1`; a compressive mean counts as none. First-cycle yield
/// `max(|σmax|, |σmin|)/Sy`.
/// Source: Shigley, *Mechanical Engineering Design*, 9th ed. (2011), sec. 6-12 (from memory).
/// Units: Pa. Valid range: long lives below the endurance limit of steel; no corrosion, no fretting
/// unless the endurance limit passed in has them.
/// Worked value: mean and amplitude 8.38 kpsi, Su 100, Se 33.9 kpsi: Gerber factor 3.66
/// (Shigley, Example 6-10; from memory).
///
/// # Errors
/// A value not finite or out of range; least above greatest; yield above ultimate; no source.
pub fn fatigue_utilisation(
    cycle: &StressCycle,
    material: &FatigueMaterial,
    criterion: FatigueCriterion,
) -> Result<FatigueUtilisation, LoadError> {
    const STRESS: Bound = Bound::new("stress", "Pa", -1e10, 1e10);
    const STRENGTH: Bound = Bound::new("strength of the material", "Pa", 1e5, 1e10);
    let greatest = STRESS.check(cycle.greatest_pa)?;
    let least = STRESS.check(cycle.least_pa)?;
    let ultimate = STRENGTH.check(material.ultimate_pa)?;
    let yields = STRENGTH.check(material.yield_pa)?;
    let endurance = STRENGTH.check(material.endurance_pa)?;
    let below =
        |what, value, other, limit| LoadError::NotBelow { what, value, other, limit, unit: "Pa" };
    if greatest < least {
        return Err(below("least stress", least, "the greatest", greatest));
    }
    if ultimate < yields {
        return Err(below("yield", yields, "the ultimate strength", ultimate));
    }
    if material.source.trim().is_empty() {
        return Err(LoadError::NoSource);
    }
    let mean_pa = 0.5 * (greatest + least);
    let amplitude_pa = 0.5 * (greatest - least);
    let a = amplitude_pa / endurance;
    let pull = mean_pa.max(0.0);
    let fatigue = match criterion {
        FatigueCriterion::Goodman => a + pull / ultimate,
        FatigueCriterion::Soderberg => a + pull / yields,
        // 1/n = x solves x² - a x - m² = 0 (own derivation, dividing the criterion by n²).
        FatigueCriterion::Gerber => {
            let m = pull / ultimate;
            0.5 * (a + (a * a + 4.0 * m * m).sqrt())
        }
    };
    Ok(FatigueUtilisation {
        mean_pa,
        amplitude_pa,
        fatigue,
        first_cycle_yield: greatest.abs().max(least.abs()) / yields,
        source: material.source.clone(),
    })
}
