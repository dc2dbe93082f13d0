//! The nearest fraction of an inch, for those who read a rule.

use std::fmt;

use crate::Unit;

/// A size as whole inches and a fraction in lowest terms: `8 3/16 in`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fraction {
    /// Whether the size is below zero; the other parts are without sign.
    pub negative: bool,
    /// Whole inches.
    pub whole: u64,
    /// Numerator of the fraction in lowest terms; 0 when there is none.
    pub numerator: u32,
    /// Denominator of the fraction in lowest terms; 1 when there is none, and 0 when no fraction
    /// could be given.
    pub denominator: u32,
    /// The fraction less the true size, in metres; not a number when no fraction could be given.
    pub error_m: f64,
}

/// The fraction of an inch with the given denominator (8, 16, 32 or 64 on a rule) that is nearest
/// to a length; halfway goes away from zero.
///
/// No fraction can be given for a length that is not finite or is beyond 2^53 parts, nor for a
/// denominator of 0: [`Fraction::is_known`] is then false, and it prints as `no fraction`.
///
/// ```
/// let f = quantity::nearest_fraction(0.20796, 16);
/// assert_eq!(f.to_string(), "8 3/16 in");
/// assert!((f.error_m - 0.0000025).abs() < 1e-12);
/// ```
pub fn nearest_fraction(si_m: f64, denominator: u32) -> Fraction {
    const UNKNOWN: Fraction =
        Fraction { negative: false, whole: 0, numerator: 0, denominator: 0, error_m: f64::NAN };
    const MOST_PARTS: f64 = 9_007_199_254_740_992.0;
    let parts = (Unit::INCH.from_si(si_m.abs()) * f64::from(denominator)).round();
    if denominator == 0 || parts.is_nan() || parts >= MOST_PARTS {
        return UNKNOWN;
    }
    let written_m = Unit::INCH.to_si(parts / f64::from(denominator)).copysign(si_m);
    let parts = parts as u64;
    let (whole, rest) = (parts / u64::from(denominator), (parts % u64::from(denominator)) as u32);
    let common = greatest_common_divisor(rest, denominator);
    Fraction {
        negative: parts > 0 && si_m < 0.0,
        whole,
        numerator: rest / common,
        denominator: denominator / common,
        error_m: written_m - si_m,
    }
}

impl Fraction {
    /// Whether a fraction could be given.
    pub fn is_known(&self) -> bool {
        self.denominator != 0
    }

    /// The fraction's own size in inches.
    pub fn inches(&self) -> f64 {
        let size = self.whole as f64 + f64::from(self.numerator) / f64::from(self.denominator);
        if self.negative { -size } else { size }
    }

    /// The figures alone: `8 3/16`.
    pub(crate) fn without_unit(&self) -> String {
        let sign = if self.negative { "-" } else { "" };
        let Fraction { whole, numerator, denominator, .. } = *self;
        match (self.is_known(), whole, numerator) {
            (false, ..) => "no fraction".to_owned(),
            (_, whole, 0) => format!("{sign}{whole}"),
            (_, 0, _) => format!("{sign}{numerator}/{denominator}"),
            _ => format!("{sign}{whole} {numerator}/{denominator}"),
        }
    }
}

impl fmt::Display for Fraction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let unit = if self.is_known() { " in" } else { "" };
        write!(f, "{}{unit}", self.without_unit())
    }
}

/// Of a numerator that may be 0 and a denominator that is not.
fn greatest_common_divisor(a: u32, b: u32) -> u32 {
    if a == 0 { b } else { greatest_common_divisor(b % a, a) }
}
