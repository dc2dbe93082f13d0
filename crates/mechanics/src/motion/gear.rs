//! The whole motion: every cylinder at one wheel angle.

use super::angle::fold_turn;
use super::bounds::{ANGULAR_ACCELERATION, SPEED};
use super::line::CheckedLine;
use super::{
    AxleBoxes, AxlePosition, CylinderLine, CylinderNo, DeadCentres, MotionError, Place, WheelAngle,
};

/// More cylinders on one driving axle than anyone has built.
const CYLINDER_LIMIT: usize = 16;

/// A point in the engine frame, m: `x` forward, `z` up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PointXz {
    /// Forward, m.
    pub x_m: f64,
    /// Up, m.
    pub z_m: f64,
}

/// How the wheels are turning and where the axle stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Running {
    /// The driving axle's boxes.
    pub axle: AxleBoxes,
    /// Angular speed of the wheels, rad/s, forward positive.
    pub speed_rad_s: f64,
    /// Angular acceleration of the wheels, rad/s².
    pub acceleration_rad_s2: f64,
}

impl Running {
    /// Standing still, axle as drawn.
    pub const STANDING: Self =
        Self { axle: AxleBoxes::AS_DRAWN, speed_rad_s: 0.0, acceleration_rad_s2: 0.0 };

    /// Running forward at a steady speed, axle as drawn.
    pub fn steady(speed_rad_s: f64) -> Self {
        Self { speed_rad_s, ..Self::STANDING }
    }

    pub(crate) fn check(&self) -> Result<(), MotionError> {
        SPEED.check(self.speed_rad_s)?;
        ANGULAR_ACCELERATION.check(self.acceleration_rad_s2)?;
        Ok(())
    }
}

/// One cylinder at one wheel angle. Velocities and accelerations are of the crosshead and
/// (the piston rod being rigid) of the piston, along the line, positive towards the front.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CylinderState {
    /// Where the cylinder sits.
    pub place: Place,
    /// Crank from the cylinder line, rad, `0 <= angle < 2π`.
    pub crank_angle_rad: f64,
    /// Crank past its own front dead centre in forward rotation, rad, `0 <= angle < 2π`.
    pub past_front_dead_centre_rad: f64,
    /// Axle centre in the plane of this cylinder.
    pub axle_centre: PointXz,
    /// Crank pin centre.
    pub crank_pin: PointXz,
    /// Crosshead pin centre.
    pub crosshead_pin: PointXz,
    /// Rod to the line, rad, positive with the crank pin below the crosshead pin's line.
    pub rod_angle_rad: f64,
    /// Crosshead pin along the line from the foot of the axle centre as drawn, m.
    pub crosshead_m: f64,
    /// Crosshead (and piston) back from the front end of its stroke, m.
    pub from_front_m: f64,
    /// The same as a share of the stroke, 0 at the front end, 1 at the back end.
    pub from_front_share: f64,
    /// Stroke with the axle where it is, m.
    pub stroke_m: f64,
    /// Velocity, m/s.
    pub velocity_m_s: f64,
    /// Acceleration, m/s².
    pub acceleration_m_s2: f64,
    /// Angular speed of the rod, rad/s.
    pub rod_speed_rad_s: f64,
    /// Angular acceleration of the rod, rad/s².
    pub rod_acceleration_rad_s2: f64,
    /// Forward movement of the crosshead for each metre the axle rises, m/m.
    pub crosshead_by_axle_rise: f64,
    /// Forward movement of the crosshead for each metre the axle stands further forward, m/m.
    pub crosshead_by_axle_fore: f64,
}

/// Every cylinder line of one driving axle, checked.
#[derive(Debug, Clone)]
pub struct Motion {
    pub(crate) lines: Vec<CheckedLine>,
}

impl Motion {
    /// The motion of a list of cylinder lines; [`CylinderNo`] counts in this order.
    ///
    /// # Errors
    /// No line or more than 16; a size not finite or out of range; a rod too short to pass.
    pub fn new(lines: &[CylinderLine]) -> Result<Self, MotionError> {
        if lines.is_empty() || CYLINDER_LIMIT < lines.len() {
            return Err(MotionError::CylinderCount { count: lines.len(), limit: CYLINDER_LIMIT });
        }
        let lines = lines.iter().map(CylinderLine::checked).collect::<Result<_, _>>()?;
        Ok(Self { lines })
    }

    /// Number of cylinders.
    pub fn cylinders(&self) -> usize {
        self.lines.len()
    }

    /// The sizes of one line as given.
    ///
    /// # Errors
    /// No cylinder of that number.
    pub fn line(&self, cylinder: CylinderNo) -> Result<CylinderLine, MotionError> {
        Ok(self.checked_line(cylinder)?.line)
    }

    pub(crate) fn checked_line(&self, cylinder: CylinderNo) -> Result<&CheckedLine, MotionError> {
        let count = self.lines.len();
        self.lines.get(cylinder.0).ok_or(MotionError::NoSuchCylinder { number: cylinder.0, count })
    }

    /// Crank angle of one cylinder (from its line) at a wheel angle, rad, not folded.
    ///
    /// # Errors
    /// No cylinder of that number.
    pub fn crank_angle_rad(
        &self,
        cylinder: CylinderNo,
        wheel: WheelAngle,
    ) -> Result<f64, MotionError> {
        Ok(wheel.rad() - self.checked_line(cylinder)?.crank_behind_wheel_rad())
    }

