//! Sums that are rounded once.

/// The sum of `terms`, rounded once to the nearest `f64`, whatever their order.
///
/// Keeps the running sum as a list of numbers that do not overlap, growing in size, whose exact
/// sum is the exact sum of the terms (J. R. Shewchuk, Adaptive Precision Floating-Point
/// Arithmetic, Discrete & Computational Geometry 18 (1997), 305-363, Grow-Expansion), and rounds
/// at the end. Terms that are not finite, and sums that leave the range, give what plain addition
/// gives.
pub(super) fn sum(terms: &[f64]) -> f64 {
    let plain: f64 = terms.iter().sum();
    if !plain.is_finite() {
        return plain;
    }
    let mut partials: Vec<f64> = Vec::with_capacity(terms.len());
    for &term in terms {
        let mut carry = term;
        let mut kept = 0;
        for i in 0..partials.len() {
            let (high, low) = two_sum(carry, partials[i]);
            if low != 0.0 {
                partials[kept] = low;
                kept += 1;
            }
            carry = high;
        }
        partials.truncate(kept);
        partials.push(carry);
    }
    round(&partials)
}

/// a + b exactly, as the rounded sum and what rounding lost (D. E. Knuth, TAOCP vol. 2, 4.2.2).
fn two_sum(a: f64, b: f64) -> (f64, f64) {
    let high = a + b;
    let of_b = high - a;
    let of_a = high - of_b;
    (high, (a - of_a) + (b - of_b))
}

/// Nearest `f64` to the exact sum of an expansion.
fn round(partials: &[f64]) -> f64 {
    let mut rest = partials.iter().rev().copied();
    let Some(mut total) = rest.next() else { return 0.0 };
    let mut low = 0.0;
    for next in rest.by_ref() {
        let (high, lost) = two_sum(total, next);
        total = high;
        low = lost;
        if low != 0.0 {
            break;
        }
    }
    // a tie was broken to even by the addition; what is left below decides it
    if let Some(next) = rest.next()
        && low != 0.0
        && (low < 0.0) == (next < 0.0)
    {
        let twice = 2.0 * low;
        let moved = total + twice;
        if moved - total == twice {
            total = moved;
        }
    }
    total
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::sum;

    #[test]
    fn what_plain_addition_loses_is_kept() {
        assert_eq!(sum(&[1e100, 1.0, -1e100]), 1.0);
        assert_eq!(sum(&[0.1; 10]), 1.0, "added one by one it is 0.9999999999999999");
        assert_eq!(sum(&[]), 0.0);
        assert_eq!(sum(&[1.0, f64::INFINITY]), f64::INFINITY);
        assert!(sum(&[f64::INFINITY, f64::NEG_INFINITY]).is_nan());
        // a tie that only the smallest term decides
        let half_ulp = f64::EPSILON / 2.0;
        assert_eq!(sum(&[1.0, half_ulp, 1e-40]), 1.0 + f64::EPSILON);
        assert_eq!(sum(&[1.0, half_ulp, -1e-40]), 1.0);
    }

    proptest! {
        /// Against whole-number arithmetic, which is exact, and its one rounding to `f64`.
        #[test]
        fn the_sum_is_the_rounded_exact_sum(
            terms in prop::collection::vec((-(1_i64 << 40)..(1_i64 << 40), 0_u32..70), 0..12),
        ) {
            let exact: i128 = terms.iter().map(|(k, shift)| i128::from(*k) << shift).sum();
            let floats: Vec<f64> =
                terms.iter().map(|(k, shift)| *k as f64 * 2_f64.powi(*shift as i32)).collect();
            prop_assert_eq!(sum(&floats), exact as f64);
        }
    }
}
