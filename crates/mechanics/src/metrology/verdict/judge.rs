//! The verdict itself.

use crate::metrology::MetrologyError;
use crate::metrology::budget::{Dof, one_sided_factor, student_cdf};
use crate::metrology::error::within;

/// Limits of a value, either of which may be open. Any unit, the same as the value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Least allowed.
    pub min: Option<f64>,
    /// Greatest allowed.
    pub max: Option<f64>,
}

/// One end of the limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitSide {
    /// The least allowed.
    Min,
    /// The greatest allowed.
    Max,
}

/// A measured value with its uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stated {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty, zero or more, in the same unit.
    pub standard_uncertainty: f64,
    /// Degrees of freedom of that.
    pub dof: Dof,
}

/// When a value that is within counts as near its limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NearRule {
    /// The value as made or as refitted: the far end of the band that wear uses up.
    pub as_made: f64,
    /// Share of the band from `as_made` to the limit, 0 to 1, below which what is left counts
    /// as little.
    pub little: f64,
}

/// How strictly to judge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rule {
    /// One-sided confidence that a verdict must have, 0.5 to 0.999999.
    pub confidence: f64,
    /// When *within* becomes *near*; `None`: never.
    pub near: Option<NearRule>,
}

impl Default for Rule {
    /// 95 %, the default of ISO 14253-1:2017, and no *near*.
    fn default() -> Self {
        Self { confidence: 0.95, near: None }
    }
}

/// The verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Proved to be inside the limits.
    Within,
    /// Proved to be inside, but little of the band is left before this limit.
    Near(LimitSide),
    /// Proved to be outside this limit.
    Beyond(LimitSide),
    /// Neither could be proved with this uncertainty.
    CannotTell,
}

/// A verdict with the figures it rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// The verdict.
    pub verdict: Verdict,
    /// The guard band `g = k u` on either side of each limit.
    pub guard_band: f64,
    /// The one-sided coverage factor k.
    pub coverage_factor: f64,
    /// `value − min`, negative if below it; `None` if there is no least.
    pub margin_to_min: Option<f64>,
    /// `max − value`, negative if above it; `None` if there is no greatest.
    pub margin_to_max: Option<f64>,
    /// Share of the band from as made to the nearest worn limit that is left, if a rule was
    /// given and that limit exists; negative beyond the limit.
    pub left_of_band: Option<f64>,
    /// Probability that the true value is inside the limits.
    pub probability_inside: f64,
}

/// Judges a value against limits.
///
/// Equations: guard band `g = k u`, k the one-sided factor of Student's t (normal at infinite
/// degrees of freedom) at the rule's confidence; *within* if `min + g ≤ value ≤ max − g`; *beyond* a
/// limit if outside it by more than g; else *cannot tell*. Source: ISO 14253-1:2017 (default
/// confidence 95 %) and JCGM 106:2012 8.3.2 (from memory). Where both limits exist and stand
/// closer than some 5 u, one-sided guard bands on both promise more than they keep; so *within*
/// also asks that the probability inside both be no less than the confidence.
///
/// The rule's `near`: a value that is within counts as near when less than `little` of the band from
/// `as_made` to a limit is left, the limit being the one the value has moved towards.
/// With no uncertainty (`u = 0`) a value on the limit is within.
///
/// Worked value: bore 60 H7 (0 to +30 µm), u = 2 µm: g = 3.3 µm, within from +3.3 to +26.7 µm.
///
/// # Errors
/// No limit at all, limits crossed, a figure not finite, a negative uncertainty, confidence
/// outside 0.5 to 0.999999, `little` outside 0 to 1, `as_made` on the limit.
pub fn judge(stated: &Stated, limits: &Limits, rule: &Rule) -> Result<Judged, MetrologyError> {
    check(stated, limits)?;
    let Rule { confidence, near } = *rule;
    let coverage_factor = one_sided_factor(confidence, stated.dof)?;
    let guard_band = coverage_factor * stated.standard_uncertainty;
    let margin_to_min = limits.min.map(|min| stated.value - min);
    let margin_to_max = limits.max.map(|max| max - stated.value);
    let probability_inside = probability_inside(stated, limits)?;
    let proved = |margin: Option<f64>| margin.is_none_or(|m| m >= guard_band);
    let refuted = |margin: Option<f64>| margin.is_some_and(|m| m < 0.0 && -m > guard_band);
    let both = limits.min.is_some() && limits.max.is_some();
    let left = near.map(|near| left_of_band(stated.value, limits, &near)).transpose()?.flatten();
    let verdict = if refuted(margin_to_min) {
        Verdict::Beyond(LimitSide::Min)
    } else if refuted(margin_to_max) {
        Verdict::Beyond(LimitSide::Max)
    } else if proved(margin_to_min)
        && proved(margin_to_max)
        && (!both || guard_band == 0.0 || probability_inside >= confidence)
    {
        match (left, near) {
            (Some((side, left)), Some(near)) if left < near.little => Verdict::Near(side),
            _ => Verdict::Within,
        }
    } else {
        Verdict::CannotTell
    };
    Ok(Judged {
        verdict,
        guard_band,
        coverage_factor,
        margin_to_min,
        margin_to_max,
        left_of_band: left.map(|(_, left)| left),
        probability_inside,
    })
}

