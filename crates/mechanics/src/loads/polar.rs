//! Crank-pin load as a polar diagram: seen from the pin, and seen from the brasses.

use super::{LoadError, LoadRevolution};
use crate::motion::{CylinderNo, Grid, Motion, Running};

/// One step of a polar diagram.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PolarPoint {
    /// Wheel angle, rad.
    pub wheel_angle_rad: f64,
    /// Load, N.
    pub load_n: f64,
    /// On the *pin*: the part along the crank, outward positive, N.
    pub pin_outward_n: f64,
    /// On the *pin*: the part square to the crank, forward rotation positive, N.
    pub pin_forward_n: f64,
    /// On the *brasses*: the part along the rod, N; positive presses the brass on the side away
    /// from the rod (the outer brass), negative the brass next to the rod.
    pub brass_outer_n: f64,
    /// On the *brasses*: the part square to the rod, upward positive, N.
    pub brass_up_n: f64,
}

/// Polar diagram of one crank pin.
#[derive(Debug, Clone, PartialEq)]
pub struct PinPolar {
    /// One point a step.
    pub points: Vec<PolarPoint>,
    /// Greatest load, N.
    pub greatest_n: f64,
    /// Wheel angle of the greatest load, rad.
    pub greatest_at_rad: f64,
    /// Mean of the load's amount over the revolution, N.
    pub mean_n: f64,
}

/// Polar diagram of the load between one rod and its crank pin.
///
/// Equation: the rod's force on the pin `Q`, turned into the crank's directions (outward
/// `(cos f, -sin f)`, forward `(-sin f, -cos f)`); the pin's force on the brasses `-Q`, turned into
/// the rod's (from small to big end, and up from it). Own derivation.
/// Units: N. Valid for the motion, axle position and steps the loads were worked out with.
///
/// # Errors
/// No cylinder of that number; loads of another motion or number of steps.
pub fn pin_polar(
    motion: &Motion,
    loads: &LoadRevolution,
    cylinder: CylinderNo,
    running: &Running,
) -> Result<PinPolar, LoadError> {
    let line = motion.checked_line(cylinder)?;
    let trace = loads.trace(motion, cylinder)?;
    let grid = Grid::new(loads.wheel_angle_rad.len())?;
    let (sc, _) = line.with_axle(running.axle.at(line.line.lateral_m)?)?;
    let (sin_k, cos_k) = line.crank_behind_wheel_rad().sin_cos();
    let mut points = Vec::with_capacity(grid.sin.len());
    for i in 0..grid.sin.len() {
        let (sin, cos) =
            (grid.sin[i] * cos_k - grid.cos[i] * sin_k, grid.cos[i] * cos_k + grid.sin[i] * sin_k);
        let rod = sc.rod_line(sin, cos);
        let l = sc.rod_centres_m();
        let (sin_g, cos_g) = (rod.u / l, rod.q / l);
        let (qs, qw) = (trace.pin_along_n[i], trace.pin_across_n[i]);
        points.push(PolarPoint {
            wheel_angle_rad: loads.wheel_angle_rad[i],
            load_n: qs.hypot(qw),
            pin_outward_n: qs * cos - qw * sin,
            pin_forward_n: -qs * sin - qw * cos,
            // The pin pushes the brasses with -Q; from small to big end is (-cos g, -sin g), up
            // from the rod is (-sin g, cos g).
            brass_outer_n: qs * cos_g + qw * sin_g,
            brass_up_n: qs * sin_g - qw * cos_g,
        });
    }
    let greatest = points
        .iter()
        .copied()
        .reduce(|best, p| if best.load_n < p.load_n { p } else { best })
        .ok_or(LoadError::Count {
            what: "steps of a revolution",
            count: 0,
            low: 1,
            high: 2_000_000,
        })?;
    let mean_n = points.iter().map(|p| p.load_n).sum::<f64>() / points.len() as f64;
    Ok(PinPolar {
        greatest_n: greatest.load_n,
        greatest_at_rad: greatest.wheel_angle_rad,
        mean_n,
        points,
    })
}
