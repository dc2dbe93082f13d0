//! Load on each jack, and how far the load is from tipping.

use super::super::error::{FORCE, LiftingError, Range, check_count, check_place};
use super::super::sling::shares;
use super::super::{Body, STANDARD_GRAVITY_M_S2};
use super::base::base_of;
use crate::wedge::Friction;
use nalgebra::Vector3;

const RATING: Range = Range::new("rating of a jack", "kg", 0.1, 1e7);
const SIDE: Range = Range::new("side load allowed on a jack", "(ratio)", 0.0, 1.0);
const PRESSURE: Range = Range::new("pressure allowed on packing", "Pa", 1e3, 1e10);
const SIZE: Range = Range::new("size of packing", "m", 1e-3, 100.0);
const SLENDER: Range = Range::new("height over width allowed", "(ratio)", 0.1, 20.0);
const GRADE: Range = Range::new("slope of the ground", "rad", 0.0, 0.5);

/// What stands under the load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SupportKind {
    /// A jack, rated in kg, and the side load it may take over the load on it.
    Jack {
        /// Rating, kg.
        rated_kg: f64,
        /// Side load allowed over the load carried: the maker's figure; many allow none, some 0.05
        /// (from memory).
        side_share: f64,
    },
    /// Packing or a trestle.
    Packed,
}

/// The packing under a support.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Packing {
    /// Height of the pile, m.
    pub height_m: f64,
    /// Its least width at the foot, m.
    pub width_m: f64,
    /// Area of the jack's foot, or of the load, on it, m².
    pub area_m2: f64,
    /// Pressure it may bear, Pa: across the grain of timber.
    pub most_pressure_pa: f64,
    /// Height over width allowed: 3 is a common limit for crossed timber (common practice).
    pub most_slenderness: f64,
}

/// One support.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Support {
    /// Where its head bears, m in plan in the part's frame.
    pub at_m: [f64; 2],
    /// What it is.
    pub kind: SupportKind,
    /// What it stands on, where that is piled up.
    pub packing: Option<Packing>,
}

/// A load on jacks and packing, level.
#[derive(Debug, Clone, PartialEq)]
pub struct Jacking {
    /// The load.
    pub body: Body,
    /// Three or more supports.
    pub supports: Vec<Support>,
    /// Height of the heads in the part's frame, m.
    pub heads_m: f64,
    /// Side force from any direction (a pull, wind, a bar), N.
    pub side_n: f64,
    /// Its height above the heads, m.
    pub side_above_heads_m: f64,
    /// Slope of the ground or the load, in any direction, rad.
    pub grade_rad: f64,
    /// Friction of the load on the heads.
    pub heads: Friction,
}

/// Load on one support.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JackLoad {
    /// All supports alike in height and give, N (the one answer of statics with three).
    pub even_n: f64,
    /// The least it can carry, N.
    pub least_n: f64,
    /// The most it can carry, N: with four or more, while others stand low.
    pub most_n: f64,
    /// The most over the rating, for a jack.
    pub share: Option<f64>,
    /// Pressure on the packing at the most, Pa.
    pub pressure_pa: Option<f64>,
}

/// Something to be told about a load on jacks.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum JackFinding {
    /// A jack over its rating.
    Over {
        /// The support, from 0.
        support: usize,
        /// Load over rating.
        share: f64,
    },
    /// More side load than the jack may take.
    SideLoad {
        /// The support, from 0.
        support: usize,
        /// Side load over load.
        share: f64,
        /// Allowed.
        allowed: f64,
    },
    /// The side force overcomes the lowest friction: the load slides off its heads.
    Slides {
        /// Side force and slope together over the weight.
        share: f64,
        /// Low friction.
        friction: f64,
    },
    /// The load tips under side force and slope, or may do so within the uncertainty of its balance
    /// point.
    Tips {
        /// What is left of the margin, m.
        left_m: f64,
    },
    /// Packing too tall for its foot.
    Slender {
        /// The support, from 0.
        support: usize,
        /// Height over width.
        ratio: f64,
        /// Allowed.
        allowed: f64,
    },
    /// Packing pressed over what it may bear.
    Crushed {
        /// The support, from 0.
        support: usize,
        /// Pressure over allowed.
        share: f64,
    },
    /// A support may carry nothing while others carry its load.
    MayStandFree {
        /// The support, from 0.
        support: usize,
    },
}

/// Loads and stability of a load on jacks.
#[derive(Debug, Clone, PartialEq)]
pub struct JackLoads {
    /// Load of each support, in the order given.
    pub loads: Vec<JackLoad>,
    /// Distance of the balance point in plan to the nearest side of the supports, m.
    pub margin_m: f64,
    /// The two supports of that side.
    pub over: [usize; 2],
    /// What is left of it after side force, slope and two standard uncertainties of the balance
    /// point, m.
    pub left_m: f64,
    /// The tilt that would bring the balance point over that side, rad.
    pub tip_rad: f64,
    /// The side force at its height that would tip the load, N; infinite for a force at the heads.
    pub tip_n: f64,
    /// What else is to be told.
    pub findings: Vec<JackFinding>,
}

