//! One cylinder line: where it lies, and the sizes of its crank and rod.

use super::bounds::{ANGLE, INCLINE, LATERAL};
use super::{AxlePosition, Bound, MotionError, SliderCrank};

/// Where a cylinder sits across the engine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Place {
    /// Outside the frames, left.
    OutsideLeft,
    /// Between the frames, left of the middle.
    InsideLeft,
    /// Between the frames, on the middle line.
    Middle,
    /// Between the frames, right of the middle.
    InsideRight,
    /// Outside the frames, right.
    OutsideRight,
}

impl Place {
    /// Inside motion cannot be seen from the side of the engine.
    pub fn is_inside(self) -> bool {
        matches!(self, Self::InsideLeft | Self::Middle | Self::InsideRight)
    }

    /// The words a fitter would use.
    pub fn words(self) -> &'static str {
        match self {
            Self::OutsideLeft => "left outside",
            Self::InsideLeft => "left inside",
            Self::Middle => "middle",
            Self::InsideRight => "right inside",
            Self::OutsideRight => "right outside",
        }
    }
}

/// Number of a cylinder in the list given to [`Motion::new`](super::Motion::new), from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct CylinderNo(pub usize);

/// Sizes of one cylinder line. Sizes are as they *are* (worn centres, measured throw), not as the
/// drawing has them, if that is what is asked about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CylinderLine {
    /// Where it sits.
    pub place: Place,
    /// Middle of the crank pin to the left of the engine's middle, m.
    pub lateral_m: f64,
    /// Crank throw (half the nominal stroke), m.
    pub crank_throw_m: f64,
    /// Rod centres, m.
    pub rod_centres_m: f64,
    /// Incline of the line, rad; positive with the front end higher.
    pub incline_rad: f64,
    /// Height of the line over the axle centre as drawn, square to the line, m.
    pub offset_m: f64,
    /// Crank lag behind the crank of lag zero in forward rotation, rad.
    pub crank_lag_rad: f64,
}

/// A line with everything that does not change with the angle worked out.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CheckedLine {
    pub(crate) line: CylinderLine,
    pub(crate) sin_incline: f64,
    pub(crate) cos_incline: f64,
}

impl CylinderLine {
    pub(crate) fn checked(&self) -> Result<CheckedLine, MotionError> {
        const LAG: Bound = Bound { what: "crank lag", ..ANGLE };
        INCLINE.check(self.incline_rad)?;
        LATERAL.check(self.lateral_m)?;
        LAG.check(self.crank_lag_rad)?;
        SliderCrank::new(self.crank_throw_m, self.rod_centres_m, self.offset_m)?;
        let (sin_incline, cos_incline) = self.incline_rad.sin_cos();
        Ok(CheckedLine { line: *self, sin_incline, cos_incline })
    }
}

impl CheckedLine {
    /// What must be taken from the wheel angle to get this crank's angle from its line.
    pub(crate) fn crank_behind_wheel_rad(&self) -> f64 {
        self.line.crank_lag_rad - self.line.incline_rad
    }

    /// Slider-crank seen from the axle centre where it now is, and how far that centre has moved
    /// along the line, m.
    //
    // Own derivation: the axle moves (dx, dz); along and square to the line that is
    //   sa = dx cos b + dz sin b,   wa = -dx sin b + dz cos b,
    // and the line then passes at e = h - wa.
    pub(crate) fn with_axle(&self, axle: AxlePosition) -> Result<(SliderCrank, f64), MotionError> {
        let (sin, cos) = (self.sin_incline, self.cos_incline);
        let along_m = axle.fore_m * cos + axle.rise_m * sin;
        let across_m = axle.rise_m * cos - axle.fore_m * sin;
        let sc = SliderCrank::new(
            self.line.crank_throw_m,
            self.line.rod_centres_m,
            self.line.offset_m - across_m,
        )?;
        Ok((sc, along_m))
    }
}
