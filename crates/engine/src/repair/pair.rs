//! Options of two surfaces that mate: one is kept or made first, the other made to suit it.

use super::aim::aim;
use super::options::{RepairOption, Target, finish};
use super::plan::{
    Doing, allowed, as_made, can_cut_to, clean_up_size, holds, must_be_worked, way_of,
};
use super::trial::Trial;
use super::words::words_of;
use crate::judge::Judgement;
use crate::model::{FeatureIx, Joint, JointIx, JointKind, Measure, RepairKind};
use quantity::Uncertain;

/// Every sensible pair of doings; of those that cannot be done, one of each kind with its reason.
pub(super) fn pair_options(judgement: &Judgement, ix: JointIx, joint: &Joint) -> Vec<RepairOption> {
    use Doing as D;
    const PAIRS: &[(D, D)] = &[
        (D::Keep, D::CutToSuit),
        (D::CutToSuit, D::Keep),
        (D::Keep, D::ReMetalToSuit),
        (D::ReMetalToSuit, D::Keep),
        (D::CleanUp, D::CutToSuit),
        (D::CleanUp, D::ReMetalToSuit),
        (D::ReMetalToSuit, D::CleanUp),
        (D::Keep, D::LineToSuit),
        (D::LineToSuit, D::Keep),
        (D::CleanUp, D::LineToSuit),
        (D::LineToSuit, D::CleanUp),
        (D::NewToSuit, D::Keep),
        (D::NewToSuit, D::CleanUp),
        (D::Keep, D::NewToSuit),
        (D::CleanUp, D::NewToSuit),
        (D::NewAsMade, D::CutToSuit),
        (D::NewAsMade, D::ReMetalToSuit),
        (D::NewAsMade, D::LineToSuit),
        (D::NewAsMade, D::NewToSuit),
    ];
    let mut out: Vec<RepairOption> = Vec::new();
    for (inner, outer) in PAIRS {
        let possible =
            |ix: FeatureIx, doing: D| doing == D::Keep || way_of(judgement, ix, doing).is_some();
        if !possible(joint.inner, *inner) || !possible(joint.outer, *outer) {
            continue;
        }
        out.push(pair_option(judgement, ix, joint, *inner, *outer));
    }
    // Of the ways to the same end that cannot be done, one with its reason is enough.
    let mut refused: Vec<RepairKind> = Vec::new();
    out.retain(|o| {
        if o.can_be_done() {
            return true;
        }
        let first = !refused.contains(&o.kind);
        refused.push(o.kind);
        first
    });
    let done: Vec<RepairKind> = out.iter().filter(|o| o.can_be_done()).map(|o| o.kind).collect();
    out.retain(|o| o.can_be_done() || !done.contains(&o.kind));
    out
}

fn pair_option(
    judgement: &Judgement,
    ix: JointIx,
    joint: &Joint,
    inner: Doing,
    outer: Doing,
) -> RepairOption {
    let engine = judgement.engine();
    let metal = |f: FeatureIx| engine.feature(f).kind.metal();
    let trouble = inner.trouble(engine.feature(joint.inner).kind)
        + outer.trouble(engine.feature(joint.outer).kind);
    let mut option =
        RepairOption::new(kind_of(inner, outer), words_of(judgement, joint, inner, outer), trouble);
    for (f, doing) in [(joint.inner, inner), (joint.outer, outer)] {
        if doing == Doing::Keep && must_be_worked(judgement, f) {
            option.against.push(format!("{} cannot be left as it is", engine.feature(f).id));
        }
    }
    let mut trial = Trial::default();
    // The side that does not follow the other is made first.
    let (first, first_doing, second, second_doing, second_is_inner) = if inner.to_suit() {
        (joint.outer, outer, joint.inner, inner, true)
    } else {
        (joint.inner, inner, joint.outer, outer, false)
    };
    let first_size = match make_first(judgement, first, first_doing, &mut trial, &mut option) {
        Ok(size) => size,
        Err(why) => {
            option.against.push(why);
            return option;
        }
    };
    let Some(fills) = fills_of(judgement, joint) else {
        option.against.push("what fills the space between is not gauged".to_owned());
        return option;
    };
    let Some(way) = way_of(judgement, second, second_doing) else {
        option.against.push(format!(
            "{} is kept, so nothing brings the joint to size",
            engine.feature(second).id
        ));
        return option;
    };
    let holds_m = holds(judgement, second, way);
    let per = if joint.kind == JointKind::Tapered {
        joint.taper.unwrap_or(1.0).abs().max(1e-6)
    } else {
        1.0
    };
    let aim = match aim(judgement, ix, holds_m / per) {
        Ok(aim) => aim,
        Err(why) => {
            option.against.push(why);
            return option;
        }
    };
    // The follower is made to the mate as measured when finished: the mate's doubt of reading
    // enters, how well the mate was held does not.
    let to = size_to_suit(joint, second_is_inner, &first_size, &fills, aim.to);
    if second_doing == Doing::CutToSuit
        && !can_cut_to(
            judgement.feature(second),
            metal(second),
            engine.workshop.least_cut_m,
            to.value(),
        )
    {
        option.against.push(format!(
            "{} has no metal left for it: it does not clean up at {:.2} mm",
            engine.feature(second).id,
            to.value() * 1e3
        ));
    }
    if let Err(why) = allowed(judgement, second, to.value()) {
        option.against.push(why);
    }
    if to.value() <= 0.0 {
        option.against.push("the sizes leave nothing".to_owned());
        return option;
    }
    let tolerance_m = aim.half_width.map_or(2.0 * holds_m, |w| {
        (w * per - 1.645 * reading_doubt(&to)).clamp(holds_m, 4.0 * holds_m)
    });
    option.targets.push(Target {
        feature: second,
        to_m: to.value(),
        tolerance_m,
        way,
        to_suit: Some((first, to.value() - first_size.value())),
    });
    trial.make_to_suit(second, to, holds_m);
    finish(judgement, ix, &trial, option)
}

