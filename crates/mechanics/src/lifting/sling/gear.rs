//! Ratings of slings: mode factors of the standards.

use super::super::error::{LiftingError, Range};

/// Angle of a leg to the vertical, rad.
const ANGLE: Range = Range::new("angle of a leg to the vertical", "rad", 0.0, 1.58);
const CHOKE: Range = Range::new("angle of choke", "rad", 0.0, std::f64::consts::PI);
const RATING: Range = Range::new("working load limit of one leg", "kg", 0.1, 1e6);
/// Rounding of an angle that was worked out must not push it over a limit.
const HAIR_RAD: f64 = 1e-9;

/// How many legs a sling has, as the tables of ratings count them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum LegCount {
    /// One.
    One,
    /// Two.
    Two,
    /// Three or four: rated alike, because one of four legs may carry nothing.
    ThreeOrFour,
}

impl LegCount {
    /// From a number of legs.
    ///
    /// # Errors
    /// Unless 1 to 4.
    pub fn of(legs: usize) -> Result<Self, LiftingError> {
        match legs {
            1 => Ok(Self::One),
            2 => Ok(Self::Two),
            3 | 4 => Ok(Self::ThreeOrFour),
            _ => Err(LiftingError::Count { what: "legs", given: legs, least: 1, most: 4 }),
        }
    }
}

/// The two bands of leg angle to the vertical that ratings know.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum AngleBand {
    /// Up to 45 degrees.
    To45,
    /// Over 45 up to 60 degrees.
    To60,
}

impl AngleBand {
    /// The band of an angle to the vertical, rad.
    ///
    /// # Errors
    /// [`LiftingError::LegTooFlat`] above 60 degrees, where no rating holds; no number.
    pub fn of(angle_rad: f64) -> Result<Self, LiftingError> {
        let angle = ANGLE.check(angle_rad)?;
        if angle <= std::f64::consts::FRAC_PI_4 + HAIR_RAD {
            Ok(Self::To45)
        } else if angle <= std::f64::consts::FRAC_PI_3 + HAIR_RAD {
            Ok(Self::To60)
        } else {
            Err(LiftingError::LegTooFlat { angle_deg: angle.to_degrees() })
        }
    }
}

/// Mode factor of a sling with straight legs, all alike and evenly loaded: its rating over that of
/// one leg.
///
/// Source: BS EN 13414-1:2003 Table 4, leg factor K_L, and the same in EN 818-4:1996 for chain:
/// two legs 1.4 to 45 degrees and 1.0 to 60, three or four 2.1 and 1.5 (verified). One leg 1.0.
#[must_use]
pub fn mode_factor(legs: LegCount, band: AngleBand) -> f64 {
    match (legs, band) {
        (LegCount::One, _) => 1.0,
        (LegCount::Two, AngleBand::To45) => 1.4,
        (LegCount::Two, AngleBand::To60) => 1.0,
        (LegCount::ThreeOrFour, AngleBand::To45) => 2.1,
        (LegCount::ThreeOrFour, AngleBand::To60) => 1.5,
    }
}

/// How one sling is used, for its rating by mode factor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SlingUse {
    /// Straight legs to eyes.
    Straight {
        /// Legs.
        legs: LegCount,
        /// Angle of the flattest leg to the vertical, rad.
        angle_rad: f64,
    },
    /// Straight legs, each choked round the load.
    Choked {
        /// Legs.
        legs: LegCount,
        /// Angle of the flattest leg to the vertical, rad.
        angle_rad: f64,
        /// Angle of choke: that between the part under load and the part it runs back along, rad;
        /// a load that hangs free in a choke takes about 120 to 135 degrees.
        choke_rad: f64,
    },
    /// A single sling under the load, both ends on the hook.
    Basket {
        /// Angle of each part to the vertical, rad.
        angle_rad: f64,
    },
    /// An endless sling or grommet choked round the load, hung straight.
    EndlessChoked {
        /// Angle of choke, rad.
        choke_rad: f64,
    },
}

