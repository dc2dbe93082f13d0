//! Decimal numbers held exactly, so that a size written in two systems comes out the same to the
//! bit.
//!
//! `8 3/16 in`, `8.1875 in` and `207.9625 mm` are one size. Reckoned in binary floating point
//! with rounded factors they would differ in the last place; here the figures as written are
//! multiplied by the figures of the conversion factor as whole numbers and rounded once.

/// `digits x 10^exp10`, exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Decimal {
    pub(crate) digits: i128,
    pub(crate) exp10: i32,
}

/// The powers of ten that an `f64` holds exactly.
const POWERS_OF_TEN: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

impl Decimal {
    pub(crate) const ONE: Decimal = Decimal { digits: 1, exp10: 0 };
    pub(crate) const ZERO: Decimal = Decimal { digits: 0, exp10: 0 };

    /// The decimal that a floating point literal of the source spells, such as `0.45359237` or
    /// `1e-6`. Only used on literals at compile time; a malformed one fails to compile.
    pub(crate) const fn of_literal(literal: &str) -> Decimal {
        let bytes = literal.as_bytes();
        let (mut digits, mut exp10, mut i, mut after_point) = (0_i128, 0_i32, 0, false);
        while i < bytes.len() {
            match bytes[i] {
                b @ b'0'..=b'9' => {
                    digits = digits * 10 + (b - b'0') as i128;
                    if after_point {
                        exp10 -= 1;
                    }
                }
                b'.' => after_point = true,
                b'_' => {}
                b'e' => return Decimal { digits, exp10: exp10 + exponent_of(bytes, i + 1) }.trim(),
                _ => panic!("unit factors are plain decimal literals"),
            }
            i += 1;
        }
        Decimal { digits, exp10 }.trim()
    }

    /// The same number without trailing zeros in its digits.
    const fn trim(mut self) -> Decimal {
        while self.digits != 0 && self.digits % 10 == 0 {
            self.digits /= 10;
            self.exp10 += 1;
        }
        self
    }

    /// The nearest `f64`; infinite when beyond its range.
    pub(crate) fn to_f64(self) -> f64 {
        // Up to 2^53 whole numbers are f64 exactly, and so are powers of ten up to the 22nd: one
        // multiplication or division of the two is rounded once (W. D. Clinger, How to Read
        // Floating Point Numbers Accurately, 1990, the fast path).
        let power = POWERS_OF_TEN.get(self.exp10.unsigned_abs() as usize);
        if let Some(power) = power
            && let Ok(digits) = i64::try_from(self.digits)
            && digits.unsigned_abs() <= 1 << 53
        {
            let digits = digits as f64;
            return if self.exp10 < 0 { digits / power } else { digits * power };
        }
        // the standard library rounds decimal text correctly, whatever its length
        format!("{}e{}", self.digits, self.exp10).parse().unwrap_or(f64::NAN)
    }

    /// `self + other`, or `None` when the sum does not fit.
    pub(crate) fn plus(self, other: Decimal) -> Option<Decimal> {
        let exp10 = self.exp10.min(other.exp10);
        let digits = self.digits_at(exp10)?.checked_add(other.digits_at(exp10)?)?;
        Some(Decimal { digits, exp10 })
    }

    /// `self x other`, or `None` when the product does not fit.
    pub(crate) fn times(self, other: Decimal) -> Option<Decimal> {
        let digits = self.digits.checked_mul(other.digits)?;
        Some(Decimal { digits, exp10: self.exp10.checked_add(other.exp10)? })
    }

