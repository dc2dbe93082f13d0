//! A figure against a limit, by ISO 14253-1.

use super::estimate::Estimate;
use super::feature::FeatureState;
use super::source::Source;
use crate::model::{Engine, FeatureIx, Gauge, GaugeIx, Limit, LimitSource, Measure, Metal, When};
use mechanics::metrology::budget::Dof;
use mechanics::metrology::verdict::{
    Judged, Limits, NearRule, Rule, Stated, Verdict as Proof, judge,
};

/// The four verdicts of the trade, worst first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// Proven outside its limit.
    Beyond,
    /// Proven inside, but little of the allowance is left.
    Near,
    /// Neither can be proven with what was read.
    CannotTell,
    /// Proven inside.
    Within,
    /// There is no limit to judge against.
    #[default]
    NoLimit,
}

impl Verdict {
    /// The word.
    pub fn word(self) -> &'static str {
        match self {
            Verdict::Beyond => "beyond",
            Verdict::Near => "near",
            Verdict::CannotTell => "cannot tell",
            Verdict::Within => "within",
            Verdict::NoLimit => "no limit",
        }
    }
}

/// The worst of some verdicts.
pub(super) fn worst(verdicts: impl Iterator<Item = Verdict>) -> Verdict {
    verdicts.min().unwrap_or_default()
}

/// One figure against one limit.
#[derive(Clone, Debug)]
pub struct LimitVerdict {
    /// Feature the limit is on; `None` for the joint or chain itself.
    pub feature: Option<FeatureIx>,
    /// Of what.
    pub measure: Measure,
    /// When it holds.
    pub when: When,
    /// Lower limit, SI.
    pub min_si: Option<f64>,
    /// Upper limit, SI.
    pub max_si: Option<f64>,
    /// Who says so.
    pub source: LimitSource,
    /// Reference.
    pub note: String,
    /// The figure; `None` when it could not be had.
    pub value_si: Option<f64>,
    /// Its standard uncertainty.
    pub u_si: f64,
    /// Effective degrees of freedom.
    pub degrees_of_freedom: f64,
    /// Guard band at the workshop's confidence.
    pub guard_si: f64,
    /// Distance to the nearer limit; negative when outside.
    pub margin_si: f64,
    /// Share of the wear allowance that is left, where there is one.
    pub left_of_allowance: Option<f64>,
    /// Probability that the true figure is inside.
    pub probability_inside: Option<f64>,
    /// The verdict.
    pub verdict: Verdict,
    /// The verdict would be `within` but for a gauge out of calibration.
    pub lapsed: bool,
    /// When it cannot be told: gauges of the workshop that could tell, the easiest first.
    pub could_tell: Vec<GaugeIx>,
}

#[allow(clippy::too_many_arguments)] // one call shape for features, joints and chains
pub(crate) fn judge_limit(
    engine: &Engine,
    limit: &Limit,
    feature: Option<FeatureIx>,
    estimate: Option<&Estimate>,
    features: &[FeatureState],
    allowance_from: Option<f64>,
    members: &[FeatureIx],
    lapsed: bool,
) -> LimitVerdict {
    let mut out = LimitVerdict {
        feature,
        measure: limit.measure,
        when: limit.when,
        min_si: limit.min_si(),
        max_si: limit.max_si(),
        source: limit.source,
        note: limit.note.clone(),
        value_si: None,
        u_si: 0.0,
        degrees_of_freedom: f64::INFINITY,
        guard_si: 0.0,
        margin_si: f64::NAN,
        left_of_allowance: None,
        probability_inside: None,
        verdict: Verdict::CannotTell,
        lapsed: false,
        could_tell: Vec::new(),
    };
    let Some(estimate) = estimate else { return out };
    out.value_si = Some(estimate.si());
    out.u_si = estimate.u();
    out.degrees_of_freedom = estimate.degrees_of_freedom(features);
    let stated = stated(estimate.si(), out.u_si, out.degrees_of_freedom);
    let bounds = Limits { min: out.min_si, max: out.max_si };
    let confidence = engine.workshop.confidence;
    let near = allowance_from
        .filter(|_| limit.when == When::Service)
        .map(|as_made| NearRule { as_made, little: engine.workshop.near });
    // An allowance that begins on the limit or outside it has no share left to speak of.
    let answer = judge(&stated, &bounds, &Rule { confidence, near })
        .or_else(|_| judge(&stated, &bounds, &Rule { confidence, near: None }));
    let Ok(answer) = answer else { return out };
    out.guard_si = answer.guard_band;
    out.margin_si = margin(&answer);
    out.left_of_allowance = answer.left_of_band;
    out.probability_inside = Some(answer.probability_inside);
    out.verdict = match answer.verdict {
        Proof::Within => Verdict::Within,
        Proof::Near(_) => Verdict::Near,
        Proof::Beyond(_) => Verdict::Beyond,
        Proof::CannotTell => Verdict::CannotTell,
    };
    if lapsed && matches!(out.verdict, Verdict::Within | Verdict::Near) {
        // Nobody can sign a size whose gauge was out of calibration; what is beyond stays so.
        out.verdict = Verdict::CannotTell;
        out.lapsed = true;
    }
    if out.verdict == Verdict::CannotTell {
        out.could_tell = gauges_that_could_tell(engine, estimate, features, bounds, members);
    }
    out
}

