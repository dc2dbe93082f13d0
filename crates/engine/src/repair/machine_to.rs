//! The machine-to list: every surface that is to be made, the size to make it to, and why.

use super::act::usual_way;
use super::options::{RepairOption, Target, options_given, recommended};
use super::trial::Trial;
use crate::judge::{Judgement, Verdict};
use crate::model::{Decision, FeatureIx, JointIx, JointKind, Metal, PartIx, RepairKind, Way};
use std::collections::BTreeMap;

/// One line of the list.
#[derive(Clone, Debug)]
pub struct MachineToLine {
    /// Joint it is for.
    pub joint: JointIx,
    /// What is done to the joint.
    pub repair: RepairKind,
    /// Feature to make.
    pub feature: FeatureIx,
    /// Size at 20 degC, metres.
    pub to_m: f64,
    /// Plus or minus, metres.
    pub tolerance_m: f64,
    /// How; `None` when a person decided and did not say.
    pub way: Option<Way>,
    /// Made to its mate's finished size and this much more.
    pub to_suit: Option<(FeatureIx, f64)>,
    /// A person decided it; otherwise it is what the program recommends.
    pub decided_by: Option<String>,
    /// Another line wants the same feature made to another size.
    pub conflict: bool,
}

/// Features of one family and the one size that would serve all of those to be machined.
#[derive(Clone, Debug)]
pub struct Family {
    /// Its name.
    pub name: String,
    /// Members on the list.
    pub members: Vec<FeatureIx>,
    /// Size at which all of them clean up, metres.
    pub common_m: f64,
}

/// The list.
#[derive(Clone, Debug, Default)]
pub struct MachineTo {
    /// Lines, in the order of joints.
    pub lines: Vec<MachineToLine>,
    /// Things to do that make no size: joint and what, in words.
    pub to_do: Vec<(JointIx, String)>,
    /// Liners to make: joint and thickness, metres.
    pub liners: Vec<(JointIx, f64)>,
    /// Joints for which nothing can be recommended: gauge them better, or no option serves.
    pub open: Vec<(JointIx, String)>,
    /// Families.
    pub families: Vec<Family>,
}

/// Which joints are to be put right.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Scope {
    /// Those beyond or near a limit in service.
    #[default]
    Service,
    /// Those beyond what they may be when put back as well.
    Refit,
}

/// Works out the list: a decision where there is one, else what is recommended.
pub fn machine_to(judgement: &Judgement) -> MachineTo {
    machine_to_within(judgement, Scope::Service)
}

/// Works out the list for the joints of a scope.
pub fn machine_to_within(judgement: &Judgement, scope: Scope) -> MachineTo {
    let engine = judgement.engine();
    let mut list = MachineTo::default();
    let mut base = Trial::default();
    // Wedges come last: what is done to the brasses decides how far the wedge goes and how thick
    // its liner must be.
    let wedged = |ix: &JointIx| engine.joint(*ix).kind == JointKind::Wedged;
    let (wedges, others): (Vec<JointIx>, Vec<JointIx>) =
        (0..engine.joints.len()).map(JointIx::new).partition(wedged);
    for ix in others {
        put_right(judgement, ix, scope, &mut base, &mut list);
    }
    come_with_the_new_part(judgement, &mut base, &mut list);
    for ix in wedges {
        put_right(judgement, ix, scope, &mut base, &mut list);
    }
    list.lines.sort_by_key(|l| l.joint);
    mark_conflicts(&mut list);
    list.families = families(judgement, &list);
    list
}

