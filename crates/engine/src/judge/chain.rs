//! Chains: functional distances through many features, linear here.

use super::estimate::Estimate;
use super::feature::FeatureState;
use super::joint::Sizes;
use super::limit::{LimitVerdict, Verdict, judge_limit, worst};
use super::source::Source;
use crate::model::{Chain, ChainIx, Engine, FeatureIx, When};
use quantity::Uncertain;

/// What a chain comes to.
#[derive(Clone, Debug, Default)]
pub struct ChainState {
    /// Its length, when every term has a size.
    pub length: Option<Estimate>,
    /// The same from the sizes on the drawing.
    pub as_made_si: Option<f64>,
    /// Verdicts.
    pub limits: Vec<LimitVerdict>,
    /// Worst in service.
    pub verdict: Verdict,
    /// Terms without a size.
    pub missing: Vec<FeatureIx>,
    /// Terms taken as made, for want of a reading.
    pub assumed: Vec<FeatureIx>,
}

/// Length of a chain: sum of factor times size.
pub(crate) fn length_of(
    engine: &Engine,
    chain: &Chain,
    sizes: &(impl Sizes + ?Sized),
) -> Option<Estimate> {
    let owned: Vec<(f64, Uncertain)> = chain
        .terms
        .iter()
        .map(|(factor, ix)| term(engine, *ix, sizes).map(|v| (*factor, v)))
        .collect::<Option<_>>()?;
    let terms: Vec<(f64, &Uncertain)> = owned.iter().map(|(f, v)| (*f, v)).collect();
    Some(Estimate::new(Uncertain::linear(0.0, &terms)))
}

fn term(engine: &Engine, ix: FeatureIx, sizes: &(impl Sizes + ?Sized)) -> Option<Uncertain> {
    if let Some(read) = sizes.size(ix) {
        return Some(read.clone());
    }
    let feature = engine.feature(ix);
    let made = feature.as_made.as_ref().filter(|_| feature.assume_as_made)?;
    Some(Uncertain::new(made.si(), Source::Drawing(ix).id(), feature.tolerance_m / 3f64.sqrt()))
}

pub(super) fn judge_chain(engine: &Engine, ix: ChainIx, features: &[FeatureState]) -> ChainState {
    let chain = engine.chain(ix);
    let length = length_of(engine, chain, features);
    let unread: Vec<FeatureIx> = chain
        .terms
        .iter()
        .map(|(_, f)| *f)
        .filter(|f| features[f.index()].size.is_none())
        .collect();
    let (assumed, missing) = unread.into_iter().partition(|f| {
        let feature = engine.feature(*f);
        feature.assume_as_made && feature.as_made.is_some()
    });
    let as_made_si = chain.as_made.as_ref().map(|q| q.si()).or_else(|| {
        chain
            .terms
            .iter()
            .map(|(factor, f)| engine.feature(*f).as_made.as_ref().map(|q| factor * q.si()))
            .sum()
    });
    let members: Vec<FeatureIx> = chain.terms.iter().map(|(_, f)| *f).collect();
    let lapsed = members.iter().any(|f| features[f.index()].lapsed());
    let limits: Vec<LimitVerdict> = chain
        .limits
        .iter()
        .map(|l| {
            judge_limit(engine, l, None, length.as_ref(), features, as_made_si, &members, lapsed)
        })
        .collect();
    let verdict = worst(limits.iter().filter(|l| l.when == When::Service).map(|l| l.verdict));
    ChainState { length, as_made_si, limits, verdict, missing, assumed }
}
