//! Where the bearing's centre goes when the brasses are closed.

use super::error::{Range, WedgeError};

const LINER: Range = Range::new("liner behind the fixed brass", "m", 0.0, 0.5);
const CROWN: Range = Range::new("crown thickness of the fixed brass", "m", 1e-4, 1.0);
const BORE: Range = Range::new("bore from crown to crown", "m", 1e-3, 3.0);

/// Which brass has its back against something that does not move; the other is pushed up to it
/// by the wedge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FixedBrass {
    /// The brass against the butt of the rod (the wedge is at the strap's end): closing brings
    /// the centre nearer to the rod and the rod becomes shorter.
    ByButt,
    /// The brass against the end of the strap (the wedge is at the butt): closing brings the
    /// centre out and the rod becomes longer.
    ByStrap,
}

/// One end of a rod, measured from the face behind the fixed brass.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RodEnd {
    /// Which brass is fixed.
    pub fixed: FixedBrass,
    /// Liner between that brass and its seat, m.
    pub liner_m: f64,
    /// Thickness of that brass at its crown, from back to bore, m.
    pub crown_m: f64,
    /// Bore from crown to crown along the rod, brasses closed, m.
    pub bore_m: f64,
}

impl RodEnd {
    /// From the fixed seat to the bearing's centre, m: `liner + crown + bore / 2`.
    fn reach_m(&self) -> Result<f64, WedgeError> {
        Ok(LINER.check(self.liner_m)?
            + CROWN.check(self.crown_m)?
            + 0.5 * BORE.check(self.bore_m)?)
    }
}

/// How far the centre moves between two states of the same end, m. Positive: away from the body
/// of the rod, so that the rod is longer between centres.
///
/// **Equation.** Own derivation: the centre lies `liner + crown + bore / 2` from the fixed seat,
/// which is the butt (counted outwards) or the strap's end (counted inwards). Closing by `f` with
/// nothing else changed moves the centre `f / 2` towards the fixed brass. **Units.** m, along the
/// rod. **Range.** Centre taken half-way between the crowns; bedding not considered.
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] on the sizes, [`WedgeError::FixedBrassDiffers`] when the fixed brass
/// is not the same in both.
pub fn centre_shift_m(before: &RodEnd, after: &RodEnd) -> Result<f64, WedgeError> {
    check_same(before, after)?;
    let outwards = match after.fixed {
        FixedBrass::ByButt => 1.0,
        FixedBrass::ByStrap => -1.0,
    };
    Ok(outwards * (after.reach_m()? - before.reach_m()?))
}

/// The liner behind the fixed brass that keeps the centre where it was, m.
///
/// **Equation.** `liner after = liner before + (crown + bore/2) before - (crown + bore/2) after`.
/// `after.liner_m` is not used.
///
/// # Errors
///
/// As [`centre_shift_m`]; [`WedgeError::NoRoomForLiner`] when the brass is too thick for any liner.
pub fn liner_to_hold_centre_m(before: &RodEnd, after: &RodEnd) -> Result<f64, WedgeError> {
    check_same(before, after)?;
    let bare = RodEnd { liner_m: 0.0, ..*after };
    let liner_m = before.reach_m()? - bare.reach_m()?;
    if liner_m < 0.0 {
        return Err(WedgeError::NoRoomForLiner { excess_m: -liner_m });
    }
    Ok(liner_m)
}

/// Change of a rod's length between centres from the shifts at both its ends, m.
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] unless both lie within half a metre.
pub fn rod_length_change_m(big_end_m: f64, little_end_m: f64) -> Result<f64, WedgeError> {
    const SHIFT: Range = Range::new("shift of a centre", "m", -0.5, 0.5);
    Ok(SHIFT.check(big_end_m)? + SHIFT.check(little_end_m)?)
}

fn check_same(before: &RodEnd, after: &RodEnd) -> Result<(), WedgeError> {
    if before.fixed == after.fixed { Ok(()) } else { Err(WedgeError::FixedBrassDiffers) }
}
