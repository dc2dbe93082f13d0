//! A figure drawn many times, each source of its doubt from its own distribution.
//!
//! A figure is its value plus a signed contribution from each source, so what two terms of a
//! chain share is drawn once and goes into both: nothing is taken as independent that is not.

use super::estimate::Estimate;
use super::feature::FeatureState;
use super::source::Source;
use mechanics::stack::{
    Chain, Outcome, Range, Simulation, Spread, StackError, Term, simulate_chain,
};
use std::num::NonZeroUsize;

/// Half width, in standard uncertainties, that stands for the worst of a source without limits.
const WORST_OF_NORMAL: f64 = 3.0;

/// What simulating a figure gives.
#[derive(Clone, Debug)]
pub struct Simulated {
    /// Draws, mean, spread, quantiles and the share inside the limits.
    pub outcome: Outcome,
    /// Every source at its worst at once: limits of error as they are, three standard
    /// uncertainties for what has no limits.
    pub worst_case: (f64, f64),
}

impl Estimate {
    /// Simulates the figure by Monte Carlo (JCGM 101): limits of error and tolerances as
    /// rectangular, repeatability as Student's t on its degrees of freedom, the rest as normal.
    ///
    /// # Errors
    /// Fewer than 1000 draws, or limits crossed.
    pub fn simulate(
        &self,
        features: &[FeatureState],
        limits: (Option<f64>, Option<f64>),
        draws: u64,
        seed: u64,
    ) -> Result<Simulated, StackError> {
        let terms: Vec<Term> = self
            .value
            .parts()
            .iter()
            .map(|(id, contribution)| {
                let u = contribution.abs();
                let spread = spread_of(Source::of(*id), u, features);
                let half = match spread {
                    Spread::Rectangular { half_width } => half_width,
                    _ => WORST_OF_NORMAL * u,
                };
                Term {
                    factor: 1.0,
                    centre: 0.0,
                    spread,
                    limits: Some(Range { low: -half, high: half }),
                }
            })
            .collect();
        let chain = Chain { constant: self.si(), terms };
        let worst = chain.worst_case()?.range;
        let threads = std::thread::available_parallelism().unwrap_or(NonZeroUsize::MIN);
        let simulation = Simulation { draws, seed, threads, min: limits.0, max: limits.1 };
        let outcome = simulate_chain(&chain, &simulation)?;
        Ok(Simulated { outcome, worst_case: (worst.low, worst.high) })
    }
}

fn spread_of(source: Option<Source>, u: f64, features: &[FeatureState]) -> Spread {
    match source {
        Some(Source::Gauge(_) | Source::Drawing(_)) => {
            Spread::Rectangular { half_width: u * 3f64.sqrt() }
        }
        Some(Source::Own(ix)) => {
            let degrees =
                features.get(ix.index()).map_or(f64::INFINITY, |f| f.own_degrees_of_freedom);
            if degrees.is_finite() && degrees > 2.0 {
                Spread::Student { scale: u, degrees_of_freedom: degrees }
            } else {
                Spread::Normal { sd: u }
            }
        }
        _ => Spread::Normal { sd: u },
    }
}
