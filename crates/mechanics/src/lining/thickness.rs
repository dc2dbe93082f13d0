//! How thick the white metal is after boring and when worn, and how much bronze is behind it.

use super::error::{LiningError, Range, check_larger};

const SIZE: Range = Range::new("diameter", "m", 1e-3, 3.0);
const OFFSET: Range = Range::new("offset of the bore from the recess", "m", 0.0, 0.05);
const WEAR: Range = Range::new("wear on the radius", "m", 0.0, 0.05);
const LEAST: Range = Range::new("least thickness", "m", 0.0, 0.2);
const CROWN: Range = Range::new("brass from back to bore at the crown", "m", 0.0, 1.0);

/// A lined bearing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinedBearing {
    /// Diameter of the recess in the shell that the white metal fills, m.
    pub recess_m: f64,
    /// Finished bore, m.
    pub bore_m: f64,
    /// How far the bore's centre lies from the recess's, m (in any direction).
    pub offset_m: f64,
    /// Wear on the radius at which the bearing is to be re-metalled, m.
    pub wear_limit_m: f64,
    /// Least white metal that may be left then, m.
    pub least_metal_m: f64,
    /// Whole thickness at the crown, from the back of the brass to the finished bore, m.
    pub crown_m: f64,
    /// Least bronze behind the white metal, m.
    pub least_bronze_m: f64,
}

/// Thicknesses, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thickness {
    /// White metal after boring where it is thinnest: `(recess - bore) / 2 - offset`.
    pub thinnest_m: f64,
    /// White metal after boring where it is thickest.
    pub thickest_m: f64,
    /// White metal where thinnest, worn to the limit.
    pub worn_m: f64,
    /// Bronze behind the white metal where the metal is thickest: `crown - thickest`.
    pub bronze_m: f64,
    /// How the white metal stands.
    pub metal: ThicknessFinding,
    /// How the bronze stands.
    pub bronze: ThicknessFinding,
    /// Largest bore to which it may be bored or worn before the metal is too thin, m.
    pub largest_bore_m: f64,
}

/// How a thickness stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ThicknessFinding {
    /// As thick as it must be.
    Enough,
    /// Thinner than it must be, but there.
    TooThin,
    /// None left: the shell shows through.
    GoneThrough,
}

/// How thick the lining and the bronze are.
///
/// **Equation.** See [`Thickness`]; the largest bore is `recess - 2 (offset + least metal)`.
/// **Units.** m. **Source.** Own derivation (geometry of two circles); the limits are the
/// responsible engineer's.
///
/// # Errors
///
/// [`LiningError::OutOfRange`] on the inputs, [`LiningError::NotLarger`] when the recess is not
/// larger than the bore.
pub fn lining_thickness(lined: &LinedBearing) -> Result<Thickness, LiningError> {
    let (recess, bore) = (SIZE.check(lined.recess_m)?, SIZE.check(lined.bore_m)?);
    check_larger(("recess", recess), ("bore", bore))?;
    let offset = OFFSET.check(lined.offset_m)?;
    let wear = WEAR.check(lined.wear_limit_m)?;
    let least_metal = LEAST.check(lined.least_metal_m)?;
    let least_bronze = LEAST.check(lined.least_bronze_m)?;
    let crown = CROWN.check(lined.crown_m)?;
    let mean = 0.5 * (recess - bore);
    let (thinnest_m, thickest_m) = (mean - offset, mean + offset);
    let worn_m = thinnest_m - wear;
    let bronze_m = crown - thickest_m;
    Ok(Thickness {
        thinnest_m,
        thickest_m,
        worn_m,
        bronze_m,
        metal: finding(worn_m, least_metal),
        bronze: finding(bronze_m, least_bronze),
        largest_bore_m: recess - 2.0 * (offset + least_metal),
    })
}

fn finding(thickness_m: f64, least_m: f64) -> ThicknessFinding {
    if thickness_m <= 0.0 {
        ThicknessFinding::GoneThrough
    } else if thickness_m < least_m {
        ThicknessFinding::TooThin
    } else {
        ThicknessFinding::Enough
    }
}