/// Load on each of three or more supports and how far the load is from tipping.
///
/// Equations: `Σ R = W`, `Σ R p = W g`, `R ≥ 0`: one answer with three supports, a range with more,
/// its ends with at most three supports carrying; evenly giving supports settle in a plane
/// (least work). Side force F at height a over the heads and slope γ move the line of the weight by
/// `F a / W + z tan γ`, z the height of the balance point over the heads. Sliding:
/// `F / W + tan γ > μ`. Loads are those without side force.
///
/// # Errors
/// [`LiftingError::OutsideSupports`]; supports in one line, fewer than 3 or
/// more than 12; sizes out of range.
///
/// Worked value: a wagon on four equal jacks at its corners, balance point in the middle: W/4 each,
/// but up to W/2 on two if the other two stand low (statics).
pub fn jack_loads(jacking: &Jacking) -> Result<JackLoads, LiftingError> {
    // The range is taken over all threes of supports.
    check_count("supports", jacking.supports.len(), (3, 12))?;
    let points: Vec<[f64; 2]> = jacking.supports.iter().map(|s| s.at_m).collect();
    let base = base_of(&points)?;
    let [gx, gy, gz] = jacking.body.centre_m();
    check_place(&[0.0, 0.0, jacking.heads_m])?;
    let weight = jacking.body.mass_kg() * STANDARD_GRAVITY_M_S2;
    let side_n = FORCE.check(jacking.side_n)?;
    let lever = Range::new("height of the side force over the heads", "m", 0.0, 100.0)
        .check(jacking.side_above_heads_m)?;
    let slope = GRADE.check(jacking.grade_rad)?.tan();
    let (margin_m, over) = base.margin([gx, gy]);
    if margin_m < 0.0 {
        return Err(LiftingError::OutsideSupports { outside_m: -margin_m });
    }
    // Places from the balance point, so that the equations stay well scaled.
    let units: Vec<Vector3<f64>> =
        points.iter().map(|p| Vector3::new(1.0, p[0] - gx, p[1] - gy)).collect();
    let lift = Vector3::new(weight, 0.0, 0.0);
    let range = shares(&units, &vec![1.0; units.len()], &lift)?;

    let high = gz - jacking.heads_m;
    let u = jacking.body.u_centre_m();
    let unsure = 2.0 * u[0].hypot(u[1]);
    let left_m = margin_m - side_n * lever / weight - high.max(0.0) * slope - unsure;
    let mut findings = Vec::new();
    if left_m <= 0.0 {
        findings.push(JackFinding::Tips { left_m });
    }
    let sideways = side_n / weight + slope;
    if sideways > jacking.heads.low() {
        let friction = jacking.heads.low();
        findings.push(JackFinding::Slides { share: sideways, friction });
    }
    let mut loads = Vec::with_capacity(points.len());
    for (i, support) in jacking.supports.iter().enumerate() {
        let most_n = range.most_n[i];
        let share = match support.kind {
            SupportKind::Jack { rated_kg, side_share } => {
                let share = most_n / (RATING.check(rated_kg)? * STANDARD_GRAVITY_M_S2);
                let allowed = SIDE.check(side_share)?;
                if share > 1.0 {
                    findings.push(JackFinding::Over { support: i, share });
                }
                if sideways > allowed {
                    findings.push(JackFinding::SideLoad { support: i, share: sideways, allowed });
                }
                Some(share)
            }
            SupportKind::Packed => None,
        };
        if range.least_n[i] <= 1e-9 * weight && range.most_n[i] > 1e-9 * weight {
            findings.push(JackFinding::MayStandFree { support: i });
        }
        let pressure_pa = match &support.packing {
            Some(p) => Some(judge_packing(p, i, most_n, &mut findings)?),
            None => None,
        };
        loads.push(JackLoad {
            even_n: range.even_n[i],
            least_n: range.least_n[i],
            most_n,
            share,
            pressure_pa,
        });
    }
    Ok(JackLoads {
        loads,
        margin_m,
        over,
        left_m,
        tip_rad: margin_m.atan2(high.max(0.0)),
        tip_n: if lever > 0.0 { weight * margin_m / lever } else { f64::INFINITY },
        findings,
    })
}

fn judge_packing(
    packing: &Packing,
    support: usize,
    most_n: f64,
    findings: &mut Vec<JackFinding>,
) -> Result<f64, LiftingError> {
    let ratio = SIZE.check(packing.height_m)? / SIZE.check(packing.width_m)?;
    let allowed = SLENDER.check(packing.most_slenderness)?;
    if ratio > allowed {
        findings.push(JackFinding::Slender { support, ratio, allowed });
    }
    let area = Range::new("area on the packing", "m2", 1e-6, 100.0).check(packing.area_m2)?;
    let pressure = most_n / area;
    let share = pressure / PRESSURE.check(packing.most_pressure_pa)?;
    if share > 1.0 {
        findings.push(JackFinding::Crushed { support, share });
    }
    Ok(pressure)
}
