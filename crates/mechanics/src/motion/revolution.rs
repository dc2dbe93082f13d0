//! A whole revolution at once, one array a quantity.

use super::line::CheckedLine;
use super::{Motion, MotionError, Place, Running};
use std::f64::consts::TAU;

/// More than a step a second of arc.
const STEP_LIMIT: usize = 2_000_000;

/// One cylinder through a revolution; every array has one entry a step.
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderTrace {
    /// Where the cylinder sits.
    pub place: Place,
    /// Stroke, m.
    pub stroke_m: f64,
    /// Crosshead back from the front end of its stroke, m.
    pub from_front_m: Vec<f64>,
    /// Velocity, m/s, positive towards the front.
    pub velocity_m_s: Vec<f64>,
    /// Acceleration, m/s², positive towards the front.
    pub acceleration_m_s2: Vec<f64>,
    /// Rod to the line, rad, positive with the crank pin below.
    pub rod_angle_rad: Vec<f64>,
}

/// All cylinders through one revolution in equal steps of the wheel angle, from 0.
#[derive(Debug, Clone, PartialEq)]
pub struct Revolution {
    /// Wheel angle of each step, rad, from 0 up to but not including 2π.
    pub wheel_angle_rad: Vec<f64>,
    /// The cylinders in the order given to [`Motion::new`].
    pub cylinders: Vec<CylinderTrace>,
}

impl Motion {
    /// Every cylinder at `steps` equal steps of one revolution (3600 gives a tenth of a degree).
    ///
    /// Equation: as [`Motion::cylinder_at`]; sine and cosine are taken once a step and turned by
    /// each crank's lag with the addition theorem.
    /// Units: rad, m, m/s, m/s²; signs as in the [module](super).
    ///
    /// # Errors
    /// Fewer than 1 or more than 2 000 000 steps; an input not finite or out of range.
    pub fn revolution(&self, steps: usize, running: &Running) -> Result<Revolution, MotionError> {
        running.check()?;
        let grid = Grid::new(steps)?;
        let cylinders = self
            .lines
            .iter()
            .map(|line| trace(line, &grid, running))
            .collect::<Result<Vec<_>, _>>()?;
        Ok(Revolution { wheel_angle_rad: grid.wheel_angle_rad, cylinders })
    }
}

fn trace(line: &CheckedLine, grid: &Grid, running: &Running) -> Result<CylinderTrace, MotionError> {
    let (sc, _) = line.with_axle(running.axle.at(line.line.lateral_m)?)?;
    let ends = sc.dead_centres();
    let (w, dw) = (running.speed_rad_s, running.acceleration_rad_s2);
    let (sin_k, cos_k) = line.crank_behind_wheel_rad().sin_cos();
    let steps = grid.sin.len();
    let mut out = CylinderTrace {
        place: line.line.place,
        stroke_m: ends.stroke_m(),
        from_front_m: Vec::with_capacity(steps),
        velocity_m_s: Vec::with_capacity(steps),
        acceleration_m_s2: Vec::with_capacity(steps),
        rod_angle_rad: Vec::with_capacity(steps),
    };
    for (sin, cos) in grid.sin.iter().zip(&grid.cos) {
        let now = sc.at_sin_cos(sin * cos_k - cos * sin_k, cos * cos_k + sin * sin_k);
        out.from_front_m.push(ends.front_m - now.position_m);
        out.velocity_m_s.push(now.position_per_rad_m * w);
        out.acceleration_m_s2.push(now.position_per_rad2_m * w * w + now.position_per_rad_m * dw);
        out.rod_angle_rad.push(now.rod_angle_rad);
    }
    Ok(out)
}

/// Equal steps of a turn with their sines and cosines.
#[derive(Debug, Clone)]
pub(crate) struct Grid {
    pub(crate) wheel_angle_rad: Vec<f64>,
    pub(crate) sin: Vec<f64>,
    pub(crate) cos: Vec<f64>,
}

impl Grid {
    pub(crate) fn new(steps: usize) -> Result<Self, MotionError> {
        if steps == 0 || STEP_LIMIT < steps {
            return Err(MotionError::Count {
                what: "steps of a revolution",
                count: steps,
                low: 1,
                high: STEP_LIMIT,
            });
        }
        let step_rad = TAU / steps as f64;
        let wheel_angle_rad: Vec<f64> = (0..steps).map(|i| i as f64 * step_rad).collect();
        let (mut sin, mut cos) = (vec![0.0; steps], vec![0.0; steps]);
        if steps.is_multiple_of(4) {
            // One quarter is worked out, the other three are the same numbers turned.
            let n = steps / 4;
            for i in 0..n {
                let (s, c) = wheel_angle_rad[i].sin_cos();
                (sin[i], cos[i]) = (s, c);
                (sin[i + n], cos[i + n]) = (c, -s);
                (sin[i + 2 * n], cos[i + 2 * n]) = (-s, -c);
                (sin[i + 3 * n], cos[i + 3 * n]) = (-c, s);
            }
        } else {
            for i in 0..steps {
                (sin[i], cos[i]) = wheel_angle_rad[i].sin_cos();
            }
        }
        Ok(Self { wheel_angle_rad, sin, cos })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::motion::{CylinderLine, CylinderNo, WheelAngle};

    #[test]
    fn the_batch_and_the_single_question_agree() -> Result<(), MotionError> {
        let line = |lag: f64| CylinderLine {
            place: Place::Middle,
            lateral_m: 0.2,
            crank_throw_m: 0.31,
            rod_centres_m: 1.9,
            incline_rad: 0.12,
            offset_m: 0.03,
            crank_lag_rad: lag,
        };
        let motion = Motion::new(&[line(0.0), line(2.2)])?;
        let running = Running { acceleration_rad_s2: 3.0, ..Running::steady(25.0) };
        for steps in [7, 360] {
            let all = motion.revolution(steps, &running)?;
            for (i, angle) in all.wheel_angle_rad.iter().enumerate() {
                for c in 0..2 {
                    let wheel = WheelAngle::from_rad(*angle)?;
                    let one = motion.cylinder_at(CylinderNo(c), wheel, &running)?;
                    let many = &all.cylinders[c];
                    assert!((one.from_front_m - many.from_front_m[i]).abs() < 1e-14);
                    assert!((one.velocity_m_s - many.velocity_m_s[i]).abs() < 1e-12);
                    assert!((one.acceleration_m_s2 - many.acceleration_m_s2[i]).abs() < 1e-10);
                    assert!((one.rod_angle_rad - many.rod_angle_rad[i]).abs() < 1e-15);
                }
            }
        }
        assert!(motion.revolution(0, &running).is_err());
        assert!(motion.revolution(usize::MAX, &running).is_err());
        Ok(())
    }
}
