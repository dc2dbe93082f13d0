//! The fit that is wanted: from the duty, else from the limits for putting back.

use super::ask::Ask;
use super::shapes::{Line, Of, Standing};
use crate::judge::Judgement;
use crate::model::{FeatureIx, Limit, Measure, When};
use mechanics::fits::{Band, FitLimits, ImperialClass, parse_symbol};
use quantity::{Dimension, Quantity};

/// Interference wanted, and where that stands.
pub(super) fn interference(ask: &mut Ask<'_>) -> Result<Band, String> {
    let joint = ask.judgement.engine().joint(ask.joint);
    if let Some((min_m, max_m)) = ask.maybe_band("interference") {
        return Ok(Band { min_m, max_m });
    }
    if let Some(text) = ask.maybe_text("fit") {
        return Ok(fit_limits(ask.judgement, joint.outer, text)?.interference());
    }
    let refit = limit(&joint.limits, Measure::Interference, When::Refit)
        .and_then(|l| Some((l.min_si()?, l.max_si()?, l)));
    match refit {
        Some((min_m, max_m, l)) => {
            ask.note(
                "interference",
                format!("{:.3} to {:.3} mm", 1e3 * min_m, 1e3 * max_m),
                format!("the limit for putting back ({}: {})", l.source.word(), l.note),
            );
            Ok(Band { min_m, max_m })
        }
        None => Err(
            "no interference is wanted: write interference = \"LEAST to MOST\" or fit = \"H7/s6\" in the duty, or give the joint refit limits of interference"
                .to_owned(),
        ),
    }
}

/// Limits of a fit (`H7/s6`, `60 H7/s6`, `FN 2`) at its own size, else at the hole's when new.
pub(super) fn fit_limits(
    judgement: &Judgement,
    outer: FeatureIx,
    text: &str,
) -> Result<FitLimits, String> {
    let as_made = judgement.engine().feature(outer).as_made.as_ref().map(|q| q.si());
    let no_size = || {
        format!(
            "the fit {text} wants a size: write it as \"60 {text}\", or give the hole an as-made"
        )
    };
    fit_at(text, as_made).map_err(|e| e.unwrap_or_else(no_size))
}

/// Limits of a fit at the size it names, else at this one; `Err(None)` where there is none.
pub(super) fn fit_at(text: &str, otherwise_m: Option<f64>) -> Result<FitLimits, Option<String>> {
    let wrong = |e: &dyn std::fmt::Display| Some(format!("fit \"{text}\": {e}"));
    if let Some((before, class)) = ImperialClass::parse_after_size(text) {
        let class = class.map_err(|e| wrong(&e))?;
        let size_m = if before.is_empty() {
            otherwise_m.ok_or(None)?
        } else {
            Quantity::parse_as(before, Dimension::Length).map_err(|e| wrong(&e.reason()))?.si()
        };
        return Ok(class.at(size_m).map_err(|e| wrong(&e))?.limits);
    }
    let symbol = parse_symbol(text).map_err(|e| wrong(&e))?;
    let fit = symbol.fit().ok_or_else(|| wrong(&"names only one member: write both, as H7/s6"))?;
    fit.at(symbol.size_m.or(otherwise_m).ok_or(None)?).map_err(|e| wrong(&e))
}

pub(super) fn limit(limits: &[Limit], measure: Measure, when: When) -> Option<&Limit> {
    limits.iter().find(|l| l.measure == measure && l.when == when)
}

/// The clearance wanted when put back, and whether both corners of what is made lie inside; `None`
/// without such a limit. `mend` says what to do where a corner lies outside.
pub(super) fn clearance_wanted(
    limits: &[Limit],
    (least_m, most_m): (f64, f64),
    mend: &str,
) -> Option<Line> {
    let wanted = limit(limits, Measure::Clearance, When::Refit)?;
    let (low_m, high_m) = (wanted.min_si()?, wanted.max_si()?);
    let line = Line::band("wanted when put back", low_m, high_m, Of::Difference);
    Some(if low_m <= least_m && most_m <= high_m {
        line.stands(Standing::Good).note("every corner lies inside")
    } else {
        line.stands(Standing::Look).note(format!("a corner lies outside: {mend}"))
    })
}

/// The most a form may be when put back, else in service.
pub(super) fn form_limit(judgement: &Judgement, f: FeatureIx, measure: Measure) -> Option<f64> {
    let limits = &judgement.engine().feature(f).limits;
    limit(limits, measure, When::Refit)
        .or_else(|| limit(limits, measure, When::Service))
        .and_then(Limit::max_si)
}

/// Readings of a feature by depth: depth (m), direction (rad), size at 20 degC (m).
pub(super) struct Gauged {
    pub(super) depth_m: f64,
    pub(super) direction_rad: Option<f64>,
    pub(super) size_m: f64,
}

/// The readings that counted, and the standard deviation of one.
pub(super) fn gauged(judgement: &Judgement, f: FeatureIx) -> (Vec<Gauged>, f64) {
    let engine = judgement.engine();
    let feature = engine.feature(f);
    let (mut out, mut variance) = (Vec::new(), 0.0f64);
    for (row, size_m, own_m) in judgement.counted_sizes(f) {
        let r = &engine.readings[row as usize];
        let Some(depth_m) = feature.station_at_m.get(usize::from(r.station)).copied() else {
            continue;
        };
        variance = variance.max(own_m * own_m);
        out.push(Gauged {
            depth_m,
            direction_rad: r.direction_rad.is_finite().then_some(r.direction_rad),
            size_m,
        });
    }
    (out, variance.sqrt())
}