/// Probability that the true value lies inside the limits, given the value and its uncertainty.
///
/// Equation: `F((max − y)/u) − F((min − y)/u)`, F Student's t or normal. Source: JCGM 106:2012
/// 7.1 to 7.4 (from memory), nothing known beforehand of the value.
///
/// # Errors
/// As [`judge`].
pub fn probability_inside(stated: &Stated, limits: &Limits) -> Result<f64, MetrologyError> {
    check(stated, limits)?;
    let u = stated.standard_uncertainty;
    if u == 0.0 {
        let inside = limits.min.is_none_or(|min| stated.value >= min)
            && limits.max.is_none_or(|max| stated.value <= max);
        return Ok(if inside { 1.0 } else { 0.0 });
    }
    // Tails are taken on the side where they are small, to keep their digits.
    let above =
        limits.max.map_or(Ok(0.0), |max| student_cdf((stated.value - max) / u, stated.dof))?;
    let below =
        limits.min.map_or(Ok(0.0), |min| student_cdf((min - stated.value) / u, stated.dof))?;
    Ok((1.0 - above - below).clamp(0.0, 1.0))
}

fn left_of_band(
    value: f64,
    limits: &Limits,
    rule: &NearRule,
) -> Result<Option<(LimitSide, f64)>, MetrologyError> {
    within("share of the band", rule.little, (0.0, 1.0), "")?;
    if !rule.as_made.is_finite() {
        return Err(MetrologyError::NotFinite {
            what: "as-made value",
            index: 0,
            value: rule.as_made,
        });
    }
    let side = match (limits.min, limits.max) {
        (Some(min), None) => Some((LimitSide::Min, min)),
        (None, Some(max)) => Some((LimitSide::Max, max)),
        (Some(min), Some(max)) => {
            Some(if value < rule.as_made { (LimitSide::Min, min) } else { (LimitSide::Max, max) })
        }
        (None, None) => None,
    };
    let Some((side, limit)) = side else { return Ok(None) };
    let band = match side {
        LimitSide::Min => rule.as_made - limit,
        LimitSide::Max => limit - rule.as_made,
    };
    if band <= 0.0 {
        return Err(MetrologyError::Undetermined {
            why: "the as-made value is not inside its limit, so no band is left to wear",
        });
    }
    let left = match side {
        LimitSide::Min => value - limit,
        LimitSide::Max => limit - value,
    };
    Ok(Some((side, left / band)))
}

pub(super) fn check(stated: &Stated, limits: &Limits) -> Result<(), MetrologyError> {
    if !stated.value.is_finite() {
        return Err(MetrologyError::NotFinite { what: "value", index: 0, value: stated.value });
    }
    within("standard uncertainty", stated.standard_uncertainty, (0.0, f64::MAX), "")?;
    let given = [limits.min, limits.max];
    for (index, limit) in given.iter().flatten().enumerate() {
        if !limit.is_finite() {
            return Err(MetrologyError::NotFinite { what: "limit", index, value: *limit });
        }
    }
    match (limits.min, limits.max) {
        (None, None) => Err(MetrologyError::TooFew { what: "limits", need: 1, got: 0 }),
        (Some(low), Some(high)) if low > high => {
            Err(MetrologyError::Crossed { what: "limits", low, high })
        }
        _ => Ok(()),
    }
}
