//! The options of a joint: leave, close, clean up, re-metal, line, renew; each with target sizes
//! and what it does to the joint, to every other joint and to every chain.

use super::close_up::close_option;
use super::pair::pair_options;
use super::trial::{Trial, TrialResult};
use super::wedge::wedge_options;
use crate::judge::{Estimate, Judgement, Verdict};
use crate::model::{FeatureIx, JointIx, JointKind, RepairKind, Way, When};

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
    /// Nothing worked out yet.
    pub(super) fn new(kind: RepairKind, words: impl Into<String>, trouble: u32) -> Self {
        RepairOption {
            kind,
            words: words.into(),
            targets: Vec::new(),
            liner_m: None,
            after: None,
            probability: None,
            effects: TrialResult::default(),
            against: Vec::new(),
            trouble,
        }
    }

    /// It can be done.
    pub fn can_be_done(&self) -> bool {
        self.against.is_empty()
    }
}
/// Chance of success below which an option is not recommended.
const ENOUGH_CHANCE: f64 = 0.90;

/// The options of a joint, least trouble first; those that cannot be done last, with the reason.
pub fn options_for(judgement: &Judgement, ix: JointIx) -> Vec<RepairOption> {
    options_given(judgement, ix, &Trial::default())
}

/// The same, given what is already to be done to other parts: a liner behind a wedge is made to
/// brasses as they will be.
pub(super) fn options_given(judgement: &Judgement, ix: JointIx, base: &Trial) -> Vec<RepairOption> {
    let joint = judgement.engine().joint(ix);
    let mut options = vec![leave(judgement, ix)];
    if joint.kind == JointKind::Wedged {
        options.extend(wedge_options(judgement, ix, joint, base));
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
    // What a chain says that a piston clearance tells is judged there.
    let motion = &judgement.engine().motion;
    options.iter().find(|o| {
        o.can_be_done()
            && o.probability.is_none_or(|p| p >= ENOUGH_CHANCE)
            && o.effects.joints.iter().all(|e| {
                e.joint == ix
                    || e.verdict_after != Verdict::Beyond
                    || e.verdict_before == Verdict::Beyond
            })
            && o.effects
                .pistons
                .iter()
                .all(|e| e.verdict_after != Verdict::Beyond || e.verdict_before == Verdict::Beyond)
            && o.effects
                .chains
                .iter()
                .filter(|e| motion.teller_of(e.chain).is_none())
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
    // Good enough to run is not good enough to put back: that is a person's word, not a figure's.
    let words = if against.is_empty() && state.refit_verdict == Verdict::Beyond {
        "leave as it is: within its limits in service, beyond one for putting back, which the \
         responsible engineer may allow"
    } else {
        "leave as it is"
    };
    RepairOption {
        after: state.measure(main).cloned(),
        probability: state
            .limits
            .iter()
            .filter(|l| l.when == When::Service)
            .filter_map(|l| l.probability_inside)
            .min_by(f64::total_cmp),
        against,
        ..RepairOption::new(RepairKind::Leave, words, 0)
    }
}

/// Fills in what a trial of the option does.
pub(super) fn finish(
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
