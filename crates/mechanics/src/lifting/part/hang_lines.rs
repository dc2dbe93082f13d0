//! Balance point by hook and string.

use super::super::error::{LiftingError, PLACE, Range};

const U: Range = Range::new("standard uncertainty", "m or rad", 0.0, 1.0);
const DIRECTION: Range = Range::new("direction of a plumb line", "rad", -10.0, 10.0);

/// Lines that cross at less than this tell nothing useful (common practice).
const LEAST_CROSSING_RAD: f64 = 0.26;

/// The plumb line marked on a part that hung freely from one point, in the plane of the mark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HangLine {
    /// The point it hung from, m in the plane of the mark.
    pub from_m: [f64; 2],
    /// Direction of the string, rad from the first axis.
    pub direction_rad: f64,
    /// Standard uncertainty of the point across the string, m.
    pub u_from_m: f64,
    /// Standard uncertainty of the direction, rad: width of the mark over its length.
    pub u_direction_rad: f64,
}

/// Where two plumb lines cross.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HungCentre {
    /// The balance point in the plane of the marks, m.
    pub centre_m: [f64; 2],
    /// Standard uncertainty on each axis, m.
    pub u_centre_m: [f64; 2],
    /// Angle at which the lines cross, rad, up to a right angle.
    pub crossing_rad: f64,
}

/// Balance point from two hangs: the crossing of the two plumb lines.
///
/// Own derivation: line i holds the points c with `n_i · (c − p_i) = 0`, `n_i` across the string.
/// Solve for both; an offset of line i by δ across moves the crossing by `δ d_j / (d_j · n_i)`, with
/// `d_j` along the other line. δ is the error of the point and the direction error times the
/// distance from the point to the crossing.
///
/// # Errors
/// Lines that cross at less than 15 degrees; places, directions or uncertainties out of range.
pub fn centre_from_two_hangs(lines: &[HangLine; 2]) -> Result<HungCentre, LiftingError> {
    for line in lines {
        PLACE.check(line.from_m[0])?;
        PLACE.check(line.from_m[1])?;
        DIRECTION.check(line.direction_rad)?;
        U.check(line.u_from_m)?;
        U.check(line.u_direction_rad)?;
    }
    let along = lines.map(|l| [l.direction_rad.cos(), l.direction_rad.sin()]);
    let across = along.map(|d| [-d[1], d[0]]);
    let sine = dot(across[0], along[1]);
    let crossing_rad = sine.abs().min(1.0).asin();
    if crossing_rad < LEAST_CROSSING_RAD {
        return Err(LiftingError::LinesTooParallel {
            angle_deg: crossing_rad.to_degrees(),
            least_deg: LEAST_CROSSING_RAD.to_degrees(),
        });
    }
    let [p, q] = lines.map(|l| l.from_m);
    // The place on the second line that lies on the first: n0 · (q + s d1 - p) = 0.
    let s = dot(across[0], [p[0] - q[0], p[1] - q[1]]) / sine;
    let centre_m = [q[0] + s * along[1][0], q[1] + s * along[1][1]];
    let mut variance = [0.0, 0.0];
    for i in 0..2 {
        let from = lines[i].from_m;
        let reach = (centre_m[0] - from[0]).hypot(centre_m[1] - from[1]);
        let delta = lines[i].u_from_m.hypot(lines[i].u_direction_rad * reach);
        let other = along[1 - i];
        let scale = delta / dot(other, across[i]);
        for axis in 0..2 {
            variance[axis] += (scale * other[axis]).powi(2);
        }
    }
    Ok(HungCentre { centre_m, u_centre_m: variance.map(f64::sqrt), crossing_rad })
}

fn dot(a: [f64; 2], b: [f64; 2]) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}
