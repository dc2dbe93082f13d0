//! Options of brasses held by a wedge in a slot.

use super::options::{RepairOption, finish};
use super::trial::Trial;
use crate::judge::{Estimate, Judgement};
use crate::model::{Joint, JointIx, Measure, RepairKind, Way};

/// Space worth taking out or lining, metres: less is lost in setting the wedge (common practice).
const WORTH_M: f64 = 0.2e-3;

/// A liner that puts the wedge at mid-travel, and, where something is packed behind it that the
/// wedge has travel to do without, taking that out. `base` holds what is to be done to the brasses
/// and the slot, so that the liner is made to those.
pub(super) fn wedge_options(
    judgement: &Judgement,
    ix: JointIx,
    joint: &Joint,
    base: &Trial,
) -> Vec<RepairOption> {
    let (Some(stand), Some(taper)) = (joint.stand, joint.taper) else { return Vec::new() };
    let holds_m = judgement.engine().workshop.holds(Way::Planing) / taper.abs().max(1e-6);
    let mut line = RepairOption::new(RepairKind::Line, "fit a liner behind the wedge", 5);
    let at = base.size(judgement, stand.feature);
    let (Some(at), Some(space)) = (at, base.space_in_slot(judgement, ix)) else {
        line.against.push("the wedge, its slot or its brasses are not gauged".to_owned());
        return vec![line];
    };
    let packed = judgement.joint(ix).measure(Measure::Unaccounted).is_some_and(is_something);
    let middle = (stand.least_m + stand.most_m) / 2.0;
    // What takes up the slot that no part accounts for, and what the wedge gives up when it goes
    // back to mid-travel.
    let liner = space.si() + (middle - at.value()) * taper;
    line.liner_m = Some(liner);
    line.words = format!(
        "fit one liner of {:.2} mm ({:.4} in) behind the wedge{}: the wedge then stands at mid-travel, {:.1} mm ({:.2} in)",
        liner * 1e3,
        liner / 25.4e-3,
        if packed { ", in place of what is packed there now" } else { "" },
        middle * 1e3,
        middle / 25.4e-3,
    );
    if liner <= WORTH_M {
        line.against
            .push("the wedge has all the travel it wants: there is nothing to line".to_owned());
    }
    let mut trial = base.clone();
    trial.make(stand.feature, middle, holds_m);
    trial.line(ix, liner);
    let mut options = vec![finish(judgement, ix, &trial, line)];
    if packed {
        options.push(take_out(judgement, ix, base, &space, at.value(), taper, holds_m));
    }
    options
}

/// More than its doubt, and worth the trouble.
fn is_something(space: &Estimate) -> bool {
    space.si() > WORTH_M && space.si() > 2.0 * space.u()
}

fn take_out(
    judgement: &Judgement,
    ix: JointIx,
    base: &Trial,
    space: &Estimate,
    at_m: f64,
    taper: f64,
    holds_m: f64,
) -> RepairOption {
    let joint = judgement.engine().joint(ix);
    let stand_m = at_m - space.si() / taper;
    let mut option = RepairOption::new(
        RepairKind::TakeOut,
        format!(
            "take out what is packed behind the wedge ({:.2} mm) and drive the wedge until it holds: it then stands at {:.1} mm ({:.2} in)",
            space.si() * 1e3,
            stand_m * 1e3,
            stand_m / 25.4e-3
        ),
        1,
    );
    let Some(stand) = joint.stand else { return option };
    if stand_m < stand.least_m {
        option.against.push(format!(
            "the wedge has not the travel: it would come {:.1} mm below its least stand",
            (stand.least_m - stand_m) * 1e3
        ));
    }
    let mut trial = base.clone();
    trial.make(stand.feature, stand_m, holds_m);
    finish(judgement, ix, &trial, option)
}
