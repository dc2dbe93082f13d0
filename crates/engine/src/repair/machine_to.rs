//! The machine-to list: every surface that is to be made, the size to make it to, and why.

use super::options::{RepairOption, Target, options_for, recommended};
use crate::judge::{Judgement, Verdict};
use crate::model::{FeatureIx, JointIx, Metal, RepairKind, Way};
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
    /// Liners to make: joint and thickness, metres.
    pub liners: Vec<(JointIx, f64)>,
    /// Joints for which nothing can be recommended: gauge them better, or no option serves.
    pub open: Vec<(JointIx, String)>,
    /// Families.
    pub families: Vec<Family>,
}

/// Works out the list: a decision where there is one, else what is recommended.
pub fn machine_to(judgement: &Judgement) -> MachineTo {
    let engine = judgement.engine();
    let mut list = MachineTo::default();
    for ix in (0..engine.joints.len()).map(JointIx::new) {
        if let Some(decision) = engine.decisions.iter().rev().find(|d| d.joint == ix) {
            for make in &decision.make {
                let tolerance_m = make.tolerance.as_ref().map_or(0.0, |q| q.si().abs());
                list.lines.push(MachineToLine {
                    joint: ix,
                    repair: decision.repair,
                    feature: make.feature,
                    to_m: make.to.si(),
                    tolerance_m,
                    way: None,
                    to_suit: None,
                    decided_by: Some(decision.by.clone()),
                    conflict: false,
                });
            }
            if !decision.make.is_empty() || decision.repair == RepairKind::Leave {
                continue;
            }
            // Decided how, not to what size: the sizes are worked out.
            let options = options_for(judgement, ix);
            match options.iter().find(|o| o.kind == decision.repair && o.can_be_done()) {
                Some(option) => add(&mut list, ix, option, Some(&decision.by)),
                None => list.open.push((
                    ix,
                    format!("decided to {}, but it cannot be done so", decision.repair),
                )),
            }
            continue;
        }
        match judgement.joint(ix).verdict {
            Verdict::Within | Verdict::NoLimit => continue,
            Verdict::CannotTell => {
                list.open.push((ix, why_not_told(judgement, ix)));
                continue;
            }
            Verdict::Beyond | Verdict::Near => {}
        }
        let options = options_for(judgement, ix);
        match recommended(judgement, ix, &options) {
            Some(option) => add(&mut list, ix, option, None),
            None => {
                let reasons: Vec<&str> = options
                    .iter()
                    .flat_map(|o| o.against.iter().map(String::as_str))
                    .take(2)
                    .collect();
                list.open.push((ix, format!("no option serves: {}", reasons.join("; "))));
            }
        }
    }
    mark_conflicts(&mut list);
    list.families = families(judgement, &list);
    list
}

fn add(list: &mut MachineTo, joint: JointIx, option: &RepairOption, decided_by: Option<&str>) {
    if let Some(liner) = option.liner_m {
        list.liners.push((joint, liner));
    }
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
        None => "cannot be told, and no gauge listed could tell".to_owned(),
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
