//! The shape of the gap between journal and brass.

/// Film thickness over radial clearance, from where the journal lies in its brass.
///
/// `H = 1 - (e + tilt (2 z - 1)) cos(t - thinnest)`: the journal lies `e` off centre towards
/// `thinnest_rad`, and one end lies `tilt` further that way, the other as much less. Angles run
/// from the edge of the arc in the direction the journal turns; `z` runs 0..1 across.
#[derive(Debug, Clone, Copy)]
pub(super) struct Gap {
    pub(super) eccentricity_ratio: f64,
    pub(super) tilt_ratio: f64,
    pub(super) thinnest_rad: f64,
}

impl Gap {
    pub(super) fn cosine(&self, angle_rad: f64) -> f64 {
        (angle_rad - self.thinnest_rad).cos()
    }

    /// Eccentricity ratio at the place across.
    pub(super) fn offset(&self, across: f64) -> f64 {
        self.eccentricity_ratio + self.tilt_ratio * (2.0 * across - 1.0)
    }

    pub(super) fn film(&self, cosine: f64, across: f64) -> f64 {
        1.0 - self.offset(across) * cosine
    }
}
