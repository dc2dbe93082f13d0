//! What a simulation found.

use super::StackError;
use super::chain::Range;
use super::error::in_range;
use super::tally::{Histogram, Moments};

/// The outcome of a simulation.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Number of draws.
    pub draws: u64,
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation.
    pub standard_deviation: f64,
    /// The least drawn.
    pub least: f64,
    /// The greatest drawn.
    pub greatest: f64,
    /// How many lay inside the limits, if there were limits.
    pub inside: Option<Proportion>,
    reference: f64,
    histogram: Histogram,
    /// Counts of all bins before each, so that quantiles are found by halving.
    before: Vec<u64>,
}

/// Draws inside the limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Proportion {
    /// Draws below the least allowed.
    pub below: u64,
    /// Draws above the greatest allowed.
    pub above: u64,
    /// Draws in all.
    pub draws: u64,
    /// The limits; infinite where open.
    pub limits: Range,
}

impl Proportion {
    /// Share of the draws inside, 0 to 1.
    pub fn inside(&self) -> f64 {
        1.0 - (self.below + self.above) as f64 / self.draws as f64
    }

    /// Standard error of that share from the finite number of draws: `√(p(1 − p)/n)`, with one
    /// draw added either way so that a share of exactly 0 or 1 does not pass for certain
    /// (Agresti & Coull, American Statistician 52 (1998) 119-126).
    pub fn standard_error(&self) -> f64 {
        let n = self.draws as f64 + 2.0;
        let p = ((self.draws - self.below - self.above) as f64 + 1.0) / n;
        (p * (1.0 - p) / n).sqrt()
    }
}

/// A quantile with what its accuracy rests on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantile {
    /// The value with the asked-for share of the draws below it.
    pub value: f64,
    /// Standard error from the finite number of draws, from the spacing of the quantiles a
    /// standard error of the share either side: `√(p(1 − p)/n)`.
    pub standard_error: f64,
    /// Width of the histogram's bin within which the value is interpolated.
    pub resolution: f64,
}

/// An interval that holds a share of the draws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// The share it holds.
    pub probability: f64,
}

impl Outcome {
    pub(super) fn new(
        reference: f64,
        moments: &Moments,
        histogram: Histogram,
        limits: Option<Range>,
    ) -> Self {
        let mut before = Vec::with_capacity(histogram.counts.len() + 1);
        let mut sum = 0;
        before.push(0);
        for count in &histogram.counts {
            sum += count;
            before.push(sum);
        }
        Self {
            draws: moments.draws,
            mean: reference + moments.mean,
            standard_deviation: (moments.square / (moments.draws - 1) as f64).sqrt(),
            least: reference + moments.least,
            greatest: reference + moments.greatest,
            inside: limits.map(|limits| Proportion {
                below: moments.below,
                above: moments.above,
                draws: moments.draws,
                limits,
            }),
            reference,
            histogram,
            before,
        }
    }

    /// Standard error of the mean from the finite number of draws.
    pub fn mean_standard_error(&self) -> f64 {
        self.standard_deviation / (self.draws as f64).sqrt()
    }

    /// Width of the histogram's bins in the middle, eight standard deviations (of a function: of
    /// the middle two thirds of its draws) either way; farther out they widen to a 32nd of the
    /// distance. Interpolation leaves far less than this of a smooth distribution; a whole bin is
    /// the worst for a jagged one.
    pub fn resolution(&self) -> f64 {
        self.histogram.width
    }

    /// The value with a share `p` of the draws below it.
    ///
    /// Source: JCGM 101:2008 7.5 and 7.7, by interpolation in the histogram in place of sorting.
    ///
    /// # Errors
    /// `p` not between 10/draws and 1 − 10/draws: fewer than ten draws beyond say nothing.
    pub fn quantile(&self, p: f64) -> Result<Quantile, StackError> {
        let edge = 10.0 / self.draws as f64;
        in_range("share below the quantile", p, edge, 1.0 - edge)?;
        let error = (p * (1.0 - p) / self.draws as f64).sqrt();
        let spread = self.at((p + error).min(1.0)) - self.at((p - error).max(0.0));
        let bin = self.bin_at(p);
        Ok(Quantile {
            value: self.at(p),
            standard_error: 0.5 * spread,
            resolution: self.histogram.edge(bin + 1) - self.histogram.edge(bin),
        })
    }

