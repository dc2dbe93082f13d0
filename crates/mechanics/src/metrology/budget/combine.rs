//! Combined and expanded uncertainty, effective degrees of freedom, ranked contributors.

use super::student::student_quantile;
use crate::metrology::MetrologyError;
use crate::metrology::error::within;

/// Degrees of freedom of a standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Dof {
    /// As many as repeats gave, or an estimate of how well the uncertainty itself is known
    /// (JCGM 100:2008 G.4.2); 1 or more, need not be whole.
    Finite(f64),
    /// The uncertainty is taken as exactly known.
    Infinite,
}

impl Dof {
    pub(super) fn check(self) -> Result<(), MetrologyError> {
        match self {
            Self::Finite(dof) => within("degrees of freedom", dof, (1.0, f64::MAX), ""),
            Self::Infinite => Ok(()),
        }
    }
}

/// One source's part in the uncertainty of a result.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Component {
    /// The caller's number for the source.
    pub source: usize,
    /// `cᵢ u(xᵢ)`: sensitivity times standard uncertainty, in the unit of the result; the sign
    /// is kept but does not matter here.
    pub contribution: f64,
    /// Degrees of freedom of that source.
    pub dof: Dof,
}

/// One source's share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ranked {
    /// The caller's number for the source.
    pub source: usize,
    /// Its contribution, in the unit of the result.
    pub contribution: f64,
    /// Its share of the variance, 0 to 1.
    pub share: f64,
}

/// A combined standard uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub struct Budget {
    /// `u_c = √Σ (cᵢ uᵢ)²`.
    pub standard_uncertainty: f64,
    /// Effective degrees of freedom, not rounded.
    pub effective_dof: Dof,
    /// Sources, largest share first (equal ones in the order given).
    pub ranked: Vec<Ranked>,
}

/// An expanded uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expanded {
    /// `U = k u_c`.
    pub uncertainty: f64,
    /// Coverage factor k.
    pub coverage_factor: f64,
    /// Coverage probability, two-sided.
    pub probability: f64,
}

/// Combines independent components.
///
/// Equations: `u_c² = Σ (cᵢ uᵢ)²`, JCGM 100:2008 (10); `ν_eff = u_c⁴ / Σ (cᵢ uᵢ)⁴/νᵢ`,
/// Welch-Satterthwaite, JCGM 100:2008 (G.2b). A source that several readings share must come in
/// as one component, its contributions added with their signs first.
/// Worked value: end gauge, JCGM 100:2008 H.1: u_c = 32 nm, ν_eff = 16.
///
/// An empty list or all zeros gives 0 with infinite degrees of freedom: nothing was said to be
/// uncertain.
///
/// # Errors
/// A contribution that is not finite, degrees of freedom below 1.
pub fn combine(components: &[Component]) -> Result<Budget, MetrologyError> {
    for (index, component) in components.iter().enumerate() {
        component.dof.check()?;
        if !component.contribution.is_finite() {
            return Err(MetrologyError::NotFinite {
                what: "contribution",
                index,
                value: component.contribution,
            });
        }
    }
    // Scaled by the largest so that squares and fourth powers neither vanish nor overflow.
    let scale = components.iter().fold(0.0_f64, |m, c| m.max(c.contribution.abs()));
    if scale == 0.0 {
        let ranked = components
            .iter()
            .map(|c| Ranked { source: c.source, contribution: c.contribution, share: 0.0 })
            .collect();
        return Ok(Budget { standard_uncertainty: 0.0, effective_dof: Dof::Infinite, ranked });
    }
    let square = |c: &Component| (c.contribution / scale).powi(2);
    let variance: f64 = components.iter().map(square).sum();
    let fourth: f64 = components
        .iter()
        .map(|c| match c.dof {
            Dof::Finite(dof) => square(c).powi(2) / dof,
            Dof::Infinite => 0.0,
        })
        .sum();
    let mut ranked: Vec<Ranked> = components
        .iter()
        .map(|c| Ranked {
            source: c.source,
            contribution: c.contribution,
            share: square(c) / variance,
        })
        .collect();
    ranked.sort_by(|a, b| b.share.total_cmp(&a.share));
    Ok(Budget {
        standard_uncertainty: scale * variance.sqrt(),
        effective_dof: if fourth > 0.0 {
            Dof::Finite((variance * variance / fourth).max(1.0))
        } else {
            Dof::Infinite
        },
        ranked,
    })
}

impl Budget {
    /// Expanded uncertainty at a two-sided coverage probability, with Student's t at the
    /// effective degrees of freedom rounded down, JCGM 100:2008 G.4.1.
    ///
    /// # Errors
    /// A probability outside 0.5 to 0.999999.
    pub fn expanded(&self, probability: f64) -> Result<Expanded, MetrologyError> {
        let whole = match self.effective_dof {
            Dof::Finite(dof) => Dof::Finite(dof.floor().max(1.0)),
            Dof::Infinite => Dof::Infinite,
        };
        let coverage_factor = coverage_factor(probability, whole)?;
        Ok(Expanded {
            uncertainty: coverage_factor * self.standard_uncertainty,
            coverage_factor,
            probability,
        })
    }
}

/// Two-sided coverage factor: Student's t, or the normal's at infinite degrees of freedom.
///
/// Source: JCGM 100:2008 Table G.2. Worked values: 95 % at 16 degrees of freedom 2.12; 95.45 %
/// at infinity 2.00. Valid for probabilities 0.5 to 0.999999 and degrees of freedom 1 up.
///
/// # Errors
/// Out of that range.
pub fn coverage_factor(probability: f64, dof: Dof) -> Result<f64, MetrologyError> {
    within("coverage probability", probability, (0.5, 0.999_999), "")?;
    student_quantile(0.5 + 0.5 * probability, dof)
}

/// Factor k with `P(T ≤ k) = confidence`.
pub(crate) fn one_sided_factor(confidence: f64, dof: Dof) -> Result<f64, MetrologyError> {
    within("confidence", confidence, (0.5, 0.999_999), "")?;
    student_quantile(confidence, dof)
}
