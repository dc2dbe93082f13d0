//! Which gauge could turn *cannot tell* into a verdict.

use super::judge::{Limits, Rule, Stated, Verdict, judge};
use crate::metrology::MetrologyError;
use crate::metrology::budget::{Component, Dof, combine, one_sided_factor};
use crate::metrology::error::within;

/// A gauge that might be used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugeCandidate {
    /// The caller's number for it.
    pub gauge: usize,
    /// What it would contribute to the standard uncertainty of the result, in the result's unit.
    pub contribution: f64,
    /// Degrees of freedom of that.
    pub dof: Dof,
}

/// The value as now known, with everything but the gauge's part of its uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugeOutlook {
    /// The value as last read. A better gauge will read somewhat differently; the outlook takes
    /// the present value as the best guess of it.
    pub value: f64,
    /// Standard uncertainty of all the rest of the budget.
    pub rest_uncertainty: f64,
    /// Degrees of freedom of the rest.
    pub rest_dof: Dof,
    /// The limits.
    pub limits: Limits,
    /// One-sided confidence, 0.95 by ISO 14253-1.
    pub confidence: f64,
}

/// A candidate that would give a verdict.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TellingGauge {
    /// The caller's number for it.
    pub gauge: usize,
    /// The combined standard uncertainty with it.
    pub standard_uncertainty: f64,
    /// The verdict it would give if it read the present value.
    pub verdict: Verdict,
}

/// The candidates that could tell, or what would be needed.
#[derive(Debug, Clone, PartialEq)]
pub enum BetterGauge {
    /// These could, the coarsest first: usually the cheapest and nearest to hand.
    These(Vec<TellingGauge>),
    /// None of the candidates, but a gauge contributing no more than this would (infinite
    /// degrees of freedom), in the unit of the result.
    NoneOfThese {
        /// Greatest contribution that still gives a verdict.
        needed_contribution: f64,
    },
    /// No gauge at all: the rest of the budget alone is too uncertain, or the value stands on
    /// the limit. Repeat, steady the temperature, or measure another way.
    NoGauge,
}

/// Which gauges could tell.
///
/// Equation: for each candidate `u² = rest² + contribution²`, degrees of freedom by
/// Welch-Satterthwaite, then [`judge`]. Own derivation from ISO 14253-1:2017.
///
/// # Errors
/// As [`judge`] and [`combine`]; a negative contribution.
pub fn which_gauge_could_tell(
    outlook: &GaugeOutlook,
    candidates: &[GaugeCandidate],
) -> Result<BetterGauge, MetrologyError> {
    within("rest of the uncertainty", outlook.rest_uncertainty, (0.0, f64::MAX), "")?;
    let rule = Rule { confidence: outlook.confidence, near: None };
    let verdict_with = |contribution: f64, dof: Dof| -> Result<(f64, Verdict), MetrologyError> {
        within("gauge contribution", contribution, (0.0, f64::MAX), "")?;
        let budget = combine(&[
            Component { source: 0, contribution: outlook.rest_uncertainty, dof: outlook.rest_dof },
            Component { source: 1, contribution, dof },
        ])?;
        let stated = Stated {
            value: outlook.value,
            standard_uncertainty: budget.standard_uncertainty,
            dof: budget.effective_dof,
        };
        let judged = judge(&stated, &outlook.limits, &rule)?;
        Ok((budget.standard_uncertainty, judged.verdict))
    };
    let mut telling = Vec::new();
    for candidate in candidates {
        let (standard_uncertainty, verdict) = verdict_with(candidate.contribution, candidate.dof)?;
        if verdict != Verdict::CannotTell {
            telling.push((
                candidate.contribution,
                TellingGauge { gauge: candidate.gauge, standard_uncertainty, verdict },
            ));
        }
    }
    if !telling.is_empty() {
        telling.sort_by(|a, b| b.0.total_cmp(&a.0));
        return Ok(BetterGauge::These(telling.into_iter().map(|(_, gauge)| gauge).collect()));
    }
    let tells = |contribution: f64| -> Result<bool, MetrologyError> {
        Ok(verdict_with(contribution, Dof::Infinite)?.1 != Verdict::CannotTell)
    };
    if !tells(0.0)? {
        return Ok(BetterGauge::NoGauge);
    }
    // With a finite number of degrees of freedom in the rest, k depends on the contribution, so
    // the greatest one is found by halving. Distance to the nearest limit over k bounds it.
    let nearest = [outlook.limits.min, outlook.limits.max]
        .iter()
        .flatten()
        .map(|limit| (limit - outlook.value).abs())
        .fold(f64::INFINITY, f64::min);
    let factor = one_sided_factor(outlook.confidence, Dof::Infinite)?.max(0.01);
    let (mut yes, mut no) = (0.0, 1.0001 * nearest / factor);
    for _ in 0..60 {
        let middle = 0.5 * (yes + no);
        if tells(middle)? {
            yes = middle;
        } else {
            no = middle;
        }
    }
    if yes > 0.0 {
        Ok(BetterGauge::NoneOfThese { needed_contribution: yes })
    } else {
        Ok(BetterGauge::NoGauge)
    }
}
