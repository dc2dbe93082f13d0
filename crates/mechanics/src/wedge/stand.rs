//! The stand of a wedge: how far it sticks out, what it measures there, and what is left.

use super::error::{Range, WedgeError};

const THICKNESS: Range = Range::new("thickness of the wedge", "m", 1e-4, 1.0);
const STAND: Range = Range::new("stand of the wedge", "m", -1.0, 1.0);
const SLOPE: Range = Range::new("take-up for each unit of drive", "(ratio)", 1e-4, 2.0);
const DRIVE: Range = Range::new("distance driven", "m", -1.0, 1.0);

/// A wedge as measured: what it is thick at one stand, and how far it may go either way.
///
/// The *stand* is how far the wedge sticks out, read from one fixed face; driven further in it
/// stands out less and measures more between the faces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WedgeGauge {
    /// Take-up for each unit of drive: both tapers together (1 in 12 on one side: 1/12).
    pub slope: f64,
    /// Thickness between the faces at the reference stand, m.
    pub reference_thickness_m: f64,
    /// The stand at which that thickness was read, m.
    pub reference_stand_m: f64,
    /// Stand when driven fully home, m: it cannot go further.
    pub home_stand_m: f64,
    /// Stand when as far out as it may be and still bear, m.
    pub slack_stand_m: f64,
}

/// What is left of a wedge's travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WedgeTravel {
    /// Drive left before it is home, m; negative when it stands beyond home.
    pub drive_left_m: f64,
    /// Take-up left, m: so much wear can still be taken up.
    pub take_up_left_m: f64,
    /// Share of the whole travel that is left.
    pub share_left: f64,
}

impl WedgeGauge {
    /// Thickness between the faces at a stand, m: `t0 + (s0 - s) slope`.
    ///
    /// # Errors
    ///
    /// [`WedgeError::OutOfRange`] or [`WedgeError::StandsOutOfOrder`] on the gauge or the stand.
    pub fn thickness_m(&self, stand_m: f64) -> Result<f64, WedgeError> {
        self.check()?;
        let stand = STAND.check(stand_m)?;
        Ok(self.reference_thickness_m + (self.reference_stand_m - stand) * self.slope)
    }

    /// The stand at which it measures this thickness, m; it may lie outside the travel.
    ///
    /// # Errors
    ///
    /// As [`WedgeGauge::thickness_m`].
    pub fn stand_for_m(&self, thickness_m: f64) -> Result<f64, WedgeError> {
        const WANTED: Range = Range::new("thickness wanted of the wedge", "m", -1.0, 2.0);
        self.check()?;
        let thickness = WANTED.check(thickness_m)?;
        Ok(self.reference_stand_m - (thickness - self.reference_thickness_m) / self.slope)
    }

    /// Half-way between home and slack, m.
    #[must_use]
    pub fn mid_stand_m(&self) -> f64 {
        0.5 * (self.home_stand_m + self.slack_stand_m)
    }

    /// What is left of the travel at a stand.
    ///
    /// # Errors
    ///
    /// As [`WedgeGauge::thickness_m`].
    pub fn travel(&self, stand_m: f64) -> Result<WedgeTravel, WedgeError> {
        self.check()?;
        let drive_left_m = STAND.check(stand_m)? - self.home_stand_m;
        Ok(WedgeTravel {
            drive_left_m,
            take_up_left_m: drive_left_m * self.slope,
            share_left: drive_left_m / (self.slack_stand_m - self.home_stand_m),
        })
    }

    /// Take-up for a distance driven, m.
    ///
    /// # Errors
    ///
    /// As [`WedgeGauge::thickness_m`].
    pub fn take_up_m(&self, driven_m: f64) -> Result<f64, WedgeError> {
        self.check()?;
        Ok(DRIVE.check(driven_m)? * self.slope)
    }

    pub(super) fn check(&self) -> Result<(), WedgeError> {
        SLOPE.check(self.slope)?;
        THICKNESS.check(self.reference_thickness_m)?;
        for stand in [self.reference_stand_m, self.home_stand_m, self.slack_stand_m] {
            STAND.check(stand)?;
        }
        if self.home_stand_m < self.slack_stand_m {
            Ok(())
        } else {
            Err(WedgeError::StandsOutOfOrder {
                home_m: self.home_stand_m,
                slack_m: self.slack_stand_m,
            })
        }
    }
}
