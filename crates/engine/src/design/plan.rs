//! What is to be done to a joint: what was decided, else what is recommended, else what can be done.

use super::ask::Ask;
use super::shapes::{Design, Line, Of, Section};
use crate::judge::{Estimate, Judgement};
use crate::model::{FeatureIx, JointIx, RepairKind, Way};
use crate::repair::{machine_to, options_for, recommended};

/// A size to make.
#[derive(Clone, Debug)]
pub(super) struct ToMake {
    pub(super) feature: FeatureIx,
    pub(super) to_m: f64,
    pub(super) tolerance_m: f64,
    pub(super) way: Option<Way>,
    pub(super) to_suit: Option<(FeatureIx, f64)>,
}

/// What is to be done.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    pub(super) repair: RepairKind,
    pub(super) words: String,
    pub(super) decided_by: Option<String>,
    pub(super) targets: Vec<ToMake>,
    /// Sizes that the work on other joints makes.
    pub(super) elsewhere: Vec<(FeatureIx, f64)>,
}

impl Plan {
    /// The size a feature is to be made to for this joint.
    pub(super) fn target(&self, feature: FeatureIx) -> Option<&ToMake> {
        self.targets.iter().find(|t| t.feature == feature)
    }

    /// The size a feature will have when this joint and the others are done.
    pub(super) fn finished_m(&self, judgement: &Judgement, feature: FeatureIx) -> Option<f64> {
        self.target(feature)
            .map(|t| t.to_m)
            .or_else(|| self.elsewhere.iter().find(|(f, _)| *f == feature).map(|(_, m)| *m))
            .or_else(|| judgement.feature(feature).size.as_ref().map(Estimate::si))
    }
}

pub(super) fn plan_for(judgement: &Judgement, ix: JointIx) -> Plan {
    let list = machine_to(judgement);
    let engine = judgement.engine();
    let decision = engine.decisions.iter().rev().find(|d| d.joint == ix);
    let own: Vec<ToMake> = list
        .lines
        .iter()
        .filter(|l| l.joint == ix)
        .map(|l| ToMake {
            feature: l.feature,
            to_m: l.to_m,
            tolerance_m: l.tolerance_m,
            way: l.way,
            to_suit: l.to_suit,
        })
        .collect();
    let elsewhere =
        list.lines.iter().filter(|l| l.joint != ix).map(|l| (l.feature, l.to_m)).collect();
    let options = options_for(judgement, ix);
    let best = recommended(judgement, ix, &options);
    let (repair, words, targets) = match (decision, best) {
        (Some(d), _) => {
            let words = options
                .iter()
                .find(|o| o.kind == d.repair)
                .map_or_else(|| d.repair.word().to_owned(), |o| o.words.clone());
            (d.repair, words, own)
        }
        (None, Some(o)) => (o.kind, o.words.clone(), own),
        (None, None) => {
            (RepairKind::Leave, "nothing can be recommended: gauge it better first".to_owned(), own)
        }
    };
    Plan { repair, words, decided_by: decision.map(|d| d.by.clone()), targets, elsewhere }
}

/// Both surfaces are round.
pub(super) fn round_pair(judgement: &Judgement, ix: JointIx) -> bool {
    let engine = judgement.engine();
    let joint = engine.joint(ix);
    [joint.inner, joint.outer].iter().all(|f| engine.feature(*f).kind.is_round())
}

/// Title of the sizes to make.
pub(super) const SIZES: &str = "sizes to make, at 20 degC";

/// The sizes to make, first on every design.
pub(super) fn sizes(ask: &mut Ask<'_>, plan: &Plan, out: &mut Design) {
    let engine = ask.judgement.engine();
    let mut lines = Vec::new();
    for t in &plan.targets {
        let feature = engine.feature(t.feature);
        let mut note = t.way.map_or(String::new(), |w| w.word().to_owned());
        if let Some((mate, more)) = t.to_suit {
            if !note.is_empty() {
                note.push_str(", ");
            }
            note.push_str(&format!(
                "{:.3} mm {} {} as finished",
                1e3 * more.abs(),
                if more < 0.0 { "under" } else { "over" },
                engine.feature(mate).id
            ));
        }
        if let Some(now) = judgement_size(ask.judgement, t.feature) {
            if !note.is_empty() {
                note.push_str("; ");
            }
            note.push_str(&format!("now {:.3} mm", 1e3 * now));
        }
        lines.push(
            Line::band(
                feature.name.clone(),
                t.to_m - t.tolerance_m,
                t.to_m + t.tolerance_m,
                Of::Size,
            )
            .note(note),
        );
    }
    if !lines.is_empty() {
        out.sections.push(Section::making(SIZES, lines));
    }
}

pub(super) fn judgement_size(judgement: &Judgement, f: FeatureIx) -> Option<f64> {
    judgement.feature(f).size.as_ref().map(Estimate::si)
}