    /// Wheel angle at which one crank stands at a crank angle (from its line), folded into a turn.
    ///
    /// # Errors
    /// No cylinder of that number; an angle not finite or out of range.
    pub fn wheel_angle(
        &self,
        cylinder: CylinderNo,
        crank_angle_rad: f64,
    ) -> Result<WheelAngle, MotionError> {
        let line = self.checked_line(cylinder)?;
        let wheel = WheelAngle::from_rad(crank_angle_rad + line.crank_behind_wheel_rad())?;
        Ok(wheel.folded())
    }

    /// Exact dead centres of one cylinder, crank angles from its line, positions along it from
    /// the foot of the axle centre *as drawn*.
    ///
    /// Equation: see [`SliderCrank::dead_centres`](super::SliderCrank::dead_centres), with the
    /// axle where it stands.
    ///
    /// # Errors
    /// No cylinder of that number; an axle movement out of range.
    pub fn dead_centres(
        &self,
        cylinder: CylinderNo,
        axle: &AxleBoxes,
    ) -> Result<DeadCentres, MotionError> {
        let line = self.checked_line(cylinder)?;
        let (sc, along_m) = line.with_axle(axle.at(line.line.lateral_m)?)?;
        let ends = sc.dead_centres();
        Ok(DeadCentres { front_m: ends.front_m + along_m, back_m: ends.back_m + along_m, ..ends })
    }

    /// One cylinder at one wheel angle.
    ///
    /// Equation: [`SliderCrank::at`](super::SliderCrank::at) with crank angle
    /// `f = wheel angle - lag + incline`; velocity `w ds/df`, acceleration
    /// `w² d²s/df² + dw/dt ds/df`. The axle's own up-and-down movement is taken as standing
    /// still; its effect is in the two derivatives by axle rise and fore position:
    /// `ds/dz = sin b + tan g cos b`, `ds/dx = cos b - tan g sin b` (own derivation).
    /// Units and signs: see the [module](super).
    ///
    /// # Errors
    /// No cylinder of that number; an input not finite or out of range.
    pub fn cylinder_at(
        &self,
        cylinder: CylinderNo,
        wheel: WheelAngle,
        running: &Running,
    ) -> Result<CylinderState, MotionError> {
        running.check()?;
        let line = self.checked_line(cylinder)?;
        let axle = running.axle.at(line.line.lateral_m)?;
        line.state(wheel, axle, running)
    }

    /// Every cylinder at one wheel angle, in the order they were given.
    ///
    /// # Errors
    /// As [`Motion::cylinder_at`].
    pub fn at(
        &self,
        wheel: WheelAngle,
        running: &Running,
    ) -> Result<Vec<CylinderState>, MotionError> {
        (0..self.lines.len()).map(|i| self.cylinder_at(CylinderNo(i), wheel, running)).collect()
    }
}

impl CheckedLine {
    fn state(
        &self,
        wheel: WheelAngle,
        axle: AxlePosition,
        running: &Running,
    ) -> Result<CylinderState, MotionError> {
        let (sc, along_m) = self.with_axle(axle)?;
        let crank = wheel.rad() - self.crank_behind_wheel_rad();
        let (sin_f, cos_f) = crank.sin_cos();
        let now = sc.at_sin_cos(sin_f, cos_f);
        let ends = sc.dead_centres();
        let stroke_m = ends.stroke_m();
        let from_front_m = ends.front_m - now.position_m;
        let w = running.speed_rad_s;
        let dw = running.acceleration_rad_s2;

        let (sin_b, cos_b) = (self.sin_incline, self.cos_incline);
        let in_engine =
            |s: f64, h: f64| PointXz { x_m: s * cos_b - h * sin_b, z_m: s * sin_b + h * cos_b };
        let r = sc.crank_throw_m();
        let pin = in_engine(r * cos_f, -r * sin_f);
        let tan_rod = now.rod_angle_rad.tan();
        Ok(CylinderState {
            place: self.line.place,
            crank_angle_rad: fold_turn(crank),
            past_front_dead_centre_rad: fold_turn(crank - ends.front_crank_rad),
            axle_centre: PointXz { x_m: axle.fore_m, z_m: axle.rise_m },
            crank_pin: PointXz { x_m: pin.x_m + axle.fore_m, z_m: pin.z_m + axle.rise_m },
            crosshead_pin: in_engine(now.position_m + along_m, self.line.offset_m),
            rod_angle_rad: now.rod_angle_rad,
            crosshead_m: now.position_m + along_m,
            from_front_m,
            from_front_share: from_front_m / stroke_m,
            stroke_m,
            velocity_m_s: now.position_per_rad_m * w,
            acceleration_m_s2: now.position_per_rad2_m * w * w + now.position_per_rad_m * dw,
            rod_speed_rad_s: now.rod_angle_per_rad * w,
            rod_acceleration_rad_s2: now.rod_angle_per_rad2 * w * w + now.rod_angle_per_rad * dw,
            crosshead_by_axle_rise: sin_b + tan_rod * cos_b,
            crosshead_by_axle_fore: cos_b - tan_rod * sin_b,
        })
    }
}
