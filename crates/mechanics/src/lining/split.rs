//! A split bearing closed by filing its joint faces, and whether it then bores clean.

use super::circle::smallest_circle;
use super::error::{LiningError, Range};

const ANGLE: Range = Range::new("direction of a point", "rad", -6.3, 12.6);
const RADIUS: Range = Range::new("radius of a point", "m", 1e-4, 2.0);
const FILED: Range = Range::new("metal filed off a joint face", "m", 0.0, 0.05);
const SKIM: Range = Range::new("least cut", "m", 0.0, 0.02);
const BORE: Range = Range::new("bore to finish", "m", 1e-3, 3.0);
const GAP: Range = Range::new("gap at the joint", "m", -0.01, 0.05);
const OFFSET: Range = Range::new("offset of the bore's centre", "m", -0.05, 0.05);
const LEAST_POINTS: usize = 6;
const MOST_POINTS: usize = 20_000;

/// One gauged point of the bore: direction from the joint line, and radius from the common centre.
///
/// The joint lies along directions 0 and pi; the upper half is 0 to pi, the lower pi to 2 pi.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BorePoint {
    /// Direction, rad.
    pub angle_rad: f64,
    /// Radius, m.
    pub radius_m: f64,
}

/// Which half has its back on a seat that does not move.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FixedHalf {
    /// The half at 0 to pi.
    Upper,
    /// The half at pi to 2 pi.
    Lower,
}

/// What is filed off, and what the bore is to become.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Closing {
    /// Filed off each joint face of the upper half, m.
    pub upper_filed_m: f64,
    /// Filed off each joint face of the lower half, m.
    pub lower_filed_m: f64,
    /// Least cut that is wanted everywhere, on the radius, m.
    pub least_cut_m: f64,
    /// Which half stays where it is.
    pub fixed: FixedHalf,
}

/// Where the bore is to be centred.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoreCentre {
    /// Wherever the smallest bore cleans up.
    Free,
    /// At a given place in the frame of the fixed half, m from the old centre: along the joint,
    /// and square to it towards the upper half.
    At {
        /// Along the joint, m.
        along_m: f64,
        /// Square to the joint, towards the upper half, m.
        across_m: f64,
    },
}

/// A closed bearing before boring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClosedBore {
    /// Smallest diameter at which it cleans up all round with the least cut, m.
    pub least_bore_m: f64,
    /// Centre of that bore along the joint, m from the old centre.
    pub along_m: f64,
    /// Centre of that bore square to the joint in the frame of the fixed half, m from the old
    /// centre, towards the upper half.
    pub across_m: f64,
    /// Diameter from crown to crown after closing, before boring, m.
    pub crown_to_crown_m: f64,
    /// How much the crowns came together, m.
    pub closed_m: f64,
}

/// Does it bore clean at a given size?
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CleanUp {
    /// What comes of it.
    pub finding: CleanUpFinding,
    /// Least cut on the radius anywhere, m; negative where the tool does not touch.
    pub least_cut_m: f64,
    /// Greatest cut on the radius, m.
    pub greatest_cut_m: f64,
    /// Direction of the least cut, rad from the joint line.
    pub least_cut_rad: f64,
}

/// What comes of boring.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CleanUpFinding {
    /// At least the least cut everywhere.
    CleansUp,
    /// The tool touches everywhere, but somewhere by less than the least cut.
    BarelyCleansUp,
    /// Somewhere old surface is left.
    LeavesOldSurface,
}

/// Closes a split bearing and finds the smallest bore that cleans up.
///
/// **Equation.** Own derivation. In the frame of the joint, filing `f` off a half brings its points
/// `f` nearer to the joint; points within `f` of it are filed away. The smallest bore that cleans up
/// is the smallest circle around all points that are left, plus the least cut. In the frame of the
/// fixed half the joint itself moves by what was filed off that half. **Units.** m, rad; see
/// [`BorePoint`]. **Range.** Halves move square to the joint, without tipping. **Source.** Own
/// derivation. **Worked value.** A round bore of radius `r`, `f` filed off each half, becomes `2 f`
/// less from crown to crown and cleans up at `2 sqrt(r^2 - f^2)`, a hair under its old diameter.
///
/// # Errors
///
/// [`LiningError::PointCount`] unless 6 to 20 000 points, [`LiningError::OutOfRange`] on the
/// inputs, [`LiningError::HalfMissing`] when a half has no points left.
pub fn close_bore(points: &[BorePoint], closing: &Closing) -> Result<ClosedBore, LiningError> {
    let moved = close_points(points, closing)?;
    let circle = smallest_circle(&moved);
    let crowns = |points: &[[f64; 2]]| {
        let top = points.iter().map(|p| p[1]).fold(f64::NEG_INFINITY, f64::max);
        let bottom = points.iter().map(|p| p[1]).fold(f64::INFINITY, f64::min);
        top - bottom
    };
    let nothing = Closing { upper_filed_m: 0.0, lower_filed_m: 0.0, ..*closing };
    let before = crowns(&close_points(points, &nothing)?);
    let crown_to_crown_m = crowns(&moved);
    Ok(ClosedBore {
        least_bore_m: 2.0 * (circle.radius + closing.least_cut_m),
        along_m: circle.centre[0],
        across_m: circle.centre[1] + joint_shift(closing),
        crown_to_crown_m,
        closed_m: before - crown_to_crown_m,
    })
}