fn put_right(
    judgement: &Judgement,
    ix: JointIx,
    scope: Scope,
    base: &mut Trial,
    list: &mut MachineTo,
) {
    let engine = judgement.engine();
    if let Some(decision) = engine.decisions.iter().rev().find(|d| d.joint == ix) {
        decided(judgement, ix, decision, base, list);
        return;
    }
    let state = judgement.joint(ix);
    let pushed_beyond = || {
        engine.joint(ix).kind == JointKind::Wedged
            && base.effect_on(judgement, ix).is_some_and(|e| e.verdict_after == Verdict::Beyond)
    };
    match state.verdict {
        Verdict::Beyond | Verdict::Near => {}
        Verdict::CannotTell => {
            list.open.push((ix, why_not_told(judgement, ix)));
            return;
        }
        Verdict::Within | Verdict::NoLimit => {
            let wanted = scope == Scope::Refit && state.refit_verdict == Verdict::Beyond;
            if !wanted && !pushed_beyond() {
                return;
            }
        }
    }
    let options = options_given(judgement, ix, base);
    let left_alone = |o: &RepairOption| o.kind == RepairKind::Leave;
    // `leave` answers a service limit only; here something is to be done.
    let options: Vec<RepairOption> = options.into_iter().filter(|o| !left_alone(o)).collect();
    match recommended(judgement, ix, &options) {
        Some(option) => add(list, base, ix, option, None),
        None => {
            let reasons: Vec<&str> =
                options.iter().flat_map(|o| o.against.iter().map(String::as_str)).take(2).collect();
            list.open.push((ix, format!("no option serves: {}", reasons.join("; "))));
        }
    }
}

fn decided(
    judgement: &Judgement,
    ix: JointIx,
    decision: &Decision,
    base: &mut Trial,
    list: &mut MachineTo,
) {
    let engine = judgement.engine();
    let mut trial = Trial::default();
    for make in &decision.make {
        let way = usual_way(&engine.feature(make.feature).can);
        let holds_m = engine.workshop.holds(way);
        let tolerance_m = make.tolerance.as_ref().map_or(2.0 * holds_m, |q| q.si().abs());
        trial.make(make.feature, make.to.si(), holds_m);
        base.make(make.feature, make.to.si(), holds_m);
        list.lines.push(MachineToLine {
            joint: ix,
            repair: decision.repair,
            feature: make.feature,
            to_m: make.to.si(),
            tolerance_m,
            way: Some(way),
            to_suit: None,
            decided_by: Some(decision.by.clone()),
            conflict: false,
        });
    }
    if !decision.make.is_empty() {
        if let Some(effect) = trial.effect_on(judgement, ix)
            && (effect.verdict_after == Verdict::Beyond || effect.refit_after == Verdict::Beyond)
        {
            let said = effect.after.map_or_else(String::new, |a| {
                format!(": {} {:.3} mm", effect.measure, a.si() * 1e3)
            });
            list.open.push((ix, format!("the sizes decided on put it outside its limits{said}")));
        }
        return;
    }
    if decision.repair == RepairKind::Leave {
        return;
    }
    // Decided how, not to what size: the sizes are worked out.
    let options = options_given(judgement, ix, base);
    match options.iter().find(|o| o.kind == decision.repair && o.can_be_done()) {
        Some(option) => add(list, base, ix, option, Some(&decision.by)),
        None => list
            .open
            .push((ix, format!("decided to {}, but it cannot be done so", decision.repair))),
    }
}

fn add(
    list: &mut MachineTo,
    base: &mut Trial,
    joint: JointIx,
    option: &RepairOption,
    decided_by: Option<&str>,
) {
    if let Some(liner) = option.liner_m {
        list.liners.push((joint, liner));
    }
    if option.targets.is_empty() && option.liner_m.is_none() {
        list.to_do.push((joint, option.words.clone()));
    }
    base.with(&option.targets);
    for Target { feature, to_m, tolerance_m, way, to_suit } in &option.targets {
        list.lines.push(MachineToLine {
            joint,
            repair: option.kind,
            feature: *feature,
            to_m: *to_m,
            tolerance_m: *tolerance_m,
            way: Some(*way),
            to_suit: *to_suit,
            decided_by: decided_by.map(str::to_owned),
            conflict: false,
        });
    }
}

