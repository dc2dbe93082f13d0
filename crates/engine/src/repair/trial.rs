//! Trying sizes on the engine without changing it.

use super::options::Target;
use crate::judge::{
    Estimate, FeatureState, Judgement, Sizes, Source, Verdict, length_of, measures_of, members,
    stated,
};
use crate::model::{ChainIx, FeatureIx, JointIx, JointKind, Limit, Measure, When};
use mechanics::metrology::verdict::{Limits, Rule, Verdict as Proof, judge};
use quantity::Uncertain;
use std::collections::BTreeMap;

/// Sizes laid over the engine as it was read.
#[derive(Clone, Debug, Default)]
pub struct Trial {
    made: BTreeMap<FeatureIx, Uncertain>,
    liners: BTreeMap<JointIx, f64>,
}

/// What a trial does to a joint.
#[derive(Clone, Debug)]
pub struct JointEffect {
    /// The joint.
    pub joint: JointIx,
    /// Its main measure.
    pub measure: Measure,
    /// As it was.
    pub before: Option<Estimate>,
    /// As it would be.
    pub after: Option<Estimate>,
    /// In service, as it was.
    pub verdict_before: Verdict,
    /// In service, as it would be.
    pub verdict_after: Verdict,
    /// For putting back, as it would be.
    pub refit_after: Verdict,
    /// Probability that it would be inside its refit limits (or service, where there are none).
    pub probability: Option<f64>,
}

/// What a trial does to a chain.
#[derive(Clone, Debug)]
pub struct ChainEffect {
    /// The chain.
    pub chain: ChainIx,
    /// As it was.
    pub before: Option<Estimate>,
    /// As it would be.
    pub after: Option<Estimate>,
    /// In service, as it was.
    pub verdict_before: Verdict,
    /// In service, as it would be.
    pub verdict_after: Verdict,
    /// Probability that it would be inside its tightest limits.
    pub probability: Option<f64>,
}

/// Everything that moves.
#[derive(Clone, Debug, Default)]
pub struct TrialResult {
    /// Sizes proposed.
    pub sizes: Vec<(FeatureIx, Option<Estimate>, Estimate)>,
    /// Joints that move.
    pub joints: Vec<JointEffect>,
    /// Chains that move.
    pub chains: Vec<ChainEffect>,
    /// Piston clearances that move.
    pub pistons: Vec<crate::motion::PistonEffect>,
}

struct Overlay<'a> {
    trial: &'a Trial,
    features: &'a [FeatureState],
}

impl Sizes for Overlay<'_> {
    fn size(&self, ix: FeatureIx) -> Option<&Uncertain> {
        self.trial.made.get(&ix).or_else(|| self.features.size(ix))
    }

    fn working(&self, ix: FeatureIx) -> Option<&Uncertain> {
        self.trial.made.get(&ix).or_else(|| self.features.working(ix))
    }

    fn largest(&self, ix: FeatureIx) -> Option<&Uncertain> {
        self.trial.made.get(&ix).or_else(|| self.features.largest(ix))
    }

    fn smallest(&self, ix: FeatureIx) -> Option<&Uncertain> {
        self.trial.made.get(&ix).or_else(|| self.features.smallest(ix))
    }
}

impl Trial {
    /// Makes a feature to a size, held with a standard deviation.
    pub fn make(&mut self, ix: FeatureIx, to_m: f64, holds_m: f64) {
        self.made.insert(ix, Uncertain::new(to_m, Source::Making(ix).id(), holds_m));
    }

    /// Makes a feature to suit others: a value that already carries what it depends on.
    pub fn make_to_suit(&mut self, ix: FeatureIx, to: Uncertain, holds_m: f64) {
        self.made.insert(ix, to.with_part(Source::Making(ix).id(), holds_m));
    }

    /// Puts a liner of this thickness into a joint.
    pub fn line(&mut self, joint: JointIx, thickness_m: f64) {
        *self.liners.entry(joint).or_default() += thickness_m;
    }

    /// Size of a feature under this trial.
    pub fn size(&self, judgement: &Judgement, ix: FeatureIx) -> Option<Uncertain> {
        self.made
            .get(&ix)
            .cloned()
            .or_else(|| judgement.feature(ix).size.as_ref().map(|e| e.value.clone()))
    }

    /// Main measure of a joint under this trial.
    pub fn measure(&self, judgement: &Judgement, joint: JointIx) -> Option<Estimate> {
        let main = judgement.engine().joint(joint).kind.measure();
        self.measures(judgement, joint).into_iter().find(|(m, _)| *m == main).map(|(_, e)| e)
    }

