//! Closing a split bearing by filing its joint faces.

use super::act::close;
use super::aim::aim;
use super::options::{RepairOption, Target, finish};
use super::plan::{allowed, must_be_worked};
use super::trial::Trial;
use crate::judge::Judgement;
use crate::model::{Joint, JointIx, JointKind, RepairKind, Way};

/// Closing by as much as brings the clearance to where it should be; `None` for a bearing that is
/// not split.
pub(super) fn close_option(
    judgement: &Judgement,
    ix: JointIx,
    joint: &Joint,
) -> Option<RepairOption> {
    let engine = judgement.engine();
    let bearing = engine.feature(joint.outer);
    if bearing.halves.len() != 2 || joint.kind != JointKind::Running {
        return None;
    }
    let mut option = RepairOption::new(RepairKind::Close, "close the brasses", 1);
    let holds_m = engine.workshop.holds(Way::Filing);
    let state = judgement.feature(joint.outer);
    let along =
        state.along_and_across.as_ref().map(|(a, _)| a.clone()).or_else(|| state.size.clone());
    let inner = judgement.feature(joint.inner).size.as_ref();
    let (Some(along), Some(inner)) = (along, inner) else {
        option.against.push("the journal or the bore is not gauged".to_owned());
        return Some(option);
    };
    let aim = match aim(judgement, ix, holds_m) {
        Ok(aim) => aim,
        Err(why) => {
            option.against.push(why);
            return Some(option);
        }
    };
    let by_m = along.si() - inner.si() - aim.to;
    option.words = format!(
        "close the brasses by {:.2} mm ({:.1} thou) at the joint faces and bed in",
        by_m * 1e3,
        by_m / 25.4e-6
    );
    if by_m < 2.0 * holds_m {
        option.against.push("there is nothing to close".to_owned());
        return Some(option);
    }
    for f in [joint.inner, joint.outer] {
        if must_be_worked(judgement, f) {
            option.against.push(format!(
                "{} cannot be left as it is: closing does not mend it",
                engine.feature(f).id
            ));
        }
    }
    let mut trial = Trial::default();
    if let Err(why) = close(judgement, &mut trial, joint.outer, by_m) {
        option.against.push(why);
        return Some(option);
    }
    for half in &bearing.halves {
        if let Some(size) = trial.size(judgement, *half) {
            if let Err(why) = allowed(judgement, *half, size.value()) {
                option.against.push(why);
            }
            option.targets.push(Target {
                feature: *half,
                to_m: size.value(),
                tolerance_m: holds_m,
                way: Way::Filing,
                to_suit: None,
            });
        }
    }
    Some(finish(judgement, ix, &trial, option))
}