/// A part made new wants all its surfaces: a bush its outside as well as its bore.
fn come_with_the_new_part(judgement: &Judgement, base: &mut Trial, list: &mut MachineTo) {
    let engine = judgement.engine();
    let mut new_parts: Vec<(PartIx, Option<String>)> = list
        .lines
        .iter()
        .filter(|l| l.way == Some(Way::New))
        .map(|l| (engine.feature(l.feature).part, l.decided_by.clone()))
        .collect();
    new_parts.sort();
    new_parts.dedup_by_key(|(part, _)| *part);
    for (part, decided_by) in new_parts {
        for f in (0..engine.features.len()).map(FeatureIx::new) {
            let feature = engine.feature(f);
            if feature.part != part || list.lines.iter().any(|l| l.feature == f) {
                continue;
            }
            for joint in &feature.in_joints {
                let options = options_given(judgement, *joint, base);
                let only = |o: &&RepairOption| {
                    o.can_be_done()
                        && o.targets.len() == 1
                        && o.targets.iter().all(|t| t.feature == f && t.way == Way::New)
                };
                match options.iter().find(only) {
                    Some(option) => {
                        let option = option.clone();
                        add(list, base, *joint, &option, decided_by.as_deref());
                        break;
                    }
                    None => list.open.push((
                        *joint,
                        format!(
                            "{} comes new with its part: its size could not be worked out",
                            feature.id
                        ),
                    )),
                }
            }
        }
    }
}

fn why_not_told(judgement: &Judgement, ix: JointIx) -> String {
    let engine = judgement.engine();
    let state = judgement.joint(ix);
    if !state.missing.is_empty() {
        let names: Vec<&str> =
            state.missing.iter().map(|f| engine.feature(*f).id.as_str()).collect();
        return format!("not gauged: {}", names.join(", "));
    }
    if state.lapsed {
        return "read with a gauge out of calibration: gauge again".to_owned();
    }
    let able: Vec<&str> = state
        .limits
        .iter()
        .filter(|l| l.verdict == Verdict::CannotTell)
        .flat_map(|l| l.could_tell.first())
        .map(|g| engine.gauge(*g).id.as_str())
        .collect();
    match able.first() {
        Some(gauge) => format!("cannot be told with what was read; {gauge} could tell"),
        None => "cannot be told: take more readings; no other gauge listed could tell".to_owned(),
    }
}

fn mark_conflicts(list: &mut MachineTo) {
    let mut sizes: BTreeMap<FeatureIx, (f64, bool)> = BTreeMap::new();
    for line in &list.lines {
        let entry = sizes.entry(line.feature).or_insert((line.to_m, false));
        entry.1 |= (entry.0 - line.to_m).abs() > line.tolerance_m.max(1e-6);
    }
    for line in &mut list.lines {
        line.conflict = sizes.get(&line.feature).is_some_and(|(_, conflict)| *conflict);
    }
}

fn families(judgement: &Judgement, list: &MachineTo) -> Vec<Family> {
    let engine = judgement.engine();
    let mut by_name: BTreeMap<&str, Vec<(FeatureIx, f64)>> = BTreeMap::new();
    for line in list.lines.iter().filter(|l| l.to_suit.is_none()) {
        if let Some(family) = &engine.feature(line.feature).family {
            by_name.entry(family).or_default().push((line.feature, line.to_m));
        }
    }
    by_name
        .into_iter()
        .filter(|(_, members)| members.len() > 1)
        .filter_map(|(name, members)| {
            let sizes = members.iter().map(|(_, m)| *m);
            let common_m = match engine.feature(members.first()?.0).kind.metal() {
                Metal::Inside => sizes.min_by(f64::total_cmp)?,
                Metal::Outside => sizes.max_by(f64::total_cmp)?,
                Metal::Neither => return None,
            };
            Some(Family {
                name: name.to_owned(),
                members: members.into_iter().map(|(f, _)| f).collect(),
                common_m,
            })
        })
        .collect()
}
