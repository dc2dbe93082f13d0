//! The options of a joint: leave, close, clean up, re-metal, line, renew; each with target sizes
//! and what it does to the joint, to every other joint and to every chain.

use super::act::close;
use super::plan::{
    Doing, allowed, as_made, can_cut_to, clean_up_size, holds, must_be_worked, way_of,
};
use super::trial::{Trial, TrialResult};
use crate::judge::{Estimate, Judgement, Verdict};
use crate::model::{FeatureIx, Joint, JointIx, JointKind, Measure, RepairKind, Way, When};
use quantity::Uncertain;

/// A size to be made.
#[derive(Clone, Debug)]
pub struct Target {
    /// Feature.
    pub feature: FeatureIx,
    /// Size at 20 degC, metres.
    pub to_m: f64,
    /// Plus or minus, metres.
    pub tolerance_m: f64,
    /// How.
    pub way: Way,
    /// Made last, to the mate's finished size with this much more (outer) or less (inner).
    pub to_suit: Option<(FeatureIx, f64)>,
}

/// One thing that could be done to a joint.
#[derive(Clone, Debug)]
pub struct RepairOption {
    /// What.
    pub kind: RepairKind,
    /// In words.
    pub words: String,
    /// Sizes to make.
    pub targets: Vec<Target>,
    /// Liner to make, metres, for wedged joints.
    pub liner_m: Option<f64>,
    /// The joint's main measure afterwards.
    pub after: Option<Estimate>,
    /// Probability that the finished joint is inside its refit limits (service limits for
    /// `leave`), given how well the workshop holds size.
    pub probability: Option<f64>,
    /// Everything that moves.
    pub effects: TrialResult,
    /// Why it cannot be done, or must not; empty when it can.
    pub against: Vec<String>,
    /// Rank of its trouble.
    pub trouble: u32,
}

impl RepairOption {
    /// It can be done.
    pub fn can_be_done(&self) -> bool {
        self.against.is_empty()
    }
}

/// Chance of success below which an option is not recommended.
const ENOUGH_CHANCE: f64 = 0.90;

/// The options of a joint, least trouble first; those that cannot be done last, with the reason.
pub fn options_for(judgement: &Judgement, ix: JointIx) -> Vec<RepairOption> {
    let joint = judgement.engine().joint(ix);
    let mut options = vec![leave(judgement, ix)];
    if joint.kind == JointKind::Wedged {
        options.extend(wedge_options(judgement, ix, joint));
    } else {
        options.extend(close_option(judgement, ix, joint));
        options.extend(pair_options(judgement, ix, joint));
    }
    options.sort_by_key(|o| (!o.can_be_done(), o.trouble));
    options
}

/// The option that is recommended: the least trouble that can be done, is likely enough to come
/// out inside its limits, and sends no chain or other joint beyond. `None` when there is none, or
/// when the joint must first be gauged better.
pub fn recommended<'a>(
    judgement: &Judgement,
    ix: JointIx,
    options: &'a [RepairOption],
) -> Option<&'a RepairOption> {
    if matches!(judgement.joint(ix).verdict, Verdict::CannotTell | Verdict::NoLimit) {
        return None;
    }
    options.iter().find(|o| {
        o.can_be_done()
            && o.probability.is_none_or(|p| p >= ENOUGH_CHANCE)
            && o.effects.joints.iter().all(|e| {
                e.joint == ix
                    || e.verdict_after != Verdict::Beyond
                    || e.verdict_before == Verdict::Beyond
            })
            && o.effects
                .chains
                .iter()
                .all(|e| e.verdict_after != Verdict::Beyond || e.verdict_before == Verdict::Beyond)
    })
}

fn leave(judgement: &Judgement, ix: JointIx) -> RepairOption {
    let state = judgement.joint(ix);
    let main = judgement.engine().joint(ix).kind.measure();
    let mut against = Vec::new();
    match state.verdict {
        Verdict::Beyond => against.push("it is beyond a limit in service".to_owned()),
        Verdict::Near => {
            against.push("it is near a limit: it would not last to the next overhaul".to_owned())
        }
        _ => {}
    }
    RepairOption {
        kind: RepairKind::Leave,
        words: "leave as it is".to_owned(),
        targets: Vec::new(),
        liner_m: None,
        after: state.measure(main).cloned(),
        probability: state
            .limits
            .iter()
            .filter(|l| l.when == When::Service)
            .filter_map(|l| l.probability_inside)
            .min_by(f64::total_cmp),
        effects: TrialResult::default(),
        against,
        trouble: 0,
    }
}

/// Where the main measure should come to: the middle of the refit limits.
struct Aim {
    to: f64,
    /// Half the width of the limits, when both are given.
    half_width: Option<f64>,
}

