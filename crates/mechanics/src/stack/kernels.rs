//! The elementary functions of sampling, eight lanes at a time.
//!
//! Only operations that IEEE 754 rounds in one way are used (add, subtract, multiply, divide,
//! square root, bits), and none are fused, so every instruction set gives the same bits. The
//! polynomials are least-maximum-error fits (own computation by Remez' exchange in 40 digits);
//! their errors, 5e-11 at most, are far below what any number of draws can resolve.

use fearless_simd::{f64x8, prelude::*, u64x8};

const ONE: u64 = 0x3ff0_0000_0000_0000;
/// 1 − 2⁻⁵³: takes 1..2 to the middles of 2⁵² equal parts of 0..1, never 0 and never 1.
const TO_OPEN_UNIT: f64 = 1.0 - 1.0 / 9_007_199_254_740_992.0;

/// From random bits, an evenly spread number from 1 up to 2.
#[inline(always)]
pub(super) fn one_to_two<S: Simd>(bits: u64x8<S>) -> f64x8<S> {
    ((bits >> 12) | ONE).bitcast()
}

/// From random bits, an evenly spread number between 0 and 1, neither included.
#[inline(always)]
pub(super) fn open_unit<S: Simd>(bits: u64x8<S>) -> f64x8<S> {
    one_to_two(bits) - TO_OPEN_UNIT
}

/// `−2 ln u` for u from 0 to 1 (normal numbers).
///
/// `u = 2ᵉ m`, m from √½ to √2; `ln m = 2 artanh s`, `s = (m − 1)/(m + 1)`, an odd series in s
/// cut to five terms. Relative error 4.3e-12.
#[inline(always)]
pub(super) fn minus_two_ln<S: Simd>(u: f64x8<S>) -> f64x8<S> {
    let bits: u64x8<S> = u.bitcast();
    // Adding (1 − √½ as bits) carries into the exponent exactly where m passes √2.
    let biased = (bits + (ONE - ROOT_HALF)) >> 52;
    let m: f64x8<S> = (bits - ((biased << 52) - ONE)).bitcast();
    let exponent: f64x8<S> = (biased | MAGIC_BITS).bitcast();
    let exponent = exponent - (MAGIC + 1023.0);
    let s = (m - 1.0) / (m + 1.0);
    let z = s * s;
    let p = z * LN[4] + LN[3];
    let p = p * z + LN[2];
    let p = p * z + LN[1];
    let p = p * z + LN[0];
    exponent * (-2.0 * std::f64::consts::LN_2) - (s * 2.0) * p
}

/// The same for one number.
pub(super) fn minus_two_ln_of(u: f64) -> f64 {
    let bits = u.to_bits();
    let biased = bits.wrapping_add(ONE - ROOT_HALF) >> 52;
    let m = f64::from_bits(bits.wrapping_sub((biased << 52).wrapping_sub(ONE)));
    let exponent = f64::from_bits(biased | MAGIC_BITS) - (MAGIC + 1023.0);
    let s = (m - 1.0) / (m + 1.0);
    let z = s * s;
    let p = (((z * LN[4] + LN[3]) * z + LN[2]) * z + LN[1]) * z + LN[0];
    exponent * (-2.0 * std::f64::consts::LN_2) - (s * 2.0) * p
}

/// Sine and cosine of an evenly spread direction, from random bits.
///
/// The top 52 bits place an angle within an eighth of a turn; the lowest three choose which
/// eighth: swap, sign of the one, sign of the other. Error 5e-11.
#[inline(always)]
pub(super) fn direction<S: Simd>(bits: u64x8<S>) -> (f64x8<S>, f64x8<S>) {
    let angle = open_unit(bits) * std::f64::consts::FRAC_PI_4;
    let z = angle * angle;
    let s = z * SIN[4] + SIN[3];
    let s = s * z + SIN[2];
    let s = s * z + SIN[1];
    let s = s * z + SIN[0];
    let s: u64x8<S> = (s * angle).bitcast();
    let c = z * COS[4] + COS[3];
    let c = c * z + COS[2];
    let c = c * z + COS[1];
    let c = c * z + COS[0];
    let c: u64x8<S> = c.bitcast();
    // 0 or all ones: the lowest bit, negated in two's complement.
    let swap = !(bits & 1) + 1;
    let differ = (s ^ c) & swap;
    let sign = 1_u64 << 63;
    let a: u64x8<S> = (s ^ differ) ^ ((bits << 62) & sign);
    let b: u64x8<S> = (c ^ differ) ^ ((bits << 61) & sign);
    (a.bitcast(), b.bitcast())
}

