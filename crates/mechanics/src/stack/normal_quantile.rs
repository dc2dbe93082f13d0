//! Quantile of the standard normal.

use super::kernels::minus_two_ln_of;

/// The value below which a standard normal falls with probability p, 0 < p < 1; for p below ½ small
/// p keep their digits.
///
/// Source: Wichura, Algorithm AS 241, Applied Statistics 37 (1988) 477-484, routine PPND16,
/// accurate to about 1e-16 with an exact logarithm; with the logarithm used here to 1e-11.
pub(super) fn normal_quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180_625 - q * q;
        return q * ratio(r, &CENTRE);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    let r = (0.5 * minus_two_ln_of(tail)).sqrt();
    let value = if r <= 5.0 { ratio(r - 1.6, &MIDDLE) } else { ratio(r - 5.0, &FAR) };
    if q < 0.0 { -value } else { value }
}

fn ratio(r: f64, coefficients: &[[f64; 8]; 2]) -> f64 {
    let [above, below] = coefficients.map(|c| c.iter().rev().fold(0.0, |sum, c| sum * r + c));
    above / below
}

const CENTRE: [[f64; 8]; 2] = [
    [
        3.387_132_872_796_366_5,
        133.141_667_891_784_38,
        1_971.590_950_306_551_3,
        13_731.693_765_509_46,
        45_921.953_931_549_87,
        67_265.770_927_008_7,
        33_430.575_583_588_13,
        2_509.080_928_730_122_7,
    ],
    [
        1.0,
        42.313_330_701_600_91,
        687.187_007_492_057_9,
        5_394.196_021_424_751,
        21_213.794_301_586_597,
        39_307.895_800_092_71,
        28_729.085_735_721_943,
        5_226.495_278_852_545,
    ],
];
const MIDDLE: [[f64; 8]; 2] = [
    [
        1.423_437_110_749_683_5,
        4.630_337_846_156_546,
        5.769_497_221_460_691,
        3.647_848_324_763_204_5,
        1.270_458_252_452_368_4,
        0.241_780_725_177_450_6,
        0.022_723_844_989_269_184,
        7.745_450_142_783_414e-4,
    ],
    [
        1.0,
        2.053_191_626_637_759,
        1.676_384_830_183_803_8,
        0.689_767_334_985_1,
        0.148_103_976_427_480_08,
        0.015_198_666_563_616_457,
        5.475_938_084_995_345e-4,
        1.050_750_071_644_416_9e-9,
    ],
];
const FAR: [[f64; 8]; 2] = [
    [
        6.657_904_643_501_103,
        5.463_784_911_164_114,
        1.784_826_539_917_291_3,
        0.296_560_571_828_504_87,
        0.026_532_189_526_576_124,
        0.001_242_660_947_388_078_4,
        2.711_555_568_743_487_6e-5,
        2.010_334_399_292_288_1e-7,
    ],
    [
        1.0,
        0.599_832_206_555_888,
        0.136_929_880_922_735_8,
        0.014_875_361_290_850_615,
        7.868_691_311_456_133e-4,
        1.846_318_317_510_054_8e-5,
        1.421_511_758_316_446e-7,
        2.044_263_103_389_939_8e-15,
    ],
];

#[cfg(test)]
mod tests {
    use statrs::distribution::{ContinuousCDF, Normal};

    use super::normal_quantile;

    #[test]
    fn inverts_the_distribution_function() {
        let normal = Normal::new(0.0, 1.0).unwrap();
        for i in 1..2000 {
            let p = f64::from(i) / 2000.0;
            assert!((normal.cdf(normal_quantile(p)) - p).abs() < 1e-10, "{p}");
        }
    }

    #[test]
    fn published_values() {
        // Wichura (1988), test values of PPND16 (verified in several public test suites quoting them).
        assert!((normal_quantile(0.25) + 0.674_489_750_196_081_7).abs() < 1e-11);
        assert!((normal_quantile(0.001) + 3.090_232_306_167_813_5).abs() < 1e-10);
        assert!((normal_quantile(1e-20) + 9.262_340_089_798_408).abs() < 1e-9);
    }
}
