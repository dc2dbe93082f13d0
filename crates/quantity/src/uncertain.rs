//! Values whose uncertainty knows where it came from.

mod exact_sum;
mod operators;

use exact_sum::sum;

/// Name of one source of uncertainty: the zero of one gauge, the repeatability of one reading.
///
/// Whoever makes sources gives out the numbers; two values share a source exactly when they carry
/// the same number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SourceId(pub u32);

/// A value with first-order uncertainty, split by source.
///
/// Holds the value y and, for each independent source k of unit variance, the signed contribution
/// c_k = (dy/dx_k) u(x_k). Then u²(y) = Σ c_k² and cov(y, z) = Σ c_k(y) c_k(z): shared sources
/// are added with their sign before they are squared, which is the law of propagation with its
/// correlation terms (JCGM 100:2008, 5.2.2, equation 16) in the form of F.1.2.3.
///
/// Contributions are sorted by source and none is zero, so equal values compare equal.
/// Second-order terms are not kept: where a function bends within the uncertainty of its inputs
/// (JCGM 100:2008, 5.1.2 note), use a Monte Carlo instead.
#[derive(Clone, Debug, PartialEq)]
pub struct Uncertain {
    value: f64,
    parts: Vec<(SourceId, f64)>,
}

impl Uncertain {
    /// A value without uncertainty.
    pub fn exact(value: f64) -> Self {
        Uncertain { value, parts: Vec::new() }
    }

    /// A value with one source. The standard uncertainty is in the value's own unit; with a
    /// negative one the source acts the other way round.
    pub fn new(value: f64, source: SourceId, standard_uncertainty: f64) -> Self {
        Uncertain::exact(value).with_part(source, standard_uncertainty)
    }

    /// The value.
    pub fn value(&self) -> f64 {
        self.value
    }

    /// Standard uncertainty: the root of the sum of the squared contributions.
    pub fn standard_uncertainty(&self) -> f64 {
        let largest = self.largest_part();
        if largest == 0.0 || !largest.is_finite() {
            return largest;
        }
        // squares of very large or small contributions would leave the range of f64
        if (1e-100..1e100).contains(&largest) {
            return self.variance().sqrt();
        }
        let sum: f64 = self.parts.iter().map(|(_, c)| (c / largest) * (c / largest)).sum();
        largest * sum.sqrt()
    }

    /// Variance: the square of the standard uncertainty.
    pub fn variance(&self) -> f64 {
        self.parts.iter().map(|(_, c)| c * c).sum()
    }

    /// Contributions, sorted by source, none of them zero.
    pub fn parts(&self) -> &[(SourceId, f64)] {
        &self.parts
    }

    /// Signed contribution of one source: sensitivity times standard uncertainty; 0 if the value
    /// does not depend on it.
    pub fn contribution(&self, source: SourceId) -> f64 {
        match self.parts.binary_search_by_key(&source, |(s, _)| *s) {
            Ok(at) => self.parts[at].1,
            Err(_) => 0.0,
        }
    }