/// `eˣ − 1` for x from 0 to 700.
///
/// `x = k ln 2 + r`, |r| ≤ ½ ln 2; `eˣ − 1 = 2ᵏ (eʳ − 1) + (2ᵏ − 1)`, so that small x keep their
/// digits; `eʳ − 1` by its Taylor series to r¹². Relative error below 1e-15.
#[inline(always)]
pub(super) fn exp_less_one<S: Simd>(x: f64x8<S>) -> f64x8<S> {
    // Adding and taking away the magic number rounds to a whole number.
    let shifted = x * std::f64::consts::LOG2_E + MAGIC_ROUND;
    let whole = shifted - MAGIC_ROUND;
    // ln 2 in two parts, the first with its low bits clear so that whole · part is exact.
    let r = (x - whole * 0.693_147_180_369_123_8) - whole * 1.908_214_929_270_587_7e-10;
    let mut p = r * (1.0 / 13.0) + 1.0;
    for divisor in [12.0, 11.0, 10.0, 9.0, 8.0, 7.0, 6.0, 5.0, 4.0, 3.0, 2.0] {
        p = p * r * (1.0 / divisor) + 1.0;
    }
    let p = p * r;
    let k: u64x8<S> = shifted.bitcast();
    let power: f64x8<S> = ((k << 52) + ONE).bitcast();
    power * p + (power - 1.0)
}

const ROOT_HALF: u64 = 0x3fe6_a09e_667f_3bcd;
/// 2⁵²: a whole number below it, put in its low bits, makes 2⁵² plus that number.
const MAGIC: f64 = 4_503_599_627_370_496.0;
const MAGIC_BITS: u64 = 0x4330_0000_0000_0000;
/// 1.5 · 2⁵².
const MAGIC_ROUND: f64 = 6_755_399_441_055_744.0;

/// `artanh(√z)/√z · 2` over z from 0 to ((√2 − 1)/(√2 + 1))².
const LN: [f64; 5] = [
    2.000_000_000_008_424,
    0.666_666_652_404_604_5,
    0.400_003_858_683_731_7,
    0.285_349_859_434_857_2,
    0.236_174_658_189_835_28,
];
/// `sin(√z)/√z` over z from 0 to (π/4)².
const SIN: [f64; 5] = [
    0.999_999_999_995_450_4,
    -0.166_666_666_304_462_43,
    0.008_333_328_690_154_812,
    -0.000_198_391_783_562_236_52,
    2.717_152_811_181_340_4e-6,
];
/// `cos(√z)` over the same.
const COS: [f64; 5] = [
    0.999_999_999_952_600_5,
    -0.499_999_996_154_336_65,
    0.041_666_616_739_215_82,
    -0.001_388_661_921_034_109_2,
    0.000_024_379_929_375_926_63,
];

#[cfg(test)]
mod tests {
    use fearless_simd::{Level, dispatch};

    use super::*;

    /// Bits that make `open_unit` give about u.
    fn bits_of(u: f64) -> u64 {
        ((u * MAGIC) as u64) << 12
    }

    #[test]
    fn functions_agree_with_the_library() {
        #[inline(always)]
        fn check<S: Simd>(simd: S) {
            let mut worst = [0.0_f64; 4];
            for i in 0..4000 {
                let bits: [u64; 8] = std::array::from_fn(|l| {
                    let u = (f64::from(i * 8 + l as i32) + 0.5) / 32_000.0;
                    let u = if l == 7 { u.powi(9) } else { u };
                    bits_of(u) | (l as u64)
                });
                let lanes = u64x8::from_slice(simd, &bits);
                let (mut u, mut ln, mut a, mut b, mut e) =
                    ([0.0; 8], [0.0; 8], [0.0; 8], [0.0; 8], [0.0; 8]);
                open_unit(lanes).store_slice(&mut u);
                minus_two_ln(open_unit(lanes)).store_slice(&mut ln);
                let (s, c) = direction(lanes);
                s.store_slice(&mut a);
                c.store_slice(&mut b);
                exp_less_one(open_unit(lanes) * 40.0).store_slice(&mut e);
                for l in 0..8 {
                    let exact = -2.0 * u[l].ln();
                    worst[0] = worst[0].max((ln[l] / exact - 1.0).abs());
                    assert_eq!(ln[l], minus_two_ln_of(u[l]));
                    worst[1] = worst[1].max((a[l].hypot(b[l]) - 1.0).abs());
                    let (s, c) = (u[l] * std::f64::consts::FRAC_PI_4).sin_cos();
                    let (s, c) = if l & 1 == 1 { (c, s) } else { (s, c) };
                    let s = if l & 2 == 2 { -s } else { s };
                    let c = if l & 4 == 4 { -c } else { c };
                    worst[2] = worst[2].max((a[l] - s).abs()).max((b[l] - c).abs());
                    worst[3] = worst[3].max((e[l] / (40.0 * u[l]).exp_m1() - 1.0).abs());
                }
            }
            assert!(worst[0] < 5e-12, "ln {}", worst[0]);
            assert!(worst[1] < 1e-10, "length {}", worst[1]);
            assert!(worst[2] < 5.1e-11, "direction {}", worst[2]);
            assert!(worst[3] < 2e-14, "exp {}", worst[3]);
        }
        dispatch!(Level::new(), simd => check(simd));
    }
}
