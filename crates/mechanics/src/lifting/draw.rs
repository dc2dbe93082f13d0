//! Drawing with a hydraulic jack, and the cords or rods that carry the pull.

use super::error::{FORCE, LiftingError, Range, check_larger};
use crate::wedge::Spread;
use std::f64::consts::PI;

const DIAMETER: Range = Range::new("diameter of a ram", "m", 1e-3, 2.0);
const PRESSURE: Range = Range::new("pressure", "Pa", 0.0, 5e8);
const EFFICIENCY: Range = Range::new("efficiency of a ram", "(ratio)", 0.5, 1.0);
const NEED: Range = Range::new("force needed", "N", 0.0, 1e8);

/// The area that pressure acts on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum RamArea {
    /// A solid ram, by its diameter, m.
    Solid {
        /// Diameter, m.
        diameter_m: f64,
    },
    /// A hollow ram for a rod through its middle, by both diameters, m.
    Hollow {
        /// Outer diameter, m.
        outer_m: f64,
        /// Inner diameter, m.
        inner_m: f64,
    },
    /// The maker's figure, m².
    Maker {
        /// Effective area, m².
        area_m2: f64,
    },
}

impl RamArea {
    /// The area, m²: `π d² / 4`, less the hole's.
    ///
    /// # Errors
    /// Diameters outside 1 mm to 2 m, outer not above inner.
    pub fn area_m2(&self) -> Result<f64, LiftingError> {
        let round = |d: f64| Ok::<_, LiftingError>(0.25 * PI * DIAMETER.check(d)?.powi(2));
        match *self {
            Self::Solid { diameter_m } => round(diameter_m),
            Self::Hollow { outer_m, inner_m } => {
                check_larger(("outer diameter", outer_m), ("inner diameter", inner_m))?;
                Ok(round(outer_m)? - round(inner_m)?)
            }
            Self::Maker { area_m2 } => Ok(Range::new("ram area", "m2", 1e-6, 4.0).check(area_m2)?),
        }
    }
}

/// A jack for drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrawJack {
    /// Its ram.
    pub ram: RamArea,
    /// How many work side by side on one pump.
    pub jacks: u32,
    /// Part of the pressure's force that reaches the work, 0.5 to 1: seals and return spring.
    pub efficiency: f64,
    /// Rated force of one jack, N.
    pub rated_n: f64,
    /// Pressure at which the pump's valve is set, Pa.
    pub valve_pa: f64,
    /// Stroke, m.
    pub stroke_m: f64,
}

/// What a draw asks of the jack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrawCheck {
    /// Gauge pressure for the force needed at low, likely and high friction, Pa.
    pub pressure_pa: Spread,
    /// The force needed, each jack's part, over one jack's rating.
    pub rating_share: Spread,
    /// The force all jacks together give when the valve lifts, N, friction of the seals left out:
    /// what the tackle must stand.
    pub force_at_valve_n: f64,
    /// That force over the ratings: above 1 the valve does not protect the jacks.
    pub valve_share: f64,
    /// What can be said.
    pub finding: DrawFinding,
}

/// Whether a jack can draw the part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrawFinding {
    /// Within rating and valve even at the high figure.
    Enough,
    /// At the likely figure yes, at the high one no: it may stick.
    MayStick,
    /// Not even at the likely figure.
    TooWeak,
}

