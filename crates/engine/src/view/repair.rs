//! Options, trials and the machine-to list as they are shown.

use super::build::figure_of;
use super::figure::Figure;
use super::motion::{piston_effect, piston_words};
use super::shapes::*;
use super::words::caution_texts;
use crate::judge::{Estimate, Judgement};
use crate::model::{FeatureKind, JointIx, Measure, Way};
use crate::repair::{
    ChainEffect, JointEffect, MachineTo, RepairOption, Target, TrialResult, options_for,
    recommended,
};

/// The options of a joint.
pub fn option_views(judgement: &Judgement, ix: JointIx) -> Vec<OptionView> {
    let options = options_for(judgement, ix);
    let best = recommended(judgement, ix, &options).map(std::ptr::from_ref);
    options
        .iter()
        .map(|o| option_view(judgement, ix, o, best == Some(std::ptr::from_ref(o))))
        .collect()
}

fn option_view(
    judgement: &Judgement,
    ix: JointIx,
    o: &RepairOption,
    recommended: bool,
) -> OptionView {
    let main = judgement.engine().joint(ix).kind.measure();
    OptionView {
        repair: o.kind.word(),
        words: o.words.clone(),
        can_be_done: o.can_be_done(),
        recommended,
        against: o.against.clone(),
        targets: o.targets.iter().map(|t| target_view(judgement, t)).collect(),
        after: o.after.as_ref().map(|e| figure_of(main, e)),
        probability: o.probability,
        joints: o
            .effects
            .joints
            .iter()
            .filter(|e| e.joint != ix)
            .map(|e| joint_effect(judgement, e))
            .collect(),
        chains: chain_effects(judgement, &o.effects),
        // A piston that an option leaves where it is need not be told.
        pistons: o
            .effects
            .pistons
            .iter()
            .filter(|e| e.moves())
            .map(|e| piston_effect(judgement, e))
            .collect(),
        piston_words: piston_words(judgement, &o.words, &o.effects.pistons),
    }
}

/// Chains that move, without those that a piston clearance tells.
fn chain_effects(judgement: &Judgement, effects: &TrialResult) -> Vec<EffectView> {
    let motion = &judgement.engine().motion;
    effects
        .chains
        .iter()
        .filter(|e| motion.teller_of(e.chain).is_none())
        .map(|e| chain_effect(judgement, e))
        .collect()
}

fn target_view(judgement: &Judgement, t: &Target) -> TargetView {
    let feature = judgement.engine().feature(t.feature);
    TargetView {
        feature: feature.id.clone(),
        name: feature.name.clone(),
        to: Figure::to_make(t.to_m),
        tolerance: Figure::tolerance(t.tolerance_m),
        way: way_word(feature.kind, t.way),
        to_suit: t.to_suit.map(|(f, _)| judgement.engine().feature(f).id.clone()),
        more: t.to_suit.map(|(_, more)| Figure::of_difference(more, Some(1e-6))),
    }
}

fn moves(before: Option<&Estimate>, after: Option<&Estimate>) -> Option<Figure> {
    before.zip(after).map(|(b, a)| Figure::of_difference(a.si() - b.si(), Some(1e-6)))
}

fn joint_effect(judgement: &Judgement, e: &JointEffect) -> EffectView {
    EffectView {
        id: judgement.engine().joint(e.joint).id.clone(),
        measure: e.measure.word(),
        before: e.before.as_ref().map(|x| figure_of(e.measure, x)),
        after: e.after.as_ref().map(|x| figure_of(e.measure, x)),
        moves: moves(e.before.as_ref(), e.after.as_ref()),
        verdict_before: e.verdict_before.word(),
        verdict_after: e.verdict_after.word(),
        probability: e.probability,
    }
}

fn chain_effect(judgement: &Judgement, e: &ChainEffect) -> EffectView {
    EffectView {
        id: judgement.engine().chain(e.chain).id.clone(),
        measure: Measure::Length.word(),
        before: e.before.as_ref().map(Figure::size),
        after: e.after.as_ref().map(Figure::size),
        moves: moves(e.before.as_ref(), e.after.as_ref()),
        verdict_before: e.verdict_before.word(),
        verdict_after: e.verdict_after.word(),
        probability: e.probability,
    }
}

/// A trial as it is shown.
pub fn trial_view(judgement: &Judgement, acts: &[String], result: &TrialResult) -> TrialView {
    TrialView {
        acts: acts.to_vec(),
        sizes: result
            .sizes
            .iter()
            .map(|(f, before, after)| SizeChangeView {
                feature: judgement.engine().feature(*f).id.clone(),
                before: before.as_ref().map(Figure::size),
                after: Figure::size(after),
            })
            .collect(),
        joints: result.joints.iter().map(|e| joint_effect(judgement, e)).collect(),
        chains: chain_effects(judgement, result),
        pistons: result.pistons.iter().map(|e| piston_effect(judgement, e)).collect(),
        piston_words: piston_words(judgement, &acts.join(", "), &result.pistons),
    }
}

/// The machine-to list as it is shown.
pub fn machine_to_view(judgement: &Judgement, list: &MachineTo) -> MachineToView {
    let engine = judgement.engine();
    MachineToView {
        lines: list
            .lines
            .iter()
            .map(|l| {
                let feature = engine.feature(l.feature);
                MachineToLineView {
                    joint: engine.joint(l.joint).id.clone(),
                    repair: l.repair.word(),
                    part: engine.parts[feature.part.index()].name.clone(),
                    feature: feature.id.clone(),
                    name: feature.name.clone(),
                    now: judgement.feature(l.feature).size.as_ref().map(Figure::size),
                    to: Figure::to_make(l.to_m),
                    tolerance: Figure::tolerance(l.tolerance_m),
                    way: l.way.map_or("", |w| way_word(feature.kind, w)),
                    to_suit: l.to_suit.map(|(f, _)| engine.feature(f).id.clone()),
                    more: l.to_suit.map(|(_, more)| Figure::of_difference(more, Some(1e-6))),
                    decided_by: l.decided_by.clone(),
                    conflict: l.conflict,
                }
            })
            .collect(),
        to_do: list.to_do.iter().map(|(j, what)| open_view(judgement, *j, what)).collect(),
        liners: list
            .liners
            .iter()
            .map(|(j, t)| LinerView {
                joint: engine.joint(*j).id.clone(),
                thickness: Figure::to_make(*t),
            })
            .collect(),
        open: list.open.iter().map(|(j, why)| open_view(judgement, *j, why)).collect(),
        families: list
            .families
            .iter()
            .map(|f| FamilyView {
                family: f.name.clone(),
                members: f.members.iter().map(|m| engine.feature(*m).id.clone()).collect(),
                common: Figure::to_make(f.common_m),
            })
            .collect(),
        cautions: caution_texts(),
    }
}

fn open_view(judgement: &Judgement, ix: JointIx, why: &str) -> OpenView {
    OpenView { joint: judgement.engine().joint(ix).id.clone(), why: why.to_owned() }
}

/// Flat faces are planed, whatever the metal.
fn way_word(kind: FeatureKind, way: Way) -> &'static str {
    match way {
        Way::MetalBoring if !kind.is_round() => "planing white metal",
        Way::Boring if !kind.is_round() => "planing",
        _ => way.word(),
    }
}