pub(crate) fn stated(value: f64, standard_uncertainty: f64, degrees_of_freedom: f64) -> Stated {
    let dof = if degrees_of_freedom.is_finite() {
        Dof::Finite(degrees_of_freedom.max(1.0))
    } else {
        Dof::Infinite
    };
    Stated { value, standard_uncertainty, dof }
}

fn margin(answer: &Judged) -> f64 {
    [answer.margin_to_min, answer.margin_to_max].into_iter().flatten().fold(f64::INFINITY, f64::min)
}

/// Gauges in calibration that would settle it, if each took the features it can and was not used
/// on: the one with the widest limits of error first, for it is the one to hand.
fn gauges_that_could_tell(
    engine: &Engine,
    estimate: &Estimate,
    features: &[FeatureState],
    bounds: Limits,
    members: &[FeatureIx],
) -> Vec<GaugeIx> {
    let from_gauges = |value: &quantity::Uncertain| -> f64 {
        value
            .parts()
            .iter()
            .filter(|(id, _)| matches!(Source::of(*id), Some(Source::Gauge(_) | Source::Own(_))))
            .map(|(_, c)| c * c)
            .sum()
    };
    let own: Vec<f64> = members
        .iter()
        .map(|f| features[f.index()].size.as_ref().map_or(0.0, |e| from_gauges(&e.value)))
        .collect();
    let all_own: f64 = own.iter().sum();
    // What the readings brought in all; the rest stays: temperature, drawing, expansion. A taper
    // stretches it (a draw is a difference over a taper), and so it does what takes its place.
    let brought = from_gauges(&estimate.value);
    let stretch = if all_own > 0.0 { brought / all_own } else { 1.0 };
    let rest = estimate.value.variance() - brought;
    let mut candidates: Vec<GaugeIx> = (0..engine.gauges.len())
        .map(GaugeIx::new)
        .filter(|g| engine.gauge(*g).due.zip(engine.today).is_none_or(|(due, day)| due >= day))
        .collect();
    candidates.sort_by(|a, b| {
        engine.gauge(*b).error_m.total_cmp(&engine.gauge(*a).error_m).then(a.cmp(b))
    });
    candidates.retain(|g| {
        let gauge = engine.gauge(*g);
        let anew = gauge.error_m * gauge.error_m / 3.0 + gauge.repeat_m * gauge.repeat_m / 4.0;
        let mut helps = false;
        let readings: f64 = members
            .iter()
            .zip(&own)
            .map(|(f, own)| {
                let used = features[f.index()].gauges.contains(g);
                if !used && anew < *own && can_gauge(engine, gauge, *f) {
                    helps = true;
                    anew
                } else {
                    *own
                }
            })
            .sum();
        let variance = rest.max(0.0) + stretch * readings;
        let asked = stated(estimate.si(), variance.sqrt(), f64::INFINITY);
        let rule = Rule { confidence: engine.workshop.confidence, near: None };
        helps && judge(&asked, &bounds, &rule).is_ok_and(|a| a.verdict != Proof::CannotTell)
    });
    candidates
}

/// Whether a gauge can take a feature: by its range, and by what its kind says it is for.
pub(crate) fn can_gauge(engine: &Engine, gauge: &Gauge, ix: FeatureIx) -> bool {
    let feature = engine.feature(ix);
    let Some(size) = feature.as_made.as_ref().map(|q| q.si()) else { return false };
    let slack = 0.02 * size;
    let in_range = gauge.from_m.is_none_or(|a| a - slack <= size)
        && gauge.to_m.is_none_or(|b| size <= b + slack);
    let kind = gauge.kind.to_lowercase();
    let inside = ["inside", "bore", "telescop"].iter().any(|w| kind.contains(w));
    let outside = kind.contains("outside");
    let suits = match feature.kind.metal() {
        Metal::Inside => !inside,
        Metal::Outside => !outside,
        Metal::Neither => !inside && !outside,
    };
    let shows_size = !kind.contains("dial") && !kind.contains("feeler");
    in_range && suits && (shows_size || inside)
}
