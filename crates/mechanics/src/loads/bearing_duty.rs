//! Projected pressure and rubbing speed of the pins through a revolution, for bearing duty.

use super::{LoadError, LoadRevolution};
use crate::motion::{Bound, CylinderNo, Grid, Motion, Running};

/// Size of a pin bearing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PinBearing {
    /// Diameter of the pin, m.
    pub diameter_m: f64,
    /// Length that bears, fillets and oil grooves left out, m.
    pub length_m: f64,
}

/// Duty of one bearing through a revolution, one entry a step.
#[derive(Debug, Clone, PartialEq)]
pub struct BearingDuty {
    /// Load over projected area, Pa.
    pub pressure_pa: Vec<f64>,
    /// Rubbing speed, m/s, never negative.
    pub rubbing_m_s: Vec<f64>,
    /// Greatest pressure, Pa.
    pub greatest_pa: f64,
    /// Wheel angle of the greatest pressure, rad.
    pub greatest_at_rad: f64,
    /// Mean pressure, Pa.
    pub mean_pa: f64,
    /// Greatest rubbing speed, m/s.
    pub greatest_rubbing_m_s: f64,
    /// Mean of pressure times rubbing speed, W/m².
    pub mean_pressure_speed_w_m2: f64,
}

impl PinBearing {
    fn area_m2(&self) -> Result<f64, LoadError> {
        const DIAMETER: Bound = Bound::new("pin diameter", "m", 0.005, 1.0);
        const LENGTH: Bound = Bound::new("bearing length", "m", 0.002, 2.0);
        Ok(DIAMETER.check(self.diameter_m)? * LENGTH.check(self.length_m)?)
    }
}

/// Duty of the big-end bearing.
///
/// Equation: `p = Q/(d b)`; rubbing speed `|w + dg/dt| d/2`, since the pin turns with the wheel
/// against a rod whose own angle swings (own derivation: forward rotation is clockwise in the
/// line's coordinates and the rod angle counts the other way).
/// Units: Pa, m/s. Worked value: 80 kN on a pin 0.2 m by 0.25 m is 1.6 MPa (definition).
///
/// # Errors
/// A size not finite or out of range; loads of another motion.
pub fn big_end_duty(
    motion: &Motion,
    loads: &LoadRevolution,
    cylinder: CylinderNo,
    running: &Running,
    bearing: PinBearing,
) -> Result<BearingDuty, LoadError> {
    let trace = loads.trace(motion, cylinder)?;
    let load = |i: usize| trace.pin_along_n[i].hypot(trace.pin_across_n[i]);
    duty(motion, loads, cylinder, running, bearing, load, 1.0)
}

/// Duty of the small-end bearing: the rod only swings on its pin.
///
/// Equation: `p = R/(d b)`; rubbing speed `|dg/dt| d/2`. Units and errors as
/// [`big_end_duty`].
///
/// # Errors
/// As [`big_end_duty`].
pub fn small_end_duty(
    motion: &Motion,
    loads: &LoadRevolution,
    cylinder: CylinderNo,
    running: &Running,
    bearing: PinBearing,
) -> Result<BearingDuty, LoadError> {
    let trace = loads.trace(motion, cylinder)?;
    duty(motion, loads, cylinder, running, bearing, |i| trace.small_end_n[i], 0.0)
}

/// Pressure of a slipper on its bar, Pa: amount of the slide bar force over the bearing area.
///
/// Equation: `p = |N|/(l b)`. Units: N, m, Pa.
///
/// # Errors
/// A value not finite or out of range.
pub fn slide_bar_pressure_pa(
    slide_bar_n: f64,
    slipper_length_m: f64,
    slipper_width_m: f64,
) -> Result<f64, LoadError> {
    const FORCE: Bound = Bound::new("slide bar force", "N", -1e8, 1e8);
    const LENGTH: Bound = Bound::new("slipper length", "m", 0.01, 3.0);
    const WIDTH: Bound = Bound::new("slipper width", "m", 0.01, 1.0);
    let area = LENGTH.check(slipper_length_m)? * WIDTH.check(slipper_width_m)?;
    Ok(FORCE.check(slide_bar_n)?.abs() / area)
}

fn duty(
    motion: &Motion,
    loads: &LoadRevolution,
    cylinder: CylinderNo,
    running: &Running,
    bearing: PinBearing,
    load: impl Fn(usize) -> f64,
    with_wheel: f64,
) -> Result<BearingDuty, LoadError> {
    let area = bearing.area_m2()?;
    let line = motion.checked_line(cylinder)?;
    let (sc, _) = line.with_axle(running.axle.at(line.line.lateral_m)?)?;
    let grid = Grid::new(loads.wheel_angle_rad.len())?;
    let (sin_k, cos_k) = line.crank_behind_wheel_rad().sin_cos();
    let n = grid.sin.len();
    let mut out = BearingDuty {
        pressure_pa: Vec::with_capacity(n),
        rubbing_m_s: Vec::with_capacity(n),
        greatest_pa: 0.0,
        greatest_at_rad: 0.0,
        mean_pa: 0.0,
        greatest_rubbing_m_s: 0.0,
        mean_pressure_speed_w_m2: 0.0,
    };
    for i in 0..n {
        let rod = sc.rod_line(
            grid.sin[i] * cos_k - grid.cos[i] * sin_k,
            grid.cos[i] * cos_k + grid.sin[i] * sin_k,
        );
        let pressure = load(i) / area;
        let turn = (with_wheel + rod.dg) * running.speed_rad_s;
        let rubbing = 0.5 * bearing.diameter_m * turn.abs();
        if out.greatest_pa < pressure {
            out.greatest_pa = pressure;
            out.greatest_at_rad = grid.wheel_angle_rad[i];
        }
        out.greatest_rubbing_m_s = out.greatest_rubbing_m_s.max(rubbing);
        out.mean_pa += pressure;
        out.mean_pressure_speed_w_m2 += pressure * rubbing;
        out.pressure_pa.push(pressure);
        out.rubbing_m_s.push(rubbing);
    }
    out.mean_pa /= n as f64;
    out.mean_pressure_speed_w_m2 /= n as f64;
    Ok(out)
}
