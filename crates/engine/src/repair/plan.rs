//! What can be done to one surface, and the size it then has.

use super::act::takes_metal_off;
use crate::judge::{FeatureState, Judgement, Verdict};
use crate::model::{FeatureIx, FeatureKind, Metal, Way, When};
use quantity::{Quantity, Uncertain};

/// Something done to one surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Doing {
    /// Nothing.
    Keep,
    /// Machined to the next repair size at which it cleans up.
    CleanUp,
    /// Machined to suit its mate, metal coming off.
    CutToSuit,
    /// Re-metalled and machined to suit.
    ReMetalToSuit,
    /// Lined (bush, sleeve, slip) and machined to suit.
    LineToSuit,
    /// Made new to suit.
    NewToSuit,
    /// Made new to the drawing.
    NewAsMade,
}

impl Doing {
    /// Rank of its trouble: hours and outside work, roughly (common practice).
    pub(super) fn trouble(self, kind: FeatureKind) -> u32 {
        let outside = kind.metal() == Metal::Inside;
        match self {
            Doing::Keep => 0,
            // Turning a journal means a wheel lathe or a portable tool; boring a bush does not.
            Doing::CleanUp | Doing::CutToSuit => {
                if outside {
                    3
                } else {
                    2
                }
            }
            Doing::ReMetalToSuit => 4,
            Doing::LineToSuit => 5,
            // A bolt is an hour at the lathe, a journal a new axle or a pin to be pressed.
            Doing::NewToSuit => match kind {
                FeatureKind::Pin => 3,
                FeatureKind::Journal => 9,
                _ => 6,
            },
            Doing::NewAsMade => match kind {
                FeatureKind::Pin => 4,
                FeatureKind::Journal => 10,
                _ => 8,
            },
        }
    }

    pub(super) fn to_suit(self) -> bool {
        matches!(
            self,
            Doing::CutToSuit | Doing::ReMetalToSuit | Doing::LineToSuit | Doing::NewToSuit
        )
    }
}

/// The way of machining that goes with something done.
pub(super) fn way_of(judgement: &Judgement, ix: FeatureIx, doing: Doing) -> Option<Way> {
    let can = &judgement.engine().feature(ix).can;
    let cutting = can.iter().copied().find(|w| {
        matches!(
            w,
            Way::Grinding | Way::Turning | Way::Boring | Way::Reaming | Way::Planing | Way::Filing
        )
    });
    match doing {
        Doing::Keep => None,
        Doing::CleanUp | Doing::CutToSuit => {
            cutting.or(can.contains(&Way::MetalBoring).then_some(Way::MetalBoring))
        }
        Doing::ReMetalToSuit => can.contains(&Way::MetalBoring).then_some(Way::MetalBoring),
        Doing::LineToSuit => can.contains(&Way::Lining).then_some(Way::Lining),
        Doing::NewToSuit | Doing::NewAsMade => can.contains(&Way::New).then_some(Way::New),
    }
}

/// How well that way holds size.
pub(super) fn holds(judgement: &Judgement, ix: FeatureIx, way: Way) -> f64 {
    let engine = judgement.engine();
    let machined = match way {
        // A bush is bored and a new part turned in the end.
        Way::Lining => Way::Boring,
        Way::New => match engine.feature(ix).kind.metal() {
            Metal::Outside => Way::Boring,
            _ => Way::Turning,
        },
        w => w,
    };
    engine.workshop.holds(machined)
}

/// A surface that cannot be left: beyond or near a limit of its own in service, or condemned.
pub(super) fn must_be_worked(judgement: &Judgement, ix: FeatureIx) -> bool {
    let state = judgement.feature(ix);
    if state.condition.is_some_and(|c| c.condemns() || matches!(c, crate::model::Condition::Scored))
    {
        return true;
    }
    judgement.engine().feature(ix).in_joints.iter().any(|j| {
        judgement.joint(*j).limits.iter().any(|l| {
            l.feature == Some(ix)
                && l.when == When::Service
                && matches!(l.verdict, Verdict::Beyond | Verdict::Near)
        })
    })
}

/// Next repair size at which the surface cleans up, or why there is none.
pub(super) fn clean_up_size(judgement: &Judgement, ix: FeatureIx) -> Result<f64, String> {
    let engine = judgement.engine();
    let feature = engine.feature(ix);
    let state = judgement.feature(ix);
    let clean = state.clean_up.as_ref().ok_or_else(|| {
        format!("{}: {}", feature.id, state.missing.unwrap_or("no size to clean up to"))
    })?;
    let step = engine.workshop.repair_step_m.max(1e-6);
    let from = feature.as_made.as_ref().map_or(clean.si(), Quantity::si);
    let cut = engine.workshop.least_cut_m;
    let size = match feature.kind.metal() {
        Metal::Inside => from - step * ((from - (clean.si() - cut)) / step - 1e-9).ceil().max(0.0),
        Metal::Outside => from + step * (((clean.si() + cut) - from) / step - 1e-9).ceil().max(0.0),
        Metal::Neither => return Err(format!("{} is not a surface to be machined", feature.id)),
    };
    allowed(judgement, ix, size)?;
    Ok(size)
}

/// Whether a size is allowed by the feature's least and most.
pub(super) fn allowed(judgement: &Judgement, ix: FeatureIx, size_m: f64) -> Result<(), String> {
    let feature = judgement.engine().feature(ix);
    if let Some(least) = feature.least.as_ref().filter(|q| size_m < q.si() - 1e-9) {
        return Err(format!("{} would be below its least, {}", feature.id, least.text()));
    }
    if let Some(most) = feature.most.as_ref().filter(|q| size_m > q.si() + 1e-9) {
        return Err(format!("{} would be above its most, {}", feature.id, most.text()));
    }
    Ok(())
}

/// Whether a surface can be cut to this size and still clean up.
pub(super) fn can_cut_to(state: &FeatureState, metal: Metal, least_cut_m: f64, to_m: f64) -> bool {
    let Some(clean) = state.clean_up.as_ref() else { return false };
    let must_reach = match metal {
        Metal::Inside => clean.si() - least_cut_m,
        Metal::Outside => clean.si() + least_cut_m,
        Metal::Neither => return false,
    };
    takes_metal_off(metal, must_reach, to_m)
}

/// Size of the drawing with what holds it.
pub(super) fn as_made(judgement: &Judgement, ix: FeatureIx) -> Option<Uncertain> {
    judgement.engine().feature(ix).as_made.as_ref().map(|q| Uncertain::exact(q.si()))
}
