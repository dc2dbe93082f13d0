//! Cross-sections of rods.

use super::LoadError;
use crate::motion::Bound;
use std::f64::consts::PI;

/// A rod's section. "In the plane of the motion" is bending up and down, as whipping does;
/// "sideways" is bending towards and away from the engine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RodSection {
    /// Area, m².
    pub area_m2: f64,
    /// Second moment for bending in the plane of the motion, m⁴.
    pub in_plane_m4: f64,
    /// Second moment for bending sideways, m⁴.
    pub sideways_m4: f64,
    /// Depth in the plane of the motion, m.
    pub depth_m: f64,
    /// Width sideways, m.
    pub width_m: f64,
}

const SIDE: Bound = Bound::new("size of the section", "m", 0.001, 1.0);

impl RodSection {
    /// Rectangle: depth in the plane of the motion, width sideways.
    ///
    /// Equation: `A = b d`, `I = b d³/12` and `d b³/12`. Units: m.
    ///
    /// # Errors
    /// A size not finite or out of range.
    pub fn rectangle(depth_m: f64, width_m: f64) -> Result<Self, LoadError> {
        let (d, b) = (SIDE.check(depth_m)?, SIDE.check(width_m)?);
        Ok(Self {
            area_m2: b * d,
            in_plane_m4: b * d.powi(3) / 12.0,
            sideways_m4: d * b.powi(3) / 12.0,
            depth_m: d,
            width_m: b,
        })
    }

    /// Round bar.
    ///
    /// Equation: `A = π d²/4`, `I = π d⁴/64`. Units: m.
    ///
    /// # Errors
    /// A size not finite or out of range.
    pub fn round(diameter_m: f64) -> Result<Self, LoadError> {
        let d = SIDE.check(diameter_m)?;
        let second = PI * d.powi(4) / 64.0;
        Ok(Self {
            area_m2: 0.25 * PI * d * d,
            in_plane_m4: second,
            sideways_m4: second,
            depth_m: d,
            width_m: d,
        })
    }

    /// Fluted rod: flanges above and below a web, corners square.
    ///
    /// Equation: `A = b d - (b - w)(d - 2 t)`, in the plane `(b d³ - (b - w)(d - 2t)³)/12`,
    /// sideways `(2 t b³ + (d - 2 t) w³)/12`. Units: m.
    /// Worked value: depth 5t, width 4t, flanges and web t: `A = 11 t²`, `419/12 t⁴`,
    /// `131/12 t⁴` (Khurmi & Gupta, *A Textbook of Machine Design*, connecting rods; from memory).
    ///
    /// # Errors
    /// A size not finite or out of range; flanges that meet; a web not thinner than the width.
    pub fn fluted(
        depth_m: f64,
        width_m: f64,
        flange_m: f64,
        web_m: f64,
    ) -> Result<Self, LoadError> {
        let (d, b) = (SIDE.check(depth_m)?, SIDE.check(width_m)?);
        let (t, w) = (SIDE.check(flange_m)?, SIDE.check(web_m)?);
        if d <= 2.0 * t {
            return Err(LoadError::NotBelow {
                what: "both flanges",
                value: 2.0 * t,
                other: "the depth",
                limit: d,
                unit: "m",
            });
        }
        if b < w {
            return Err(LoadError::NotBelow {
                what: "web",
                value: w,
                other: "the width",
                limit: b,
                unit: "m",
            });
        }
        let inner = d - 2.0 * t;
        Ok(Self {
            area_m2: b * d - (b - w) * inner,
            in_plane_m4: (b * d.powi(3) - (b - w) * inner.powi(3)) / 12.0,
            sideways_m4: (2.0 * t * b.powi(3) + inner * w.powi(3)) / 12.0,
            depth_m: d,
            width_m: b,
        })
    }

    /// Radius of gyration in the plane of the motion, m.
    pub fn gyration_in_plane_m(&self) -> f64 {
        (self.in_plane_m4 / self.area_m2).sqrt()
    }

    /// Radius of gyration sideways, m.
    pub fn gyration_sideways_m(&self) -> f64 {
        (self.sideways_m4 / self.area_m2).sqrt()
    }

    pub(crate) fn check(&self) -> Result<(), LoadError> {
        const AREA: Bound = Bound::new("area of the section", "m²", 1e-7, 1.0);
        const SECOND: Bound = Bound::new("second moment of the section", "m⁴", 1e-15, 1.0);
        AREA.check(self.area_m2)?;
        SECOND.check(self.in_plane_m4)?;
        SECOND.check(self.sideways_m4)?;
        SIDE.check(self.depth_m)?;
        SIDE.check(self.width_m)?;
        Ok(())
    }
}