    /// Share of the draws below a value, 0 to 1, interpolated within a bin. Counts against limits
    /// given beforehand are exact: see [`inside`](Self::inside).
    pub fn share_below(&self, value: f64) -> f64 {
        if value <= self.least {
            return 0.0;
        }
        if value >= self.greatest {
            return 1.0;
        }
        let departure = value - self.reference;
        let bin = self.histogram.bin(departure);
        let (low, high) = self.ends(bin);
        let part = if high > low { ((value - low) / (high - low)).clamp(0.0, 1.0) } else { 0.0 };
        let count = self.before[bin] as f64 + part * self.histogram.counts[bin] as f64;
        count / self.draws as f64
    }

    /// The interval that leaves equal shares of the draws on either side.
    /// JCGM 101:2008 5.3.3.
    ///
    /// # Errors
    /// A probability that leaves fewer than ten draws on a side, or is not above zero.
    pub fn symmetric_interval(&self, probability: f64) -> Result<Interval, StackError> {
        in_range("coverage probability", probability, f64::MIN_POSITIVE, 1.0)?;
        Ok(Interval {
            low: self.quantile(0.5 - 0.5 * probability)?.value,
            high: self.quantile(0.5 + 0.5 * probability)?.value,
            probability,
        })
    }

    /// The shortest interval that holds the share of the draws. JCGM 101:2008 5.3.4 and 7.7.4.
    ///
    /// Searched from every bin edge; the other end is interpolated. For a flat-topped
    /// distribution many intervals are nearly as short, and chance picks among them.
    ///
    /// # Errors
    /// As [`symmetric_interval`](Self::symmetric_interval).
    pub fn shortest_interval(&self, probability: f64) -> Result<Interval, StackError> {
        let symmetric = self.symmetric_interval(probability)?;
        let mut best = symmetric;
        let consider = |low: f64, high: f64, best: &mut Interval| {
            if high - low < best.high - best.low {
                *best = Interval { low, high, probability };
            }
        };
        for bin in 0..=self.histogram.counts.len() {
            let share = self.before[bin] as f64 / self.draws as f64;
            let edge = self.reference + self.histogram.edge(bin);
            let edge = edge.clamp(self.least, self.greatest);
            if share + probability <= 1.0 {
                consider(edge, self.at(share + probability), &mut best);
            }
            if share >= probability {
                consider(self.at(share - probability), edge, &mut best);
            }
        }
        Ok(best)
    }

    /// The histogram gathered into `bars` bars of equal width over the range drawn, for a picture:
    /// low edge, high edge and share of the draws of each.
    pub fn bars(&self, bars: usize) -> Vec<(f64, f64, f64)> {
        let width = (self.greatest - self.least) / bars.max(1) as f64;
        let edges: Vec<f64> = (0..=bars).map(|i| self.least + width * i as f64).collect();
        edges
            .windows(2)
            .map(|pair| {
                let share = self.share_below(pair[1]) - self.share_below(pair[0]);
                (pair[0], pair[1], share.max(0.0))
            })
            .collect()
    }

    /// Ends of a bin, no farther than the least and greatest drawn.
    fn ends(&self, bin: usize) -> (f64, f64) {
        let low = self.reference + self.histogram.edge(bin);
        let high = self.reference + self.histogram.edge(bin + 1);
        (low.max(self.least), high.min(self.greatest))
    }

    /// First bin whose end reaches a share `p` of the draws.
    fn bin_at(&self, p: f64) -> usize {
        let rank = p * self.draws as f64;
        let bin = self.before[1..].partition_point(|count| (*count as f64) < rank);
        bin.min(self.histogram.counts.len() - 1)
    }

    /// Value with a share `p` of the draws below, 0 to 1.
    fn at(&self, p: f64) -> f64 {
        let bin = self.bin_at(p);
        let count = self.histogram.counts[bin] as f64;
        let rank = p * self.draws as f64 - self.before[bin] as f64;
        let part = if count > 0.0 { (rank / count).clamp(0.0, 1.0) } else { 0.0 };
        let (low, high) = self.ends(bin);
        low + part * (high - low).max(0.0)
    }
}