fn reading_doubt(to: &Uncertain) -> f64 {
    to.standard_uncertainty()
}

fn make_first(
    judgement: &Judgement,
    ix: FeatureIx,
    doing: Doing,
    trial: &mut Trial,
    option: &mut RepairOption,
) -> Result<Uncertain, String> {
    let engine = judgement.engine();
    let feature = engine.feature(ix);
    if doing == Doing::Keep {
        let state = judgement.feature(ix);
        return state
            .size
            .as_ref()
            .map(|e| e.value.clone())
            .ok_or_else(|| format!("{}: {}", feature.id, state.missing.unwrap_or("no size")));
    }
    let way = way_of(judgement, ix, doing)
        .ok_or_else(|| format!("{} cannot be worked so", feature.id))?;
    let size_m = if doing == Doing::NewAsMade {
        as_made(judgement, ix)
            .map(|u| u.value())
            .ok_or_else(|| format!("{} has no size as made", feature.id))?
    } else {
        clean_up_size(judgement, ix)?
    };
    let holds_m = holds(judgement, ix, way);
    option.targets.push(Target {
        feature: ix,
        to_m: size_m,
        // Its mate is made to suit, so it need only be held as well as the workshop can.
        tolerance_m: (2.0 * holds_m).max(0.01e-3),
        way,
        to_suit: None,
    });
    trial.make(ix, size_m, holds_m);
    Ok(trial.size(judgement, ix).unwrap_or_else(|| Uncertain::exact(size_m)))
}

/// Size of one side when the other has a size and the joint's main measure is to be `aim`.
fn size_to_suit(
    joint: &Joint,
    inner: bool,
    mate: &Uncertain,
    fills: &Uncertain,
    aim: f64,
) -> Uncertain {
    // clearance c = B - J - f; interference i = J + f - B; draw d = (J - B) / t.
    let (mate_sign, fill_sign, offset) = match (joint.kind.measure(), inner) {
        (Measure::Interference, true) => (1.0, -1.0, aim),
        (Measure::Interference, false) => (1.0, 1.0, -aim),
        (Measure::Draw, true) => (1.0, 0.0, aim * joint.taper.unwrap_or(0.0)),
        (Measure::Draw, false) => (1.0, 0.0, -aim * joint.taper.unwrap_or(0.0)),
        (_, true) => (1.0, -1.0, -aim),
        (_, false) => (1.0, 1.0, aim),
    };
    Uncertain::linear(offset, &[(mate_sign, mate), (fill_sign, fills)])
}

fn fills_of(judgement: &Judgement, joint: &Joint) -> Option<Uncertain> {
    let sizes: Vec<Uncertain> = joint
        .fills
        .iter()
        .map(|f| judgement.feature(*f).size.as_ref().map(|e| e.value.clone()))
        .collect::<Option<_>>()?;
    let terms: Vec<(f64, &Uncertain)> = sizes.iter().map(|s| (1.0, s)).collect();
    Some(Uncertain::linear(0.0, &terms))
}

fn kind_of(inner: Doing, outer: Doing) -> RepairKind {
    let kind = |d: Doing| match d {
        Doing::Keep => RepairKind::Leave,
        Doing::CleanUp | Doing::CutToSuit => RepairKind::CleanUp,
        Doing::ReMetalToSuit => RepairKind::ReMetal,
        Doing::LineToSuit => RepairKind::Line,
        Doing::NewToSuit | Doing::NewAsMade => RepairKind::Renew,
    };
    kind(inner).max(kind(outer))
}