/// Rating of a sling in a mode, kg, from that of one straight leg. The figure on its tag goes before
/// this one: tables use preferred numbers, which lie up to 3 % to either side.
///
/// Equation: `WLL = factor · WLL₁`: [`mode_factor`] straight; choked also 0.8 (EN 818-6; verified
/// in a maker's manual) times [`choke_angle_factor`]; basket [`basket_factor`]; endless choked 1.6
/// (BS EN 13414-1:2003 Table 4, verified) times [`choke_angle_factor`].
///
/// # Errors
/// Legs over 60 degrees from the vertical; angles or the rating out of range.
///
/// Worked value: rope of 16 mm with 3.00 t on one leg: 4.20 and 3.00 t on two, 6.30 and 4.50 t on
/// three or four (BS EN 13414-1:2003 Table 4).
pub fn rated_mass_kg(one_leg_kg: f64, used: SlingUse) -> Result<f64, LiftingError> {
    let one = RATING.check(one_leg_kg)?;
    Ok(one
        * match used {
            SlingUse::Straight { legs, angle_rad } => mode_factor(legs, AngleBand::of(angle_rad)?),
            SlingUse::Choked { legs, angle_rad, choke_rad } => {
                0.8 * mode_factor(legs, AngleBand::of(angle_rad)?) * choke_angle_factor(choke_rad)?
            }
            SlingUse::Basket { angle_rad } => basket_factor(angle_rad)?,
            SlingUse::EndlessChoked { choke_rad } => 1.6 * choke_angle_factor(choke_rad)?,
        })
}

/// What is left of a choked rating at an angle of choke, rad: 1 over 120 degrees, 0.87 down to 90,
/// 0.74 to 60, 0.62 to 30, 0.49 below.
///
/// Source: choker angle table of ASME B30.9, as printed in a sling maker's instructions (verified
/// there). It holds for synthetic and rope slings; the tag goes before it.
///
/// # Errors
/// Outside 0 to 180 degrees.
pub fn choke_angle_factor(choke_rad: f64) -> Result<f64, LiftingError> {
    let deg = CHOKE.check(choke_rad)?.to_degrees() + 1e-9;
    Ok(match deg {
        d if d > 120.0 + 2e-9 => 1.0,
        d if d >= 90.0 => 0.87,
        d if d >= 60.0 => 0.74,
        d if d >= 30.0 => 0.62,
        _ => 0.49,
    })
}

/// Rating of a sling in basket over its straight rating: 2.0 hung parallel (within 7 degrees of the
/// vertical), 1.4 to 45 degrees, 1.0 to 60.
///
/// Source: mode factors M of EN 1492-1 for webbing slings, from memory; the 7 degrees are common in
/// makers' tables, from memory. For rope and chain the bend must be large too: follow the tag.
///
/// # Errors
/// Over 60 degrees; no number.
pub fn basket_factor(angle_rad: f64) -> Result<f64, LiftingError> {
    Ok(match AngleBand::of(angle_rad)? {
        AngleBand::To45 if angle_rad <= 7.0_f64.to_radians() + HAIR_RAD => 2.0,
        AngleBand::To45 => 1.4,
        AngleBand::To60 => 1.0,
    })
}

/// What is left of a chain's rating over an edge, by the edge's radius over the chain's thickness:
/// 1.0 above 2, 0.7 from 1 to 2.
///
/// Source: chain makers' tables after EN 818-6 (verified in one). Below 1 the edge is sharp: no
/// factor, protect it.
///
/// # Errors
/// Radius below the chain's thickness, or a radius or thickness out of range.
pub fn edge_factor(edge_radius_m: f64, chain_m: f64) -> Result<f64, LiftingError> {
    const RATIO: Range = Range::new("edge radius over chain thickness", "(ratio)", 1.0, 1e6);
    const CHAIN: Range = Range::new("thickness of the chain", "m", 1e-3, 0.2);
    let ratio = RATIO.check(edge_radius_m / CHAIN.check(chain_m)?)?;
    Ok(if ratio > 2.0 { 1.0 } else { 0.7 })
}
