//! Where the main measure of a joint should come to.

use crate::judge::Judgement;
use crate::model::{JointIx, When};

/// Where the main measure should come to: the middle of the refit limits.
pub(super) struct Aim {
    /// The size of the measure.
    pub(super) to: f64,
    /// Half the width of the limits, when both are given.
    pub(super) half_width: Option<f64>,
}

pub(super) fn aim(judgement: &Judgement, ix: JointIx, spread_m: f64) -> Result<Aim, String> {
    let joint = judgement.engine().joint(ix);
    let main = joint.kind.measure();
    for when in [When::Refit, When::Made] {
        if let Some(l) = joint.limits.iter().find(|l| l.measure == main && l.when == when) {
            return match (l.min_si(), l.max_si()) {
                (Some(a), Some(b)) => {
                    Ok(Aim { to: (a + b) / 2.0, half_width: Some((b - a) / 2.0) })
                }
                (Some(a), None) => Ok(Aim { to: a + 3.0 * spread_m, half_width: None }),
                (None, Some(b)) => Ok(Aim { to: b - 3.0 * spread_m, half_width: None }),
                (None, None) => continue,
            };
        }
    }
    match judgement.joint(ix).as_made_si {
        Some(made) => Ok(Aim { to: made, half_width: None }),
        None => Err(format!("{} has no refit limit and no sizes as made to aim at", joint.id)),
    }
}