    fn measures(&self, judgement: &Judgement, joint: JointIx) -> Vec<(Measure, Estimate)> {
        let overlay = Overlay { trial: self, features: judgement.features() };
        let mut measures = measures_of(judgement.engine().joint(joint), &overlay);
        if let Some(liner) = self.liners.get(&joint) {
            for (measure, estimate) in &mut measures {
                let sign = match measure {
                    Measure::Interference => 1.0,
                    Measure::TravelLeft | Measure::Draw => 0.0,
                    _ => -1.0,
                };
                *estimate = Estimate::new(estimate.value.clone().offset(sign * liner));
            }
        }
        self.let_the_wedge_follow(judgement, joint, &mut measures);
        measures
    }

    /// Space in a wedged slot that no part accounts for, with the wedge standing where it was read:
    /// what a liner has to fill.
    pub(super) fn space_in_slot(&self, judgement: &Judgement, ix: JointIx) -> Option<Estimate> {
        let overlay = Overlay { trial: self, features: judgement.features() };
        measures_of(judgement.engine().joint(ix), &overlay)
            .into_iter()
            .find(|(m, _)| *m == Measure::Unaccounted)
            .map(|(_, e)| e)
    }

    /// Makes every target too, held to half its tolerance.
    pub(super) fn with(&mut self, targets: &[Target]) {
        for t in targets {
            self.make(t.feature, t.to_m, t.tolerance_m / 2.0);
        }
    }

    /// A wedge follows what it holds: when brasses, slot or liner change and nobody has said where
    /// the wedge is to stand, it is driven (or rises) until it holds again. What was unaccounted
    /// for stays so, and the travel left takes up the change.
    fn let_the_wedge_follow(
        &self,
        judgement: &Judgement,
        ix: JointIx,
        measures: &mut [(Measure, Estimate)],
    ) {
        let joint = judgement.engine().joint(ix);
        if joint.kind != JointKind::Wedged
            || joint.stand.is_none_or(|s| self.made.contains_key(&s.feature))
        {
            return;
        }
        let Some(before) = judgement.joint(ix).measure(Measure::Unaccounted) else { return };
        let Some(now) =
            measures.iter().find(|(m, _)| *m == Measure::Unaccounted).map(|(_, e)| e.clone())
        else {
            return;
        };
        let taken_up = &before.value - &now.value;
        for (measure, estimate) in measures {
            match measure {
                Measure::TravelLeft => *estimate = Estimate::new(&estimate.value + &taken_up),
                Measure::Unaccounted => *estimate = before.clone(),
                _ => {}
            }
        }
    }

    /// The engine judged as if the sizes tried were made, for questions about its motion. Liners
    /// laid into a joint change no size and are left out.
    pub fn as_if(&self, judgement: &Judgement) -> Judgement {
        judgement.with_sizes(self.made.iter().map(|(ix, v)| (*ix, v)))
    }

    /// Everything that moves.
    pub fn run(&self, judgement: &Judgement) -> TrialResult {
        let engine = judgement.engine();
        let mut joints: Vec<JointIx> = self.liners.keys().copied().collect();
        let mut chains = Vec::new();
        for ix in self.made.keys() {
            joints.extend(&engine.feature(*ix).in_joints);
            chains.extend(&engine.feature(*ix).in_chains);
        }
        joints.sort_unstable();
        joints.dedup();
        chains.sort_unstable();
        chains.dedup();
        TrialResult {
            sizes: self
                .made
                .iter()
                .map(|(ix, v)| (*ix, judgement.feature(*ix).size.clone(), Estimate::new(v.clone())))
                .collect(),
            joints: joints.into_iter().map(|j| self.joint_effect(judgement, j)).collect(),
            chains: chains.into_iter().map(|c| self.chain_effect(judgement, c)).collect(),
            pistons: self.piston_effects(judgement),
        }
    }

    /// What the trial does to one joint, if it touches it.
    pub(super) fn effect_on(&self, judgement: &Judgement, ix: JointIx) -> Option<JointEffect> {
        let touched = self.liners.contains_key(&ix)
            || members(judgement.engine().joint(ix)).any(|f| self.made.contains_key(&f));
        touched.then(|| self.joint_effect(judgement, ix))
    }

