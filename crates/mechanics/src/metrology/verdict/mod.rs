//! Is a value within its limit, beyond it, or can this gauge not tell? ISO 14253-1 and JCGM 106.

mod gauges;
mod judge;

pub use gauges::{BetterGauge, GaugeCandidate, GaugeOutlook, TellingGauge, which_gauge_could_tell};
pub use judge::{
    Judged, LimitSide, Limits, NearRule, Rule, Stated, Verdict, judge, probability_inside,
};

#[cfg(test)]
mod tests;
