//! What an option does, in the words of the shop.

use super::plan::{Doing, way_of};
use crate::judge::Judgement;
use crate::model::{FeatureIx, Joint, Way};

/// Both sides, the one made first said first.
pub(super) fn words_of(judgement: &Judgement, joint: &Joint, inner: Doing, outer: Doing) -> String {
    let engine = judgement.engine();
    let say = |ix: FeatureIx, doing: Doing| {
        let feature = engine.feature(ix);
        let name = &feature.name;
        let cut = way_of(judgement, ix, doing).map_or("machine", |w| match w {
            Way::Turning => "turn",
            Way::Grinding => "grind",
            Way::Boring | Way::MetalBoring => "bore",
            Way::Reaming => "ream",
            Way::Planing => "plane",
            Way::Filing => "file",
            Way::New => "renew",
            Way::Lining => "line",
        });
        match doing {
            Doing::Keep => format!("keep {name}"),
            Doing::CleanUp => format!("{cut} {name} to the next size that cleans up"),
            Doing::CutToSuit => format!("{cut} {name} to suit"),
            Doing::ReMetalToSuit => format!("re-metal {name} and machine to suit"),
            Doing::LineToSuit => format!("line {name} and machine to suit"),
            Doing::NewToSuit => format!("new {name} to suit"),
            Doing::NewAsMade => format!("new {name} to the drawing"),
        }
    };
    if inner.to_suit() {
        format!("{}; {}", say(joint.outer, outer), say(joint.inner, inner))
    } else {
        format!("{}; {}", say(joint.inner, inner), say(joint.outer, outer))
    }
}
