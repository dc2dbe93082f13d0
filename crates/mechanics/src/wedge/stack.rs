//! What fills the slot of a rod end or horn: brasses, wedge, packing, and what nobody wrote down.

use super::error::{Range, WedgeError};
use super::stand::{WedgeGauge, WedgeTravel};

const SLOT: Range = Range::new("length of the slot", "m", 1e-3, 3.0);
const BRASS: Range = Range::new("brasses together", "m", 0.0, 3.0);
const PACKING: Range = Range::new("packing and liners together", "m", 0.0, 1.0);
const TOLERANCE: Range = Range::new("uncertainty of the account", "m", 0.0, 0.01);

/// The stack along the rod, as measured, wedge driven up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stack {
    /// Length of the slot, m.
    pub slot_m: f64,
    /// Both brasses together, over their backs when closed on each other (or on the journal), m.
    pub brasses_m: f64,
    /// Packing and liners that are known of, together, m.
    pub packing_m: f64,
    /// The wedge.
    pub wedge: WedgeGauge,
    /// Its stand, m.
    pub stand_m: f64,
}

/// What the sum of the parts says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StackFinding {
    /// The parts fill the slot within the uncertainty.
    Closed,
    /// Something fills the rest: packing behind brass or wedge, dirt, a burr, or a gap.
    SomethingHidden,
    /// The parts are longer than the slot that holds them: a reading is wrong, or the slot has
    /// sprung.
    MoreThanTheSlot,
}

impl StackFinding {
    /// The finding in plain words.
    #[must_use]
    pub fn text(self) -> &'static str {
        match self {
            Self::Closed => "the parts fill the slot",
            Self::SomethingHidden => {
                "something not written down fills the rest: look for packing behind the brasses \
                 or the wedge, or for a gap"
            }
            Self::MoreThanTheSlot => "the parts measure more than the slot they sit in: read again",
        }
    }
}

/// The account of a slot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StackAccount {
    /// Thickness of the wedge where it stands, m.
    pub wedge_m: f64,
    /// Brasses, packing and wedge together, m.
    pub sum_m: f64,
    /// Slot less sum, m.
    pub unaccounted_m: f64,
    /// What that means.
    pub finding: StackFinding,
}

/// Adds up what fills a slot.
///
/// **Equation.** `unaccounted = slot - (brasses + packing + wedge at its stand)`. **Units.** m.
/// **Source.** Own derivation (a sum). `uncertainty_m` is what the readings together are good to.
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] or [`WedgeError::StandsOutOfOrder`] on the readings.
pub fn account_for(stack: &Stack, uncertainty_m: f64) -> Result<StackAccount, WedgeError> {
    let uncertainty = TOLERANCE.check(uncertainty_m)?;
    let slot = SLOT.check(stack.slot_m)?;
    let wedge_m = stack.wedge.thickness_m(stack.stand_m)?;
    let sum_m = BRASS.check(stack.brasses_m)? + PACKING.check(stack.packing_m)? + wedge_m;
    let unaccounted_m = slot - sum_m;
    let finding = if unaccounted_m > uncertainty {
        StackFinding::SomethingHidden
    } else if unaccounted_m < -uncertainty {
        StackFinding::MoreThanTheSlot
    } else {
        StackFinding::Closed
    };
    Ok(StackAccount { wedge_m, sum_m, unaccounted_m, finding })
}

/// The stack as it was made or last put right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StackBefore {
    /// Length of the slot then, m.
    pub slot_m: f64,
    /// Packing and liners then, m.
    pub packing_m: f64,
    /// Stand of the same wedge then, m.
    pub stand_m: f64,
}

/// How much metal has gone from the brasses since.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MetalGone {
    /// What the wedge shows: its extra thickness between the faces, m.
    pub shown_by_wedge_m: f64,
    /// What packing put in since hides, m (found packing included).
    pub hidden_by_packing_m: f64,
    /// How much longer the slot has become, m: wear of its ends, not of the brasses.
    pub slot_grown_m: f64,
    /// Metal really gone from brasses and joint faces, m: shown plus hidden less slot grown.
    pub from_brasses_m: f64,
}

