//! Running clearance at working heat from cold sizes, and the other way round.

use super::error::{LiningError, Range, check_larger};

const SIZE: Range = Range::new("diameter", "m", 1e-3, 3.0);
const CLEARANCE: Range = Range::new("clearance", "m", -0.01, 0.05);
const EXPANSION: Range = Range::new("expansion", "1/K", 1e-7, 1e-4);
const TEMPERATURE: Range = Range::new("temperature", "K", 200.0, 900.0);
const POISSON: Range = Range::new("Poisson's ratio", "(ratio)", 0.0, 0.49);

/// A material as it grows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expansion {
    /// Linear expansion, 1/K.
    pub per_k: f64,
}

impl Expansion {
    /// Steel: 11.5e-6 per K (handbook, from memory).
    pub const STEEL: Self = Self { per_k: 11.5e-6 };
    /// Cast iron: 10.5e-6 per K (handbook, from memory).
    pub const CAST_IRON: Self = Self { per_k: 10.5e-6 };
    /// Tin bronze: 18e-6 per K (handbook, from memory; a foundry's sheet for PB2 gives 18.3e-6).
    pub const TIN_BRONZE: Self = Self { per_k: 18e-6 };
    /// White metal with a tin base: 22.7e-6 per K (ISO 4381, SnSb12Cu6Pb, read in a copy).
    pub const TIN_WHITE_METAL: Self = Self { per_k: 22.7e-6 };
}

/// How the bearing is held while it grows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Seating {
    /// Free to grow: a split brass with room behind it, or a solid rod eye.
    Free,
    /// A bush held in a housing that grows less: it grows inwards too.
    HeldInHousing {
        /// Outside diameter of the bush, m, at the cold temperature.
        outside_m: f64,
        /// Expansion of the housing.
        housing: Expansion,
        /// Poisson's ratio of the bush (bronze about 0.34, from memory).
        poisson: f64,
    },
}

/// A journal and its bearing, at one cold temperature and their working temperatures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HotPair {
    /// Diameter of the journal at the cold temperature, m.
    pub journal_m: f64,
    /// Expansion of the journal.
    pub journal: Expansion,
    /// Working temperature of the journal, K.
    pub journal_hot_k: f64,
    /// Expansion of the bearing.
    pub bearing: Expansion,
    /// Working temperature of the bearing (and of its housing), K.
    pub bearing_hot_k: f64,
    /// Temperature at which cold sizes are stated, K.
    pub cold_k: f64,
    /// How the bearing is held.
    pub seating: Seating,
}

/// Clearance at working heat from the cold bore, m on the diameter. Negative: it seizes.
///
/// **Equation.** Free: `bore (1 + ab dTb) - journal (1 + aj dTj)`. Held: own derivation. The outside
/// follows the housing, so the wall is squeezed round by `(ab - ah) dT` and swells in thickness by
/// Poisson's ratio of that; `bore hot = outside (1 + ah dT) - (outside - bore) (1 + [ab + nu (ab - ah)]
/// dT)`. **Units.** m, K. **Range.** Thin wall, elastic, even temperature in each part. **Source.**
/// Linear expansion; steel 11.5e-6 and tin bronze 18e-6 per K (handbook). **Worked value.** A 200 mm
/// bronze bore and a steel journal read at 5 degC differ 0.0195 mm from their difference at 20 degC.
///
/// # Errors
///
/// [`LiningError::OutOfRange`] on the inputs; [`LiningError::NotLarger`] or
/// [`LiningError::BushLoosens`] on a held bush.
pub fn hot_clearance_m(pair: &HotPair, cold_bore_m: f64) -> Result<f64, LiningError> {
    let bore = SIZE.check(cold_bore_m)?;
    let (scale, shift) = bore_when_hot(pair, bore)?;
    Ok(scale * bore + shift - journal_when_hot(pair)?)
}

/// The cold bore that gives a wanted clearance at working heat, m. The other way round of
/// [`hot_clearance_m`], which is linear in the bore.
///
/// # Errors
///
/// As [`hot_clearance_m`].
pub fn cold_bore_for_m(pair: &HotPair, hot_clearance_m: f64) -> Result<f64, LiningError> {
    let wanted = CLEARANCE.check(hot_clearance_m)?;
    let journal = journal_when_hot(pair)?;
    let (scale, shift) = bore_when_hot(pair, pair.journal_m)?;
    let bore = SIZE.check((journal + wanted - shift) / scale)?;
    // Now that the bore is known the bush must still have a wall.
    bore_when_hot(pair, bore)?;
    Ok(bore)
}

/// The cold clearance for a wanted hot one, m on the diameter.
///
/// # Errors
///
/// As [`hot_clearance_m`].
pub fn cold_clearance_for_m(pair: &HotPair, hot_clearance_m: f64) -> Result<f64, LiningError> {
    Ok(cold_bore_for_m(pair, hot_clearance_m)? - pair.journal_m)
}

fn journal_when_hot(pair: &HotPair) -> Result<f64, LiningError> {
    let rise = TEMPERATURE.check(pair.journal_hot_k)? - TEMPERATURE.check(pair.cold_k)?;
    Ok(SIZE.check(pair.journal_m)? * (1.0 + EXPANSION.check(pair.journal.per_k)? * rise))
}

/// Scale and shift that turn the cold bore into the hot one.
fn bore_when_hot(pair: &HotPair, bore_m: f64) -> Result<(f64, f64), LiningError> {
    let rise = TEMPERATURE.check(pair.bearing_hot_k)? - TEMPERATURE.check(pair.cold_k)?;
    let bush = EXPANSION.check(pair.bearing.per_k)?;
    match pair.seating {
        Seating::Free => Ok((1.0 + bush * rise, 0.0)),
        Seating::HeldInHousing { outside_m, housing, poisson } => {
            let outside = SIZE.check(outside_m)?;
            check_larger(("outside of the bush", outside), ("bore", bore_m))?;
            let (held, nu) = (EXPANSION.check(housing.per_k)?, POISSON.check(poisson)?);
            if (bush - held) * rise < 0.0 {
                return Err(LiningError::BushLoosens { bush_per_k: bush, housing_per_k: held });
            }
            let wall = 1.0 + (bush + nu * (bush - held)) * rise;
            Ok((wall, outside * (1.0 + held * rise) - outside * wall))
        }
    }
}
