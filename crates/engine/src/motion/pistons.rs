//! What sizes that someone proposes do to the piston clearances.

use super::clearances::ends_under;
use super::mechanism::chain_features;
use super::model::End;
use super::resolve::Notes;
use crate::judge::{Estimate, Judgement, Sizes, Verdict};
use crate::model::{FeatureIx, Limit, When};

/// What a trial does to one clearance.
#[derive(Clone, Debug)]
pub struct PistonEffect {
    /// Position of the cylinder in the engine's list.
    pub cylinder: usize,
    /// Which end.
    pub end: End,
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

impl PistonEffect {
    /// It moves by half a thousandth of a millimetre or more, or to another verdict, or that cannot
    /// be told.
    pub fn moves(&self) -> bool {
        match (&self.before, &self.after) {
            (Some(before), Some(after)) => {
                0.5e-6 <= (after.si() - before.si()).abs()
                    || self.verdict_before != self.verdict_after
            }
            _ => true,
        }
    }
}

/// Both clearances of every cylinder that has one of the features made in its chain. A cylinder
/// whose chain is not described in full has none to tell of.
pub(crate) fn piston_effects<S: Sizes + ?Sized>(
    judgement: &Judgement,
    sizes: &S,
    made: &[FeatureIx],
    against: impl Fn(&Limit, &Estimate) -> (Verdict, Option<f64>),
) -> Vec<PistonEffect> {
    let engine = judgement.engine();
    let mut out = Vec::new();
    for (cylinder, c) in engine.motion.cylinders.iter().enumerate() {
        let members = chain_features(engine, cylinder);
        if !made.iter().any(|f| members.binary_search(f).is_ok()) {
            continue;
        }
        let before = ends_under(engine, judgement.features(), cylinder).ok();
        let after = ends_under(engine, sizes, cylinder).ok();
        let gauged = |found: &Option<(_, Notes)>| {
            found.as_ref().is_some_and(|(_, notes)| notes.ungauged(engine).is_empty())
        };
        let (gauged_before, gauged_after) = (gauged(&before), gauged(&after));
        if before.is_none() && after.is_none() {
            continue;
        }
        for (at, end) in [End::Front, End::Back].into_iter().enumerate() {
            let take = |found: &Option<([quantity::Uncertain; 2], Notes)>| {
                found.as_ref().map(|(ends, _)| Estimate::new(ends[at].clone()))
            };
            let (before, after) = (take(&before), take(&after));
            let limits = c.limits(end);
            let verdict = |e: &Option<Estimate>, gauged: bool| {
                let told = e.as_ref().filter(|_| gauged);
                limits
                    .iter()
                    .filter(|l| l.when == When::Service)
                    .map(|l| told.map_or(Verdict::CannotTell, |e| against(l, e).0))
                    .min()
                    .unwrap_or_default()
            };
            let refit = limits.iter().any(|l| l.when == When::Refit);
            let tight = if refit { When::Refit } else { When::Service };
            let probability = after.as_ref().filter(|_| gauged_after).and_then(|e| {
                limits
                    .iter()
                    .filter(|l| l.when == tight)
                    .filter_map(|l| against(l, e).1)
                    .min_by(f64::total_cmp)
            });
            out.push(PistonEffect {
                cylinder,
                end,
                verdict_before: verdict(&before, gauged_before),
                verdict_after: verdict(&after, gauged_after),
                before,
                after,
                probability,
            });
        }
    }
    out
}