/// Pressure and use of jacks for a draw of known force.
///
/// Equation: `p = F / (n A η)`. The stroke must be checked against the way the part sits tight.
///
/// # Errors
/// Values out of range: forces 0 to 1e8 N, pressure to 500 MPa, 1 to 16 jacks.
///
/// Worked value: 10 cm² at 700 bar gives 70 kN.
pub fn check_draw(jack: &DrawJack, need_n: Spread) -> Result<DrawCheck, LiftingError> {
    let area = jack.ram.area_m2()?;
    super::error::check_count("jacks", jack.jacks as usize, (1, 16))?;
    let n = f64::from(jack.jacks);
    let efficiency = EFFICIENCY.check(jack.efficiency)?;
    let rated = Range::new("rated force of a jack", "N", 1.0, 1e8).check(jack.rated_n)?;
    let valve = PRESSURE.check(jack.valve_pa)?;
    Range::new("stroke", "m", 1e-4, 10.0).check(jack.stroke_m)?;
    for force in [need_n.at_low, need_n.at_likely, need_n.at_high] {
        NEED.check(force)?;
    }
    let each = |scale: f64| Spread {
        at_low: need_n.at_low * scale,
        at_likely: need_n.at_likely * scale,
        at_high: need_n.at_high * scale,
    };
    let pressure_pa = each(1.0 / (n * area * efficiency));
    let rating_share = each(1.0 / (n * rated));
    let can = |p: f64, share: f64| p <= valve && share <= 1.0;
    // The figure at high friction need not be the highest.
    let worst = |s: Spread| s.at_low.max(s.at_likely).max(s.at_high);
    let finding = if can(worst(pressure_pa), worst(rating_share)) {
        DrawFinding::Enough
    } else if can(pressure_pa.at_likely, rating_share.at_likely) {
        DrawFinding::MayStick
    } else {
        DrawFinding::TooWeak
    };
    let force_at_valve_n = n * area * valve;
    Ok(DrawCheck {
        pressure_pa,
        rating_share,
        force_at_valve_n,
        valve_share: force_at_valve_n / (n * rated),
        finding,
    })
}

/// Cords, chains or rods that carry a pull.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PullCords {
    /// How many, evenly placed.
    pub cords: u32,
    /// Angle of each to the line of the pull, rad.
    pub angle_rad: f64,
    /// Length of each, m.
    pub length_m: f64,
    /// Modulus times area of each, N.
    pub axial_n: f64,
    /// Rated force of each, N.
    pub rated_n: f64,
}

/// What cords carry and what they keep in store.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CordPull {
    /// Tension of each, N.
    pub each_n: f64,
    /// Tension of each with one gone or slack, N; infinite with only one.
    pub one_less_n: f64,
    /// Tension of each over its rating.
    pub share: f64,
    /// Stretch of each, m.
    pub stretch_m: f64,
    /// Energy that flies back when the part lets go, J.
    pub stored_j: f64,
}

/// Tension, stretch and stored energy of cords that carry a pull.
///
/// Equation: `T = F / (n cos β)`, stretch `T L / EA`, stored `n T² L / 2EA`.
///
/// # Errors
/// Angle over 60 degrees; 1 to 64 cords; lengths, stiffness and forces out of range.
pub fn cord_pull(cords: &PullCords, pull_n: f64) -> Result<CordPull, LiftingError> {
    let pull = FORCE.check(pull_n)?;
    super::error::check_count("cords", cords.cords as usize, (1, 64))?;
    let n = f64::from(cords.cords);
    let most = std::f64::consts::FRAC_PI_3 + 1e-9;
    let cos =
        Range::new("angle of a cord to the pull", "rad", 0.0, most).check(cords.angle_rad)?.cos();
    let length = Range::new("length of a cord", "m", 1e-3, 100.0).check(cords.length_m)?;
    let axial = Range::new("axial stiffness E A of a cord", "N", 1e3, 1e12).check(cords.axial_n)?;
    let rated = Range::new("rated force of a cord", "N", 1.0, 1e8).check(cords.rated_n)?;
    let each_n = pull / (n * cos);
    let stretch_m = each_n * length / axial;
    Ok(CordPull {
        each_n,
        one_less_n: if cords.cords > 1 { pull / ((n - 1.0) * cos) } else { f64::INFINITY },
        share: each_n / rated,
        stretch_m,
        stored_j: 0.5 * n * each_n * stretch_m,
    })
}
