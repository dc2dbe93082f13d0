//! A figure with its uncertainty.

use super::feature::FeatureState;
use super::source::Source;
use quantity::Uncertain;

/// A figure whose sources of uncertainty are kept apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate {
    /// Value in SI and its sources.
    pub value: Uncertain,
}

impl Estimate {
    /// From a value.
    pub fn new(value: Uncertain) -> Self {
        Estimate { value }
    }

    /// The figure, SI.
    pub fn si(&self) -> f64 {
        self.value.value()
    }

    /// Standard uncertainty, SI.
    pub fn u(&self) -> f64 {
        self.value.standard_uncertainty()
    }

    /// Effective degrees of freedom by Welch and Satterthwaite (JCGM 100:2008, G.4.1): only
    /// repeatability has finite ones.
    pub fn degrees_of_freedom(&self, features: &[FeatureState]) -> f64 {
        let mut sum = 0.0;
        for (id, contribution) in self.value.parts() {
            if let Some(Source::Own(ix)) = Source::of(*id) {
                let own =
                    features.get(ix.index()).map_or(f64::INFINITY, |f| f.own_degrees_of_freedom);
                if own.is_finite() && own > 0.0 {
                    sum += contribution.powi(4) / own;
                }
            }
        }
        if sum > 0.0 { self.value.variance().powi(2) / sum } else { f64::INFINITY }
    }

    /// Contributors, largest first, with their share of the variance.
    pub fn contributors(&self) -> Vec<(Source, f64, f64)> {
        let variance = self.value.variance();
        let mut out: Vec<(Source, f64, f64)> = self
            .value
            .parts()
            .iter()
            .filter_map(|(id, c)| {
                let share = if variance > 0.0 { c * c / variance } else { 0.0 };
                Source::of(*id).map(|s| (s, *c, share))
            })
            .collect();
        out.sort_by(|a, b| b.2.total_cmp(&a.2).then(a.0.cmp(&b.0)));
        out
    }
}
