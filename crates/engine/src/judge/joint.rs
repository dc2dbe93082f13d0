//! What a joint measures, from the sizes of its features.
//!
//! | kind | measure | formula |
//! | --- | --- | --- |
//! | running, sliding | clearance | outer - inner - fills |
//! | running, sliding | greatest clearance | largest outer - smallest inner - fills |
//! | fitted, pressed, shrunk | interference | inner + fills - outer |
//! | tapered | draw | (inner - outer) / taper |
//! | wedged | travel left | (stand - least stand) x taper |
//! | wedged | unaccounted | outer - fills - (inner - stand x taper) |
//!
//! In a split bearing the bore that counts for its clearance is the one in the direction that
//! closes: that is the clearance that knocks, and the one that filing the joint faces takes up.
//!
//! A wedge's `inner` is its thickness where it bears when its stand is zero; it is thinner by
//! stand x taper when it stands higher. Own derivation from the geometry of a plane wedge in a
//! slot with one tapered and one straight face.

use super::estimate::Estimate;
use super::feature::FeatureState;
use super::limit::{LimitVerdict, Verdict, judge_limit, worst};
use super::source::Source;
use crate::model::{Engine, FeatureIx, Joint, JointIx, JointKind, Measure, When};
use quantity::Uncertain;

/// What a joint says of itself.
#[derive(Clone, Debug, Default)]
pub struct JointState {
    /// Its measures.
    pub measures: Vec<(Measure, Estimate)>,
    /// The same as made, from the sizes on the drawing.
    pub as_made_si: Option<f64>,
    /// Its main measure at the last gauging.
    pub last_time: Option<Estimate>,
    /// Verdict against every limit of the joint and of its features.
    pub limits: Vec<LimitVerdict>,
    /// Worst of those in service, with the conditions found.
    pub verdict: Verdict,
    /// Worst of those for putting back.
    pub refit_verdict: Verdict,
    /// Features without a size.
    pub missing: Vec<FeatureIx>,
    /// Features whose condition condemns them whatever their size.
    pub condemned: Vec<FeatureIx>,
    /// A verdict of within rested on a gauge out of calibration and became cannot tell.
    pub lapsed: bool,
}

impl JointState {
    /// One of its measures.
    pub fn measure(&self, measure: Measure) -> Option<&Estimate> {
        self.measures.iter().find(|(m, _)| *m == measure).map(|(_, e)| e)
    }
}

/// Sizes of features as they are, or as someone proposes to make them.
pub(crate) trait Sizes {
    /// Mean size.
    fn size(&self, ix: FeatureIx) -> Option<&Uncertain>;
    /// Size that works in a running joint: in a split bearing, the bore in the direction that
    /// closes; else the mean.
    fn working(&self, ix: FeatureIx) -> Option<&Uncertain> {
        self.size(ix)
    }
    /// Largest place.
    fn largest(&self, ix: FeatureIx) -> Option<&Uncertain>;
    /// Smallest place.
    fn smallest(&self, ix: FeatureIx) -> Option<&Uncertain>;
}

impl Sizes for [FeatureState] {
    fn size(&self, ix: FeatureIx) -> Option<&Uncertain> {
        self[ix.index()].size.as_ref().map(|e| &e.value)
    }

    fn working(&self, ix: FeatureIx) -> Option<&Uncertain> {
        let state = &self[ix.index()];
        state.along_and_across.as_ref().map(|(along, _)| &along.value).or_else(|| self.size(ix))
    }

    fn largest(&self, ix: FeatureIx) -> Option<&Uncertain> {
        self[ix.index()].largest.as_ref().map(|e| &e.value)
    }

    fn smallest(&self, ix: FeatureIx) -> Option<&Uncertain> {
        self[ix.index()].smallest.as_ref().map(|e| &e.value)
    }
}

/// Every measure of a joint that its sizes allow.
pub(crate) fn measures_of(
    joint: &Joint,
    sizes: &(impl Sizes + ?Sized),
) -> Vec<(Measure, Estimate)> {
    let mut out = Vec::new();
    let fills: Option<Vec<&Uncertain>> = joint.fills.iter().map(|f| sizes.size(*f)).collect();
    let (Some(inner), Some(outer), Some(fills)) =
        (sizes.size(joint.inner), sizes.size(joint.outer), fills)
    else {
        return out;
    };
    let space = |outer: &Uncertain, inner: &Uncertain, sign: f64| {
        let mut terms = vec![(sign, outer), (-sign, inner)];
        terms.extend(fills.iter().map(|f| (-sign, *f)));
        Estimate::new(Uncertain::linear(0.0, &terms))
    };
    match joint.kind {
        JointKind::Running | JointKind::Sliding => {
            let working = sizes.working(joint.outer).unwrap_or(outer);
            out.push((Measure::Clearance, space(working, inner, 1.0)));
            if let (Some(large), Some(small)) =
                (sizes.largest(joint.outer), sizes.smallest(joint.inner))
            {
                out.push((Measure::GreatestClearance, space(large, small, 1.0)));
            }
        }
        JointKind::Fitted | JointKind::Pressed | JointKind::Shrunk => {
            out.push((Measure::Interference, space(outer, inner, -1.0)));
        }
        JointKind::Tapered => {
            if let Some(taper) = joint.taper {
                let draw = Uncertain::linear(0.0, &[(1.0 / taper, inner), (-1.0 / taper, outer)]);
                out.push((Measure::Draw, Estimate::new(draw)));
            }
        }
        JointKind::Wedged => {
            if let (Some(taper), Some(stand)) = (joint.taper, joint.stand)
                && let Some(at) = sizes.size(stand.feature)
            {
                let left = Uncertain::linear(-stand.least_m * taper, &[(taper, at)]);
                out.push((Measure::TravelLeft, Estimate::new(left)));
                let mut terms = vec![(1.0, outer), (-1.0, inner), (taper, at)];
                terms.extend(fills.iter().map(|f| (-1.0, *f)));
                out.push((Measure::Unaccounted, Estimate::new(Uncertain::linear(0.0, &terms))));
            }
        }
    }
    out
}