    fn piston_effects(&self, judgement: &Judgement) -> Vec<crate::motion::PistonEffect> {
        let made: Vec<FeatureIx> = self.made.keys().copied().collect();
        let overlay = Overlay { trial: self, features: judgement.features() };
        let confidence = judgement.engine().workshop.confidence;
        crate::motion::piston_effects(judgement, &overlay, &made, |l, e| against(l, e, confidence))
    }

    fn joint_effect(&self, judgement: &Judgement, ix: JointIx) -> JointEffect {
        let engine = judgement.engine();
        let joint = engine.joint(ix);
        let state = judgement.joint(ix);
        let main = joint.kind.measure();
        let after = self.measures(judgement, ix);
        let find = |m: Measure| after.iter().find(|(k, _)| *k == m).map(|(_, e)| e);
        let verdict = |when: &[When]| {
            let own = joint.limits.iter().filter(|l| when.contains(&l.when)).map(|l| {
                find(l.measure)
                    .map_or(Verdict::CannotTell, |e| against(l, e, engine.workshop.confidence).0)
            });
            // Sizes and forms of features not made anew stand as they were judged.
            let untouched = state
                .limits
                .iter()
                .filter(|l| {
                    when.contains(&l.when) && l.feature.is_some_and(|f| !self.made.contains_key(&f))
                })
                .map(|l| l.verdict);
            let sizes = self.made.iter().flat_map(|(f, v)| {
                let limits = if crate::judge::members(joint).any(|m| m == *f) {
                    engine.feature(*f).limits.as_slice()
                } else {
                    &[]
                };
                limits
                    .iter()
                    .filter(|l| when.contains(&l.when) && l.measure == Measure::Size)
                    .map(|l| against(l, &Estimate::new(v.clone()), engine.workshop.confidence).0)
                    .collect::<Vec<_>>()
            });
            own.chain(untouched).chain(sizes).min().unwrap_or_default()
        };
        let probability = probability_for(&joint.limits, find);
        JointEffect {
            joint: ix,
            measure: main,
            before: state.measure(main).cloned(),
            after: find(main).cloned(),
            verdict_before: state.verdict,
            verdict_after: verdict(&[When::Service]),
            refit_after: verdict(&[When::Refit, When::Made]),
            probability,
        }
    }

    fn chain_effect(&self, judgement: &Judgement, ix: ChainIx) -> ChainEffect {
        let engine = judgement.engine();
        let chain = engine.chain(ix);
        let overlay = Overlay { trial: self, features: judgement.features() };
        let after = length_of(engine, chain, &overlay);
        let verdict_after = chain
            .limits
            .iter()
            .filter(|l| l.when == When::Service)
            .map(|l| {
                after
                    .as_ref()
                    .map_or(Verdict::CannotTell, |e| against(l, e, engine.workshop.confidence).0)
            })
            .min()
            .unwrap_or_default();
        let probability = probability_for(&chain.limits, |_| after.as_ref());
        ChainEffect {
            chain: ix,
            before: judgement.chain(ix).length.clone(),
            after,
            verdict_before: judgement.chain(ix).verdict,
            verdict_after,
            probability,
        }
    }
}

/// Verdict and probability of being inside one limit.
fn against(limit: &Limit, estimate: &Estimate, confidence: f64) -> (Verdict, Option<f64>) {
    let stated = stated(estimate.si(), estimate.u(), f64::INFINITY);
    let bounds = Limits { min: limit.min_si(), max: limit.max_si() };
    match judge(&stated, &bounds, &Rule { confidence, near: None }) {
        Ok(answer) => {
            let verdict = match answer.verdict {
                Proof::Within | Proof::Near(_) => Verdict::Within,
                Proof::CannotTell => Verdict::CannotTell,
                Proof::Beyond(_) => Verdict::Beyond,
            };
            (verdict, Some(answer.probability_inside))
        }
        Err(_) => (Verdict::CannotTell, None),
    }
}

/// Probability of being inside the limits for putting back, or those in service where there are
/// none; with several, the smallest.
fn probability_for<'a>(
    limits: &[Limit],
    find: impl Fn(Measure) -> Option<&'a Estimate>,
) -> Option<f64> {
    let refit = limits.iter().any(|l| l.when == When::Refit);
    limits
        .iter()
        .filter(|l| if refit { l.when == When::Refit } else { l.when == When::Service })
        .map(|l| find(l.measure).and_then(|e| against(l, e, 0.95).1))
        .collect::<Option<Vec<f64>>>()?
        .into_iter()
        .min_by(f64::total_cmp)
}
