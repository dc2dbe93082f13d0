//! A linear chain of sizes, its worst case and its root-sum-square.

use super::StackError;
use super::error::in_range;
use super::spread::{Spread, WIDEST};

/// Least and greatest value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range {
    /// Least.
    pub low: f64,
    /// Greatest.
    pub high: f64,
}

/// One term of a chain. Any unit, the same throughout the chain after the factor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Term {
    /// What the value is multiplied by: +1 or −1 along a straight line, or a lever's ratio.
    pub factor: f64,
    /// The value about which it scatters.
    pub centre: f64,
    /// How it scatters.
    pub spread: Spread,
    /// Its limits for the worst case, as values (not departures). `None`: the bounds of a bounded
    /// distribution are used.
    pub limits: Option<Range>,
}

/// `value = constant + Σ factor · x`.
#[derive(Debug, Clone, PartialEq)]
pub struct Chain {
    /// The constant.
    pub constant: f64,
    /// The terms.
    pub terms: Vec<Term>,
}

/// Worst case of a chain.
#[derive(Debug, Clone, PartialEq)]
pub struct WorstCase {
    /// Least and greatest value with every term at a limit.
    pub range: Range,
    /// Terms by their share of the width, largest first.
    pub contributions: Vec<Contribution>,
}

/// Root-sum-square of a chain.
#[derive(Debug, Clone, PartialEq)]
pub struct RootSumSquare {
    /// Mean of the chain.
    pub mean: f64,
    /// Standard deviation of the chain, its terms independent.
    pub standard_deviation: f64,
    /// Middle of all limits and the root-sum-square of their half widths, the workshop's
    /// statistical tolerance; `None` if a term has no limits. It is a coverage of no stated
    /// probability: it takes every term's limits as the same number of its standard deviations.
    pub tolerance: Option<(f64, f64)>,
    /// Terms by their share of the variance, largest first.
    pub contributions: Vec<Contribution>,
}

/// One term's share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contribution {
    /// Which term, from 0.
    pub term: usize,
    /// What it contributes, in the unit of the chain: half width or standard deviation.
    pub amount: f64,
    /// Share of the whole (of the width, or of the variance), 0 to 1.
    pub share: f64,
}

/// Most terms in a chain.
pub(super) const MOST_TERMS: usize = 10_000;

impl Chain {
    /// Every term at its worst limit.
    ///
    /// Equation: `constant + Σ factor · (low or high, whichever is worse)`. Common practice.
    ///
    /// # Errors
    /// A term with neither limits nor a bounded distribution; figures out of range.
    pub fn worst_case(&self) -> Result<WorstCase, StackError> {
        self.check()?;
        let mut middle = self.constant;
        let mut amounts = Vec::with_capacity(self.terms.len());
        for (index, term) in self.terms.iter().enumerate() {
            let range = term.range().ok_or(StackError::NoLimits { term: index })?;
            middle += term.factor * (0.5 * range.low + 0.5 * range.high);
            amounts.push((term.factor * (0.5 * range.high - 0.5 * range.low)).abs());
        }
        let half: f64 = amounts.iter().sum();
        in_range("worst case", middle.abs() + half, 0.0, f64::MAX)?;
        let share = |a: f64| if half > 0.0 { a / half } else { 0.0 };
        Ok(WorstCase {
            range: Range { low: middle - half, high: middle + half },
            contributions: ranked(amounts.iter().map(|a| (*a, share(*a)))),
        })
    }

    /// Mean and standard deviation with independent terms.
    ///
    /// Equations: `mean = constant + Σ f (centre + offset)`, `s² = Σ (f s_x)²`; JCGM 100:2008
    /// (10). Exact for any distributions; the chain's own distribution is another matter, see
    /// [`simulate_chain`](super::simulate_chain()).
    ///
    /// # Errors
    /// Figures out of range.
    pub fn root_sum_square(&self) -> Result<RootSumSquare, StackError> {
        self.check()?;
        let mut amounts = Vec::with_capacity(self.terms.len());
        let mut mean = self.constant;
        let mut limits = Some((self.constant, 0.0));
        for (index, term) in self.terms.iter().enumerate() {
            let named = |e| named(index, e);
            mean += term.factor * (term.centre + term.spread.mean_offset().map_err(named)?);
            amounts.push((term.factor * term.spread.standard_deviation().map_err(named)?).abs());
            limits =
                limits.zip(term.range()).map(|((middle, square), range): ((f64, f64), Range)| {
                    let half = term.factor * (0.5 * range.high - 0.5 * range.low);
                    (
                        middle + term.factor * (0.5 * range.low + 0.5 * range.high),
                        square + half * half,
                    )
                });
        }
        let variance: f64 = amounts.iter().map(|a| a * a).sum();
        in_range("mean of the chain", mean, -f64::MAX, f64::MAX)?;
        in_range("variance of the chain", variance, 0.0, f64::MAX)?;
        let share = |a: f64| if variance > 0.0 { a * a / variance } else { 0.0 };
        Ok(RootSumSquare {
            mean,
            standard_deviation: variance.sqrt(),
            tolerance: limits.map(|(middle, square)| (middle, square.sqrt())),
            contributions: ranked(amounts.iter().map(|a| (*a, share(*a)))),
        })
    }

    pub(super) fn check(&self) -> Result<(), StackError> {
        if self.terms.is_empty() {
            return Err(StackError::Empty);
        }
        if self.terms.len() > MOST_TERMS {
            return Err(StackError::TooManyTerms { limit: MOST_TERMS, got: self.terms.len() });
        }
        in_range("constant", self.constant, -WIDEST, WIDEST)?;
        for (index, term) in self.terms.iter().enumerate() {
            for (what, value) in [("factor", term.factor), ("centre", term.centre)] {
                if !(-WIDEST..=WIDEST).contains(&value) {
                    return Err(named(index, (what, value, -WIDEST, WIDEST)));
                }
            }
            term.spread.check().map_err(|e| named(index, e))?;
            if let Some(range) = term.limits {
                for value in [range.low, range.high] {
                    if !(-WIDEST..=WIDEST).contains(&value) {
                        return Err(named(index, ("limit", value, -WIDEST, WIDEST)));
                    }
                }
                if range.low > range.high {
                    return Err(StackError::Crossed {
                        what: "limits of a term",
                        low: range.low,
                        high: range.high,
                    });
                }
            }
        }
        Ok(())
    }
}

impl Term {
    /// Its limits, or the bounds of its distribution.
    fn range(&self) -> Option<Range> {
        self.limits.or_else(|| {
            self.spread
                .support()
                .map(|(low, high)| Range { low: self.centre + low, high: self.centre + high })
        })
    }
}

/// An error of a spread, put on its term.
pub(super) fn named(term: usize, found: (&'static str, f64, f64, f64)) -> StackError {
    let (what, value, low, high) = found;
    StackError::Term { term, what, value, low, high }
}

fn ranked(amounts: impl Iterator<Item = (f64, f64)>) -> Vec<Contribution> {
    let mut list: Vec<Contribution> = amounts
        .enumerate()
        .map(|(term, (amount, share))| Contribution { term, amount, share })
        .collect();
    list.sort_by(|a, b| b.amount.total_cmp(&a.amount));
    list
}