/// How much metal is really gone, packing found behind the brasses included.
///
/// **Equation.** Own derivation. The slot is full then and now, so
/// `brasses lost = (wedge now - wedge then) + (packing now - packing then) - (slot now - slot then)`.
/// `found_m` is packing found on stripping that `now` does not list. **Units.** m.
///
/// # Errors
///
/// [`WedgeError::OutOfRange`] or [`WedgeError::StandsOutOfOrder`] on the readings.
pub fn metal_gone(
    before: &StackBefore,
    now: &Stack,
    found_m: f64,
) -> Result<MetalGone, WedgeError> {
    let found = PACKING.check(found_m)?;
    let shown_by_wedge_m =
        now.wedge.thickness_m(now.stand_m)? - now.wedge.thickness_m(before.stand_m)?;
    let hidden_by_packing_m =
        PACKING.check(now.packing_m)? + found - PACKING.check(before.packing_m)?;
    let slot_grown_m = SLOT.check(now.slot_m)? - SLOT.check(before.slot_m)?;
    Ok(MetalGone {
        shown_by_wedge_m,
        hidden_by_packing_m,
        slot_grown_m,
        from_brasses_m: shown_by_wedge_m + hidden_by_packing_m - slot_grown_m,
    })
}

/// A liner and where it puts the wedge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinerAdvice {
    /// Liner and packing together that should be in the slot, m.
    pub liner_m: f64,
    /// Stand of the wedge with it, m.
    pub stand_m: f64,
    /// What the wedge then has left.
    pub travel: WedgeTravel,
}

/// The liner that puts the wedge at mid-travel.
///
/// **Equation.** `liner = slot - brasses - wedge at mid stand`; the packing of `stack` is taken out
/// first, and `brasses_m` is as it will be after the repair. **Units.** m. **Source.** Own
/// derivation.
///
/// # Errors
///
/// [`WedgeError::NoRoomForLiner`] when even without a liner the wedge cannot come so far in;
/// [`WedgeError::OutOfRange`] or [`WedgeError::StandsOutOfOrder`] on the readings.
pub fn liner_for_mid_travel(stack: &Stack) -> Result<LinerAdvice, WedgeError> {
    liner_for_stand(stack, stack.wedge.mid_stand_m())
}

/// The liner that puts the wedge at a given stand; see [`liner_for_mid_travel`].
///
/// # Errors
///
/// As [`liner_for_mid_travel`].
pub fn liner_for_stand(stack: &Stack, stand_m: f64) -> Result<LinerAdvice, WedgeError> {
    let room = SLOT.check(stack.slot_m)? - BRASS.check(stack.brasses_m)?;
    let liner_m = room - stack.wedge.thickness_m(stand_m)?;
    if liner_m < 0.0 {
        return Err(WedgeError::NoRoomForLiner { excess_m: -liner_m });
    }
    Ok(LinerAdvice { liner_m, stand_m, travel: stack.wedge.travel(stand_m)? })
}

/// Of the liners on the shelf, the one that puts the wedge nearest mid-travel without going past
/// home or slack; `None` when none does.
///
/// # Errors
///
/// [`WedgeError::Empty`] when the shelf is; [`WedgeError::OutOfRange`] or
/// [`WedgeError::StandsOutOfOrder`] on the readings.
pub fn liner_from_stock(stack: &Stack, shelf_m: &[f64]) -> Result<Option<LinerAdvice>, WedgeError> {
    if shelf_m.is_empty() {
        return Err(WedgeError::Empty { what: "liners" });
    }
    let room = SLOT.check(stack.slot_m)? - BRASS.check(stack.brasses_m)?;
    let wedge = &stack.wedge;
    let mut best: Option<LinerAdvice> = None;
    for &liner in shelf_m {
        let liner_m = PACKING.check(liner)?;
        let stand_m = wedge.stand_for_m(room - liner_m)?;
        if stand_m < wedge.home_stand_m || stand_m > wedge.slack_stand_m {
            continue;
        }
        let off = |advice: &LinerAdvice| (advice.stand_m - wedge.mid_stand_m()).abs();
        let advice = LinerAdvice { liner_m, stand_m, travel: wedge.travel(stand_m)? };
        if best.is_none_or(|best| off(&advice) < off(&best)) {
            best = Some(advice);
        }
    }
    Ok(best)
}