struct MadeSizes<'a> {
    values: Vec<(FeatureIx, Uncertain)>,
    engine: &'a Engine,
}

impl<'a> MadeSizes<'a> {
    fn new(engine: &'a Engine, joint: &Joint) -> Self {
        let mut values = Vec::new();
        for ix in members(joint) {
            let feature = engine.feature(ix);
            if let Some(made) = &feature.as_made {
                let doubt = feature.tolerance_m / 3f64.sqrt();
                values.push((ix, Uncertain::new(made.si(), Source::Drawing(ix).id(), doubt)));
            }
        }
        MadeSizes { values, engine }
    }
}

impl Sizes for MadeSizes<'_> {
    fn size(&self, ix: FeatureIx) -> Option<&Uncertain> {
        debug_assert!(ix.index() < self.engine.features.len());
        self.values.iter().find(|(f, _)| *f == ix).map(|(_, v)| v)
    }

    fn largest(&self, ix: FeatureIx) -> Option<&Uncertain> {
        self.size(ix)
    }

    fn smallest(&self, ix: FeatureIx) -> Option<&Uncertain> {
        self.size(ix)
    }
}

/// Features a joint depends on.
pub(crate) fn members(joint: &Joint) -> impl Iterator<Item = FeatureIx> + '_ {
    [joint.inner, joint.outer]
        .into_iter()
        .chain(joint.fills.iter().copied())
        .chain(joint.stand.map(|s| s.feature))
}

pub(super) fn judge_joint(engine: &Engine, ix: JointIx, features: &[FeatureState]) -> JointState {
    let joint = engine.joint(ix);
    let main = joint.kind.measure();
    let made = measures_of(joint, &MadeSizes::new(engine, joint));
    let as_made_si = made.iter().find(|(m, _)| *m == main).map(|(_, e)| e.si());
    let mut state = JointState {
        measures: measures_of(joint, features),
        as_made_si,
        last_time: last_time(joint, main, features),
        missing: members(joint).filter(|f| features[f.index()].size.is_none()).collect(),
        condemned: members(joint)
            .filter(|f| features[f.index()].condition.is_some_and(|c| c.condemns()))
            .collect(),
        ..JointState::default()
    };
    let lapsed = members(joint).any(|f| features[f.index()].lapsed());
    for limit in &joint.limits {
        let members: Vec<FeatureIx> = members(joint).collect();
        let better_start = reference_for(joint, limit.measure, limit.max.is_some(), as_made_si);
        state.limits.push(judge_limit(
            engine,
            limit,
            None,
            state.measure(limit.measure),
            features,
            better_start,
            &members,
            lapsed,
        ));
    }
    for f in members(joint) {
        feature_limits(engine, f, features, &mut state.limits);
    }
    state.lapsed = state.limits.iter().any(|l| l.lapsed);
    let of = |when: &[When]| {
        let mut verdict =
            worst(state.limits.iter().filter(|l| when.contains(&l.when)).map(|l| l.verdict));
        if !state.condemned.is_empty() {
            verdict = Verdict::Beyond;
        }
        if verdict != Verdict::Beyond && !state.missing.is_empty() && state.measures.is_empty() {
            verdict = Verdict::CannotTell;
        }
        verdict
    };
    (state.verdict, state.refit_verdict) = (of(&[When::Service]), of(&[When::Refit, When::Made]));
    state
}

/// Verdicts on the limits of one feature.
pub(super) fn feature_limits(
    engine: &Engine,
    f: FeatureIx,
    features: &[FeatureState],
    out: &mut Vec<LimitVerdict>,
) {
    let feature = engine.feature(f);
    let state = &features[f.index()];
    let made = feature.as_made.as_ref().map(|q| q.si());
    for limit in &feature.limits {
        let start = match limit.measure {
            Measure::Size => made,
            _ => Some(0.0),
        };
        out.push(judge_limit(
            engine,
            limit,
            Some(f),
            state.measure(limit.measure),
            features,
            start,
            &[f],
            state.lapsed(),
        ));
    }
}

/// Where the allowance of a service limit begins: the refit limit on the same side, else as made.
fn reference_for(
    joint: &Joint,
    measure: Measure,
    upper: bool,
    as_made: Option<f64>,
) -> Option<f64> {
    joint
        .limits
        .iter()
        .filter(|l| l.measure == measure && l.when != When::Service)
        .find_map(|l| if upper { l.max_si() } else { l.min_si() })
        .or(if measure == joint.kind.measure() { as_made } else { None })
}

struct LastSizes<'a>(&'a [FeatureState]);

impl Sizes for LastSizes<'_> {
    fn size(&self, ix: FeatureIx) -> Option<&Uncertain> {
        self.0[ix.index()].last.as_ref().map(|e| &e.value)
    }

    fn largest(&self, _: FeatureIx) -> Option<&Uncertain> {
        None
    }

    fn smallest(&self, _: FeatureIx) -> Option<&Uncertain> {
        None
    }
}

fn last_time(joint: &Joint, main: Measure, features: &[FeatureState]) -> Option<Estimate> {
    measures_of(joint, &LastSizes(features)).into_iter().find(|(m, _)| *m == main).map(|(_, e)| e)
}