/// Whether a closed bearing bores clean at a given size and centre.
///
/// **Equation.** Cut at each point left: `bore / 2 - distance from the bore's centre`. **Units,
/// range, source.** As [`close_bore`].
///
/// # Errors
///
/// As [`close_bore`].
pub fn clean_up(
    points: &[BorePoint],
    closing: &Closing,
    bore_m: f64,
    centre: BoreCentre,
) -> Result<CleanUp, LiningError> {
    let radius = 0.5 * BORE.check(bore_m)?;
    let moved = close_points(points, closing)?;
    let [x, y] = match centre {
        BoreCentre::Free => smallest_circle(&moved).centre,
        BoreCentre::At { along_m, across_m } => {
            [OFFSET.check(along_m)?, OFFSET.check(across_m)? - joint_shift(closing)]
        }
    };
    let (mut least_cut_m, mut greatest_cut_m) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut least_cut_rad = 0.0;
    for point in &moved {
        let cut = radius - (point[0] - x).hypot(point[1] - y);
        if cut < least_cut_m {
            least_cut_m = cut;
            least_cut_rad = (point[1] - y).atan2(point[0] - x).rem_euclid(std::f64::consts::TAU);
        }
        greatest_cut_m = greatest_cut_m.max(cut);
    }
    let finding = if least_cut_m >= closing.least_cut_m && least_cut_m > 0.0 {
        CleanUpFinding::CleansUp
    } else if least_cut_m > 0.0 {
        CleanUpFinding::BarelyCleansUp
    } else {
        CleanUpFinding::LeavesOldSurface
    };
    Ok(CleanUp { finding, least_cut_m, greatest_cut_m, least_cut_rad })
}

/// How two halves meet when they are drawn up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum JointFit {
    /// A gap is left at the joint, m: the wedge or bolts clamp the journal's clearance only.
    Gap(f64),
    /// The joint faces meet, with nothing over.
    MetalToMetal,
    /// The halves stand proud by this much, m, and are squeezed when drawn up.
    Nip(f64),
}

/// How far the halves stand from meeting: slot or housing less both halves, and what to file to
/// come to a wanted nip or gap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct JointAdvice {
    /// How they meet now.
    pub now: JointFit,
    /// To be filed off both joint faces of a side together, m; negative: metal (or a shim) is
    /// wanting.
    pub file_m: f64,
}

/// What to file off the joint for a wanted nip.
///
/// **Equation.** `gap now` is read with both halves hard on their seats (negative: they stand proud);
/// filing `f` widens it by `f`, so `f = -nip wanted - gap now`. **Units.** m; within 2 um counts as
/// metal to metal. **Source.** Own derivation (a difference).
///
/// # Errors
///
/// [`LiningError::OutOfRange`] on the inputs.
pub fn file_for_nip(gap_now_m: f64, nip_wanted_m: f64) -> Result<JointAdvice, LiningError> {
    const NIP: Range = Range::new("nip wanted", "m", -0.01, 0.01);
    /// Closer than this no feeler goes in and nothing is squeezed.
    const MEETS_M: f64 = 2e-6;
    let gap = GAP.check(gap_now_m)?;
    let nip = NIP.check(nip_wanted_m)?;
    let now = if gap > MEETS_M {
        JointFit::Gap(gap)
    } else if gap < -MEETS_M {
        JointFit::Nip(-gap)
    } else {
        JointFit::MetalToMetal
    };
    Ok(JointAdvice { now, file_m: -nip - gap })
}

/// Where the joint goes in the frame of the fixed half, towards the upper half: filing the fixed
/// half brings the joint nearer to its back.
fn joint_shift(closing: &Closing) -> f64 {
    match closing.fixed {
        FixedHalf::Upper => closing.upper_filed_m,
        FixedHalf::Lower => -closing.lower_filed_m,
    }
}

/// The points in the frame of the joint after filing.
fn close_points(points: &[BorePoint], closing: &Closing) -> Result<Vec<[f64; 2]>, LiningError> {
    if !(LEAST_POINTS..=MOST_POINTS).contains(&points.len()) {
        let (least, most) = (LEAST_POINTS, MOST_POINTS);
        return Err(LiningError::PointCount { given: points.len(), least, most });
    }
    SKIM.check(closing.least_cut_m)?;
    let upper = FILED.check(closing.upper_filed_m)?;
    let lower = FILED.check(closing.lower_filed_m)?;
    let mut moved = Vec::with_capacity(points.len());
    let (mut above, mut below) = (false, false);
    for point in points {
        let (sin, cos) = ANGLE.check(point.angle_rad)?.sin_cos();
        let radius = RADIUS.check(point.radius_m)?;
        let (x, y) = (radius * cos, radius * sin);
        if y >= 0.0 && y >= upper {
            above = true;
            moved.push([x, y - upper]);
        } else if y < 0.0 && -y >= lower {
            below = true;
            moved.push([x, y + lower]);
        }
    }
    match (above, below) {
        (true, true) => Ok(moved),
        (false, _) => Err(LiningError::HalfMissing { half: "upper" }),
        (_, false) => Err(LiningError::HalfMissing { half: "lower" }),
    }
}
