//! Where the driving axle stands in its horns.

use super::Bound;
use super::MotionError;
use super::bounds::{AXLE_SHIFT, LATERAL};

/// Axle centre away from its drawing position, in the plane of one cylinder or one box.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxlePosition {
    /// Forward (`x`), m: box out of the middle of the horns by liners, wear or thrust.
    pub fore_m: f64,
    /// Upward (`z`) against the frames, m: springs deflected more than on the drawing.
    pub rise_m: f64,
}

impl AxlePosition {
    /// As on the drawing.
    pub const AS_DRAWN: Self = Self { fore_m: 0.0, rise_m: 0.0 };

    pub(crate) fn checked(self) -> Result<Self, MotionError> {
        const FORE: Bound = Bound { what: "axle out of place forward", ..AXLE_SHIFT };
        const RISE: Bound = Bound { what: "rise of the axle", ..AXLE_SHIFT };
        Ok(Self { fore_m: FORE.check(self.fore_m)?, rise_m: RISE.check(self.rise_m)? })
    }
}

/// Both boxes of the driving axle.
///
/// They may stand differently (one spring weak, one horn worn, the engine on a curve); the axle
/// is straight, so between and beyond the boxes its centre is found by proportion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AxleBoxes {
    /// Left box.
    pub left: AxlePosition,
    /// Right box.
    pub right: AxlePosition,
    /// Distance between the middles of the two boxes, m.
    pub box_centres_m: f64,
}

impl AxleBoxes {
    /// Both boxes as on the drawing.
    pub const AS_DRAWN: Self =
        Self { left: AxlePosition::AS_DRAWN, right: AxlePosition::AS_DRAWN, box_centres_m: 1.0 };

    /// Both boxes moved alike.
    pub fn alike(position: AxlePosition) -> Self {
        Self { left: position, right: position, box_centres_m: 1.0 }
    }

    /// Axle centre in the plane `lateral_m` to the left of the engine's middle.
    ///
    /// Equation: `p = (left + right)/2 + (left - right) y/B` (straight axle; own derivation).
    /// Units: m.
    ///
    /// # Errors
    /// A movement beyond ±0.5 m, box centres outside 0.2 to 4 m, or not finite.
    pub fn at(&self, lateral_m: f64) -> Result<AxlePosition, MotionError> {
        const BOXES: Bound = Bound::new("distance between axleboxes", "m", 0.2, 4.0);
        let (left, right) = (self.left.checked()?, self.right.checked()?);
        let share = LATERAL.check(lateral_m)? / BOXES.check(self.box_centres_m)?;
        let between = |l: f64, r: f64| 0.5 * (l + r) + (l - r) * share;
        Ok(AxlePosition {
            fore_m: between(left.fore_m, right.fore_m),
            rise_m: between(left.rise_m, right.rise_m),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tilted_axle_is_straight() -> Result<(), MotionError> {
        let boxes = AxleBoxes {
            left: AxlePosition { fore_m: 0.001, rise_m: 0.010 },
            right: AxlePosition { fore_m: -0.001, rise_m: -0.010 },
            box_centres_m: 1.2,
        };
        assert!((boxes.at(0.6)?.rise_m - 0.010).abs() < 1e-15);
        assert!((boxes.at(-0.6)?.fore_m + 0.001).abs() < 1e-15);
        assert!(boxes.at(0.0)?.rise_m.abs() < 1e-15);
        assert!(AxleBoxes { box_centres_m: 0.0, ..boxes }.at(0.0).is_err());
        assert!(
            AxleBoxes { left: AxlePosition { fore_m: 2.0, rise_m: 0.0 }, ..boxes }.at(0.0).is_err()
        );
        Ok(())
    }
}