    /// Contributions by size, largest first; equal ones by source.
    pub fn largest_parts(&self) -> Vec<(SourceId, f64)> {
        let mut parts = self.parts.clone();
        parts.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()).then(a.0.cmp(&b.0)));
        parts
    }

    /// Whether the value and all contributions are finite.
    pub fn is_finite(&self) -> bool {
        self.value.is_finite() && self.parts.iter().all(|(_, c)| c.is_finite())
    }

    /// `constant` + Σ factor x term.
    ///
    /// Each sum, of the values and for each source, is rounded once, so the order of the terms
    /// does not matter to the bit.
    pub fn linear(constant: f64, terms: &[(f64, &Uncertain)]) -> Uncertain {
        let value = match terms {
            [] => constant,
            [(factor, term)] => constant + factor * term.value,
            _ => {
                let mut values: Vec<f64> = terms.iter().map(|(f, t)| f * t.value).collect();
                values.push(constant);
                sum(&values)
            }
        };
        Uncertain::combine(value, terms)
    }

    /// Any function of uncertain values: its value, and its exact partial derivative with respect
    /// to each of them (JCGM 100:2008, 5.1.3).
    pub fn combine(value: f64, terms: &[(f64, &Uncertain)]) -> Uncertain {
        let mut all: Vec<(SourceId, f64)> = terms
            .iter()
            .flat_map(|(derivative, term)| {
                term.parts.iter().map(move |(s, c)| (*s, derivative * c))
            })
            .collect();
        if terms.len() > 1 {
            all.sort_by_key(|(source, _)| *source);
        }
        let mut parts = Vec::with_capacity(all.len());
        for same in all.chunk_by(|a, b| a.0 == b.0) {
            let contribution = match same {
                [(_, only)] => *only,
                [(_, a), (_, b)] => a + b,
                _ => sum(&same.iter().map(|(_, c)| *c).collect::<Vec<f64>>()),
            };
            if contribution != 0.0 {
                parts.push((same[0].0, contribution));
            }
        }
        Uncertain { value, parts }
    }

    /// The value with one more contribution; added to the one that is there if the source is.
    pub fn with_part(mut self, source: SourceId, contribution: f64) -> Self {
        match self.parts.binary_search_by_key(&source, |(s, _)| *s) {
            Ok(at) => {
                self.parts[at].1 += contribution;
                if self.parts[at].1 == 0.0 {
                    self.parts.remove(at);
                }
            }
            Err(at) if contribution != 0.0 => self.parts.insert(at, (source, contribution)),
            Err(_) => {}
        }
        self
    }

    /// The value times an exact factor.
    pub fn scale(&self, factor: f64) -> Self {
        Uncertain::combine(self.value * factor, &[(factor, self)])
    }

    /// The value plus an exact number.
    pub fn offset(&self, by: f64) -> Self {
        Uncertain { value: self.value + by, parts: self.parts.clone() }
    }

    /// Product of two: derivatives b and a.
    pub fn product(&self, other: &Self) -> Self {
        Uncertain::combine(self.value * other.value, &[(other.value, self), (self.value, other)])
    }

    /// Quotient a / b: derivatives 1/b and -a/b². Division by zero gives what it gives for `f64`,
    /// and [`is_finite`](Self::is_finite) is then false.
    pub fn quotient(&self, other: &Self) -> Self {
        let value = self.value / other.value;
        Uncertain::combine(value, &[(1.0 / other.value, self), (-value / other.value, other)])
    }

    /// A function of this value alone: its value and its derivative there.
    pub fn map(&self, value: f64, derivative: f64) -> Self {
        Uncertain::combine(value, &[(derivative, self)])
    }

    /// Covariance: the sum over shared sources of the products of contributions.
    pub fn covariance(&self, other: &Self) -> f64 {
        self.shared(other).map(|(a, b)| a * b).sum()
    }

    /// Correlation coefficient, in [-1, 1]; 0 when either has no uncertainty.
    pub fn correlation(&self, other: &Self) -> f64 {
        let (a, b) = (self.largest_part(), other.largest_part());
        if a == 0.0 || b == 0.0 {
            return 0.0;
        }
        let covariance: f64 = self.shared(other).map(|(x, y)| (x / a) * (y / b)).sum();
        let square = |u: &Uncertain, largest: f64| -> f64 {
            u.parts.iter().map(|(_, c)| (c / largest) * (c / largest)).sum()
        };
        let correlation = covariance / (square(self, a) * square(other, b)).sqrt();
        // rounding can carry it past the ends by a unit in the last place
        correlation.clamp(-1.0, 1.0)
    }

    /// Contributions of the sources that both depend on, in the order of the sources.
    fn shared<'a>(&'a self, other: &'a Self) -> impl Iterator<Item = (f64, f64)> + 'a {
        let mut rest = other.parts.iter().peekable();
        self.parts.iter().filter_map(move |(source, a)| {
            while rest.next_if(|(s, _)| s < source).is_some() {}
            rest.next_if(|(s, _)| s == source).map(|(_, b)| (*a, *b))
        })
    }

    fn largest_part(&self) -> f64 {
        self.parts
            .iter()
            .map(|(_, c)| c.abs())
            .fold(0.0, |a, b| if b > a || b.is_nan() { b } else { a })
    }
}