    /// `self / other`, or `None` when it does not fit or `other` is zero.
    ///
    /// An endless quotient is cut after at least 18 figures and given one more figure, 1, that
    /// says there is something left, so that rounding to `f64` comes out as for the whole.
    pub(crate) fn over(self, other: Decimal) -> Option<Decimal> {
        let (mut digits, mut exp10) = (self.digits, self.exp10.checked_sub(other.exp10)?);
        match other.digits {
            0 => return None,
            1 => return Some(Decimal { digits, exp10 }),
            _ => {}
        }
        // room is left for the one more figure
        while digits % other.digits != 0 && digits.checked_mul(100).is_some() {
            (digits, exp10) = (digits * 10, exp10.checked_sub(1)?);
        }
        let quotient = digits / other.digits;
        if digits % other.digits == 0 {
            return Some(Decimal { digits: quotient, exp10 });
        }
        if quotient.unsigned_abs() < 10_u128.pow(18) {
            return None;
        }
        let sign = quotient.signum();
        let digits = quotient.checked_mul(10)?.checked_add(sign)?;
        Some(Decimal { digits, exp10: exp10.checked_sub(1)? })
    }

    fn digits_at(self, exp10: i32) -> Option<i128> {
        let shift = u32::try_from(self.exp10.checked_sub(exp10)?).ok()?;
        if self.digits == 0 {
            return Some(0);
        }
        self.digits.checked_mul(10_i128.checked_pow(shift)?)
    }
}

const fn exponent_of(bytes: &[u8], from: usize) -> i32 {
    let negative = bytes[from] == b'-';
    let mut i = if negative { from + 1 } else { from };
    let mut exponent = 0_i32;
    while i < bytes.len() {
        exponent = exponent * 10 + (bytes[i] - b'0') as i32;
        i += 1;
    }
    if negative { -exponent } else { exponent }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn literals_are_read_exactly() {
        assert_eq!(Decimal::of_literal("0.0254"), Decimal { digits: 254, exp10: -4 });
        assert_eq!(Decimal::of_literal("1000.0"), Decimal { digits: 1, exp10: 3 });
        assert_eq!(Decimal::of_literal("1e-6"), Decimal { digits: 1, exp10: -6 });
        assert_eq!(
            Decimal::of_literal("9964.01641818352"),
            Decimal { digits: 996_401_641_818_352, exp10: -11 }
        );
    }

    /// Beside the standard library, which reads decimal text correctly rounded: the quick way and
    /// the long way on both sides of where the quick way ends.
    #[test]
    fn the_nearest_float_is_that_of_the_text() {
        let mut n = 0x2545_F491_4F6C_DD1D_u64;
        for _ in 0..20_000 {
            n ^= n << 13;
            n ^= n >> 7;
            n ^= n << 17;
            let digits = i128::from(n >> (n % 40)) * if n & 1 == 0 { 1 } else { -1 };
            let exp10 = (n >> 32) as i32 % 30;
            let wanted: f64 = format!("{digits}e{exp10}").parse().expect("a number");
            assert_eq!(Decimal { digits, exp10 }.to_f64().to_bits(), wanted.to_bits());
        }
        assert_eq!(Decimal::ZERO.to_f64().to_bits(), 0.0_f64.to_bits());
    }

    #[test]
    fn arithmetic_is_whole_number_arithmetic() {
        let third = Decimal::ONE.over(Decimal { digits: 3, exp10: 0 }).expect("fits");
        assert_eq!(third.to_f64(), 1.0 / 3.0);
        let sum = Decimal { digits: 1, exp10: -1 }.plus(Decimal { digits: 2, exp10: -1 });
        assert_eq!(sum.expect("fits").to_f64(), 0.3, "in binary 0.1 + 0.2 is not 0.3");
        // 2^53 + 1 is halfway between two f64; what an endless quotient leaves must decide it
        let tie = Decimal { digits: 3 * ((1_i128 << 53) + 1), exp10: 0 };
        let above = tie.plus(Decimal { digits: 1, exp10: -20 }).expect("fits");
        let by_three = |d: Decimal| d.over(Decimal { digits: 3, exp10: 0 }).expect("fits").to_f64();
        assert_eq!(by_three(tie), 9_007_199_254_740_992.0);
        assert_eq!(by_three(above), 9_007_199_254_740_994.0);
        assert_eq!(Decimal::ONE.over(Decimal { digits: 0, exp10: 0 }), None);
        let huge = Decimal { digits: i128::MAX, exp10: 0 };
        assert_eq!(huge.times(huge), None);
        assert_eq!(huge.plus(huge), None);
    }
}