fn aim(judgement: &Judgement, ix: JointIx, spread_m: f64) -> Result<Aim, String> {
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

fn pair_options(judgement: &Judgement, ix: JointIx, joint: &Joint) -> Vec<RepairOption> {
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
    let mut option = RepairOption {
        kind: kind_of(inner, outer),
        words: words_of(judgement, joint, inner, outer),
        targets: Vec::new(),
        liner_m: None,
        after: None,
        probability: None,
        effects: TrialResult::default(),
        against: Vec::new(),
        trouble: inner.trouble(engine.feature(joint.inner).kind)
            + outer.trouble(engine.feature(joint.outer).kind),
    };
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

fn fills_of(judgement: &Judgement, joint: &Joint) -> Option<Uncertain> {
    let sizes: Vec<Uncertain> = joint
        .fills
        .iter()
        .map(|f| judgement.feature(*f).size.as_ref().map(|e| e.value.clone()))
        .collect::<Option<_>>()?;
    let terms: Vec<(f64, &Uncertain)> = sizes.iter().map(|s| (1.0, s)).collect();
    Some(Uncertain::linear(0.0, &terms))
}

fn finish(
    judgement: &Judgement,
    ix: JointIx,
    trial: &Trial,
    mut option: RepairOption,
) -> RepairOption {
    option.effects = trial.run(judgement);
    if let Some(own) = option.effects.joints.iter().find(|e| e.joint == ix) {
        option.after = own.after.clone();
        option.probability = own.probability;
    }
    option
}

fn close_option(judgement: &Judgement, ix: JointIx, joint: &Joint) -> Option<RepairOption> {
    let engine = judgement.engine();
    let bearing = engine.feature(joint.outer);
    if bearing.halves.len() != 2 || joint.kind != JointKind::Running {
        return None;
    }
    let mut option = RepairOption {
        kind: RepairKind::Close,
        words: String::new(),
        targets: Vec::new(),
        liner_m: None,
        after: None,
        probability: None,
        effects: TrialResult::default(),
        against: Vec::new(),
        trouble: 1,
    };
    let holds_m = engine.workshop.holds(Way::Filing);
    let state = judgement.feature(joint.outer);
    let along =
        state.along_and_across.as_ref().map(|(a, _)| a.clone()).or_else(|| state.size.clone());
    let inner = judgement.feature(joint.inner).size.as_ref();
    let (Some(along), Some(inner)) = (along, inner) else {
        option.words = "close the brasses".to_owned();
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

fn wedge_options(judgement: &Judgement, ix: JointIx, joint: &Joint) -> Vec<RepairOption> {
    let engine = judgement.engine();
    let (Some(stand), Some(taper)) = (joint.stand, joint.taper) else { return Vec::new() };
    let mut option = RepairOption {
        kind: RepairKind::Line,
        words: String::new(),
        targets: Vec::new(),
        liner_m: None,
        after: None,
        probability: None,
        effects: TrialResult::default(),
        against: Vec::new(),
        trouble: 5,
    };
    let state = judgement.joint(ix);
    let at = judgement.feature(stand.feature).size.as_ref();
    let unaccounted = state.measure(Measure::Unaccounted);
    let (Some(at), Some(unaccounted)) = (at, unaccounted) else {
        option.words = "liner behind the wedge".to_owned();
        option.against.push("the wedge, its slot or its brasses are not gauged".to_owned());
        return vec![option];
    };
    let middle = (stand.least_m + stand.most_m) / 2.0;
    // What takes up the slot now that no part accounts for, and what the wedge gives up when it
    // goes back to mid-travel.
    let liner = unaccounted.si() + (middle - at.si()) * taper;
    option.liner_m = Some(liner);
    option.words = format!(
        "fit one liner of {:.2} mm ({:.4} in) behind the wedge{}: the wedge then stands at mid-travel, {:.1} mm ({:.2} in)",
        liner * 1e3,
        liner / 25.4e-3,
        if unaccounted.si() > 2.0 * unaccounted.u() {
            ", in place of what is packed there now"
        } else {
            ""
        },
        middle * 1e3,
        middle / 25.4e-3,
    );
    if liner <= 0.2e-3 {
        option
            .against
            .push("the wedge has all the travel it wants: there is nothing to line".to_owned());
    }
    let mut trial = Trial::default();
    trial.make(stand.feature, middle, engine.workshop.holds(Way::Planing) / taper.abs().max(1e-6));
    trial.line(ix, liner);
    vec![finish(judgement, ix, &trial, option)]
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

fn words_of(judgement: &Judgement, joint: &Joint, inner: Doing, outer: Doing) -> String {
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
