//! Checks of drawing and tallying, against distribution functions and sorted draws.

use std::num::NonZeroUsize;

use fearless_simd::{Level, dispatch, prelude::*};
use rand::{Rng, SeedableRng};
use rand_xoshiro::Xoshiro256PlusPlus;
use statrs::distribution::{ChiSquared, ContinuousCDF, Normal, StudentsT};

use super::block::BLOCK;
use super::sampler::{Sampler, add_draws};
use super::simulate_chain::simulate_at;
use super::source::{LANES, Source, states};
use super::tally::Histogram;
use super::*;

/// Draws of a spread about its mean, from one unit's streams.
fn draws(spread: Spread, seed: u64, blocks: usize) -> Vec<f64> {
    #[inline(always)]
    fn run<S: Simd>(simd: S, sampler: &Sampler, seed: u64, blocks: usize) -> Vec<f64> {
        let mut source = Source::new(simd, seed, 0);
        let mut list = Vec::with_capacity(blocks * BLOCK);
        for _ in 0..blocks {
            let mut block = [0.0; BLOCK];
            add_draws(&mut source, sampler, &mut block);
            list.extend_from_slice(&block);
        }
        list
    }
    let offset = spread.mean_offset().unwrap();
    let sampler = Sampler::new(&spread, 1.0, offset);
    dispatch!(Level::new(), simd => run(simd, &sampler, seed, blocks))
}

/// Chi-square of draws against a distribution function in bins of equal probability; fails if the
/// sum is so large or so small that chance gives it once in a million.
fn chi_square(name: &str, list: &[f64], cdf: impl Fn(f64) -> f64) {
    const BINS: usize = 256;
    let mut counts = vec![0_u32; BINS];
    for x in list {
        counts[((cdf(*x) * BINS as f64) as usize).min(BINS - 1)] += 1;
    }
    let expected = list.len() as f64 / BINS as f64;
    let sum: f64 = counts.iter().map(|c| (f64::from(*c) - expected).powi(2) / expected).sum();
    let p = ChiSquared::new((BINS - 1) as f64).unwrap().cdf(sum);
    assert!(p > 1e-6 && p < 1.0 - 1e-6, "{name}: chi-square {sum} on {} bins, p {p}", BINS);
}

#[test]
fn lanes_are_the_published_generator() {
    // Against an independent implementation of xoshiro256++ (crate rand_xoshiro).
    #[inline(always)]
    fn run<S: Simd>(simd: S) -> Vec<[u64; LANES]> {
        let mut source = Source::new(simd, 42, 9);
        (0..100)
            .map(|_| {
                let mut lanes = [0; LANES];
                source.next().store_slice(&mut lanes);
                lanes
            })
            .collect()
    }
    let ours = dispatch!(Level::new(), simd => run(simd));
    let start = states(42, 9);
    for lane in 0..LANES {
        let mut seed = [0_u8; 32];
        for (word, bytes) in start.iter().zip(seed.chunks_exact_mut(8)) {
            bytes.copy_from_slice(&word[lane].to_le_bytes());
        }
        let mut other = Xoshiro256PlusPlus::from_seed(seed);
        for row in &ours {
            assert_eq!(row[lane], other.next_u64());
        }
    }
}

#[test]
fn normal_moments_to_the_sixth() {
    // Moments of a standard normal: 0, 1, 0, 3, 0, 15; variances of the powers from the moments
    // to the twelfth, 1, 2, 15, 96, 945, 10170.
    let list = draws(Spread::Normal { sd: 1.0 }, 1, 4096);
    let n = list.len() as f64;
    let expected =
        [(0.0, 1.0), (1.0, 2.0), (0.0, 15.0), (3.0, 96.0), (0.0, 945.0), (15.0, 10_170.0)];
    for (power, (mean, variance)) in (1..).zip(expected) {
        let found = list.iter().map(|x| x.powi(power)).sum::<f64>() / n;
        let standard_error = (variance / n).sqrt();
        assert!((found - mean).abs() < 4.5 * standard_error, "{power}: {found} ± {standard_error}");
    }
}

#[test]
fn normal_follows_its_distribution_into_the_tails() {
    let normal = Normal::new(0.0, 1.0).unwrap();
    let list = draws(Spread::Normal { sd: 1.0 }, 2, 4096);
    chi_square("normal", &list, |x| normal.cdf(x));
    // Counts beyond 4 and 5 standard deviations are Poisson: 6.334e-5 and 5.733e-7 of the draws.
    // Two runs of four million more for the far one.
    let mut list = list;
    for seed in 3..9 {
        list.extend(draws(Spread::Normal { sd: 1.0 }, seed, 4096));
    }
    for (far, share) in [(4.0, 6.334_248e-5), (5.0, 5.733_031e-7)] {
        for sign in [-1.0, 1.0] {
            let count = list.iter().filter(|x| sign * **x > far).count() as f64;
            let expected = 0.5 * share * list.len() as f64;
            assert!(
                (count - expected).abs() < 4.5 * expected.sqrt() + 1.0,
                "{far}: {count} for {expected}"
            );
        }
    }
}

#[test]
fn neighbours_are_not_correlated() {
    // Lags that pair draws of one direction, one lane, neighbouring lanes and the next block; the
    // draws and their squares. Correlation of n independent pairs has standard error 1/√n.
    let list = draws(Spread::Normal { sd: 1.0 }, 4, 2048);
    for lag in [1, 2, 3, 7, 8, 9, 15, 16, 17, 24, 1023, 1024, 1032] {
        let pairs = || list.iter().zip(&list[lag..]);
        let n = (list.len() - lag) as f64;
        let plain = pairs().map(|(a, b)| a * b).sum::<f64>() / n;
        // Variance of a square is 2.
        let squares = pairs().map(|(a, b)| (a * a - 1.0) * (b * b - 1.0)).sum::<f64>() / n / 2.0;
        assert!(plain.abs() < 4.5 / n.sqrt(), "lag {lag}: {plain}");
        assert!(squares.abs() < 4.5 / n.sqrt(), "lag {lag}: squares {squares}");
    }
}

#[test]
fn every_spread_follows_its_distribution_function() {
    let normal = Normal::new(0.0, 1.0).unwrap();
    chi_square("rectangular", &draws(Spread::Rectangular { half_width: 2.0 }, 5, 512), |x| {
        0.5 + x / 4.0
    });
    chi_square("triangular", &draws(Spread::Triangular { half_width: 1.0 }, 6, 512), |x| {
        if x < 0.0 { 0.5 * (1.0 + x).powi(2) } else { 1.0 - 0.5 * (1.0 - x).powi(2) }
    });
    chi_square("u-shaped", &draws(Spread::UShaped { half_width: 1.0 }, 7, 512), |x| {
        0.5 + x.asin() / std::f64::consts::PI
    });
    for dof in [2.5, 5.0, 30.0] {
        let student = StudentsT::new(0.0, 1.0, dof).unwrap();
        let spread = Spread::Student { scale: 1.0, degrees_of_freedom: dof };
        chi_square("student", &draws(spread, 8, 512), |x| student.cdf(x));
    }
    for (low, high) in [(-1.0, 2.0), (3.0, 4.0), (-6.0, -5.0), (0.5, f64::INFINITY)] {
        let spread = Spread::TruncatedNormal { sd: 2.0, low: 2.0 * low, high: 2.0 * high };
        let offset = spread.mean_offset().unwrap();
        // Tail probabilities from the side where they are small.
        let part = |a: f64, b: f64| {
            if a > 0.0 { normal.cdf(-a) - normal.cdf(-b) } else { normal.cdf(b) - normal.cdf(a) }
        };
        chi_square("truncated", &draws(spread, 9, 512), |x| {
            part(low, (x + offset) / 2.0) / part(low, high)
        });
    }
    // Curvilinear trapezoid, JCGM 101:2008 6.4.3.2: flat in the middle, and outside a − d … a + d
    // falling as ln; its distribution function by integration of that density.
    let (a, d) = (1.0, 0.4);
    let density = |x: f64| {
        let x: f64 = x.abs();
        if x <= a - d {
            ((a + d) / (a - d)).ln() / (4.0 * d)
        } else if x < a + d {
            ((a + d) / x).ln() / (4.0 * d)
        } else {
            0.0
        }
    };
    let cells = 20_000;
    let step = 2.0 * (a + d) / f64::from(cells);
    let mut cumulated = vec![0.0];
    for i in 0..cells {
        let middle = -(a + d) + step * (f64::from(i) + 0.5);
        cumulated.push(cumulated[i as usize] + step * density(middle));
    }
    let spread = Spread::InexactRectangular { half_width: a, inexact_by: d };
    chi_square("inexact rectangular", &draws(spread, 10, 512), |x| {
        let place = ((x + a + d) / step).clamp(0.0, f64::from(cells) - 1.0);
        let i = place as usize;
        cumulated[i] + (place - i as f64) * (cumulated[i + 1] - cumulated[i])
    });
}

#[test]
fn standard_deviations_agree_with_draws() {
    for spread in [
        Spread::Normal { sd: 0.7 },
        Spread::Rectangular { half_width: 0.7 },
        Spread::Triangular { half_width: 0.7 },
        Spread::UShaped { half_width: 0.7 },
        Spread::InexactRectangular { half_width: 0.7, inexact_by: 0.3 },
        Spread::TruncatedNormal { sd: 0.7, low: -0.3, high: 1.4 },
        Spread::Student { scale: 0.7, degrees_of_freedom: 12.0 },
    ] {
        let list = draws(spread, 11, 1024);
        let n = list.len() as f64;
        let sd = spread.standard_deviation().unwrap();
        let mean = list.iter().sum::<f64>() / n;
        let square = list.iter().map(|x| x * x).sum::<f64>() / n;
        assert!(mean.abs() < 4.5 * sd / n.sqrt(), "{spread:?}: mean {mean}");
        // The kurtosis of all of these is below 4, so the variance has a standard error below
        // sd²·√(3/n).
        assert!((square / (sd * sd) - 1.0).abs() < 4.5 * (3.0 / n).sqrt(), "{spread:?}: {square}");
    }
}

fn mixed_chain() -> Chain {
    let term = |factor, spread| Term { factor, centre: 10.0, spread, limits: None };
    Chain {
        constant: 1.0,
        terms: vec![
            term(1.0, Spread::Normal { sd: 0.1 }),
            term(-0.5, Spread::Rectangular { half_width: 0.2 }),
            term(2.0, Spread::Triangular { half_width: 0.1 }),
            term(1.0, Spread::UShaped { half_width: 0.05 }),
            term(1.0, Spread::Student { scale: 0.02, degrees_of_freedom: 4.0 }),
            term(-1.0, Spread::TruncatedNormal { sd: 0.1, low: -0.05, high: 0.2 }),
            term(1.0, Spread::InexactRectangular { half_width: 0.03, inexact_by: 0.01 }),
        ],
    }
}

#[test]
fn threads_and_instruction_sets_leave_no_trace() {
    let simulation = Simulation { min: Some(15.9), max: Some(16.3), ..Simulation::new(300_001, 5) };
    let one = simulate_chain(&mixed_chain(), &simulation).unwrap();
    for threads in [2, 3, 7] {
        let threads = NonZeroUsize::new(threads).unwrap();
        let many = simulate_chain(&mixed_chain(), &Simulation { threads, ..simulation }).unwrap();
        assert_eq!(one, many);
    }
    let mut levels = vec![Level::baseline()];
    #[cfg(any(target_arch = "x86", target_arch = "x86_64"))]
    {
        levels.extend(Level::new().as_sse4_2().map(Level::Sse4_2));
        levels.extend(Level::new().as_avx2().map(Level::Avx2));
    }
    for level in levels {
        assert_eq!(one, simulate_at(&mixed_chain(), &simulation, level).unwrap(), "{level:?}");
    }
    let other_seed = Simulation { seed: 6, ..simulation };
    assert_ne!(one.mean, simulate_chain(&mixed_chain(), &other_seed).unwrap().mean);
}

#[test]
fn quantiles_agree_with_sorted_draws() {
    // The same draws, sorted: one normal term is exactly what `draws` gives from unit 0.
    let mut list = draws(Spread::Normal { sd: 3.0 }, 12, 64);
    let chain = Chain {
        constant: 0.0,
        terms: vec![Term {
            factor: 1.0,
            centre: 5.0,
            spread: Spread::Normal { sd: 3.0 },
            limits: None,
        }],
    };
    let simulation = Simulation { min: Some(2.0), max: Some(9.5), ..Simulation::new(65_536, 12) };
    let outcome = simulate_chain(&chain, &simulation).unwrap();
    list.sort_by(f64::total_cmp);
    for p in [0.001, 0.025, 0.3, 0.5, 0.9, 0.975, 0.999] {
        let found = outcome.quantile(p).unwrap();
        let sorted = 5.0 + list[(p * list.len() as f64) as usize];
        let exact = 5.0 + 3.0 * Normal::standard().inverse_cdf(p);
        assert!(
            (found.value - sorted).abs() < 2.0 * found.resolution + 0.5 * found.standard_error,
            "{p}: {found:?} {sorted}"
        );
        assert!((found.value - exact).abs() < 5.0 * found.standard_error, "{p}: {found:?} {exact}");
    }
    let inside = outcome.inside.unwrap();
    assert_eq!(inside.below as usize, list.iter().filter(|x| **x < -3.0).count());
    assert_eq!(inside.above as usize, list.iter().filter(|x| **x > 4.5).count());
    assert_eq!(outcome.least, 5.0 + list[0]);
    let mean = list.iter().sum::<f64>() / list.len() as f64;
    let square = list.iter().map(|x| (x - mean).powi(2)).sum::<f64>();
    assert!((outcome.mean - 5.0 - mean).abs() < 1e-12);
    assert!((outcome.standard_deviation - (square / 65_535.0).sqrt()).abs() < 1e-12);
}

#[test]
fn every_value_lies_in_the_bin_it_is_counted_in() {
    let histogram = Histogram::new(0.37);
    let mut value = 1e-6;
    while value < 1e70 {
        for x in [value, -value] {
            let bin = histogram.bin(x);
            let (low, high) = (histogram.edge(bin), histogram.edge(bin + 1));
            let rounding = 1e-12 * x.abs();
            assert!(low <= x + rounding && x <= high + rounding, "{x}: {low} {high}");
            assert!(high - low <= (x.abs() / 16.0).max(0.370_000_1), "{x}: {low} {high}");
        }
        value *= 1.0137;
    }
    for far in [1e300, -1e300] {
        assert!(histogram.bin(far) < histogram.counts.len());
    }
}

#[test]
fn a_long_tail_does_not_spoil_the_middle() {
    // One over a normal that may come near zero: no mean, but quantiles by transformation.
    let input = [Input { centre: 1.0, spread: Spread::Normal { sd: 1.0 } }];
    let run = |threads| {
        let threads = NonZeroUsize::new(threads).unwrap();
        let simulation = Simulation { threads, ..Simulation::new(400_000, 3) };
        simulate_function(&input, &simulation, |x| 1.0 / x[0]).unwrap()
    };
    let found = run(1);
    assert_eq!(found, run(3));
    // P(1/x < 0) = P(x < 0) = Φ(−1); P(1/x < 1) = Φ(−1) + P(x > 1) = Φ(−1) + ½.
    let standard_error = (0.25_f64 / 400_000.0).sqrt();
    let negative = found.outcome.share_below(0.0);
    assert!((negative - 0.158_655).abs() < 5.0 * standard_error, "{negative}");
    let one = found.outcome.share_below(1.0);
    assert!((one - 0.658_655).abs() < 5.0 * standard_error, "{one}");
    // P(1/x > 40) = P(0 < x < 0.025) = Φ(−0.975) − Φ(−1) = 0.006_124.
    let q = found.outcome.quantile(1.0 - 0.006_124).unwrap();
    assert!((q.value - 40.0).abs() < 5.0 * q.standard_error + q.resolution, "{q:?}");
}

#[test]
fn a_function_that_fails_says_how_often() {
    let input = [Input { centre: 0.0, spread: Spread::Normal { sd: 1.0 } }];
    let found = simulate_function(&input, &Simulation::new(100_000, 3), |x| (x[0] + 3.0).sqrt());
    let Err(StackError::FunctionNotFinite { count, draws }) = found else { panic!("{found:?}") };
    // Φ(−3) = 0.00135 of the draws.
    assert_eq!(draws, 100_000);
    assert!((count as f64 - 135.0).abs() < 5.0 * 135.0_f64.sqrt(), "{count}");
    let never = simulate_function(&input, &Simulation::new(1000, 3), |_| f64::NAN);
    assert!(matches!(never, Err(StackError::FunctionNotFinite { .. })));
}

#[test]
fn drivers_of_a_straight_function_share_its_variance() {
    let input = |sd| Input { centre: 2.0, spread: Spread::Normal { sd } };
    let found =
        simulate_function(&[input(0.3), input(0.4)], &Simulation::new(200_000, 8), |x| x[0] - x[1])
            .unwrap();
    assert_eq!(found.drivers[0].input, 1);
    assert!((found.drivers[0].share - 0.64).abs() < 0.01);
    assert!((found.drivers[0].correlation + 0.8).abs() < 0.01);
    assert!((found.drivers[1].share - 0.36).abs() < 0.01);
}

#[test]
fn a_chain_without_scatter_is_a_number() {
    let chain = Chain {
        constant: 1.0,
        terms: vec![Term { factor: 2.0, centre: 3.0, spread: Spread::Fixed, limits: None }],
    };
    let outcome = simulate_chain(&chain, &Simulation::new(1000, 0)).unwrap();
    assert_eq!((outcome.mean, outcome.standard_deviation), (7.0, 0.0));
    assert_eq!(outcome.quantile(0.5).unwrap().value, 7.0);
    assert_eq!(outcome.shortest_interval(0.95).unwrap().low, 7.0);
}

#[test]
fn worst_case_and_root_sum_square() {
    let term = |factor, low, high, sd| Term {
        factor,
        centre: 0.5 * (low + high),
        spread: Spread::Normal { sd },
        limits: Some(Range { low, high }),
    };
    let chain = Chain {
        constant: -1.0,
        terms: vec![term(1.0, 9.9, 10.1, 0.03), term(-2.0, 3.8, 4.2, 0.02)],
    };
    let worst = chain.worst_case().unwrap();
    assert!((worst.range.low - (-1.0 + 9.9 - 8.4)).abs() < 1e-12);
    assert!((worst.range.high - (-1.0 + 10.1 - 7.6)).abs() < 1e-12);
    assert_eq!(worst.contributions[0].term, 1);
    assert!((worst.contributions[0].share - 0.8).abs() < 1e-12);
    let rss = chain.root_sum_square().unwrap();
    assert!((rss.mean - 1.0).abs() < 1e-12);
    assert!((rss.standard_deviation - 0.05).abs() < 1e-12);
    let (middle, half) = rss.tolerance.unwrap();
    assert!((middle - 1.0).abs() < 1e-12);
    assert!((half - (0.01_f64 + 0.16).sqrt()).abs() < 1e-12);
    let open = Chain {
        constant: 0.0,
        terms: vec![Term {
            factor: 1.0,
            centre: 0.0,
            spread: Spread::Normal { sd: 1.0 },
            limits: None,
        }],
    };
    assert_eq!(open.worst_case(), Err(StackError::NoLimits { term: 0 }));
}

#[test]
fn refuses_nonsense() {
    let chain = |spread| Chain {
        constant: 0.0,
        terms: vec![Term { factor: 1.0, centre: 0.0, spread, limits: None }],
    };
    let run = |spread| simulate_chain(&chain(spread), &Simulation::new(1000, 0));
    for spread in [
        Spread::Normal { sd: -1.0 },
        Spread::Normal { sd: f64::NAN },
        Spread::Rectangular { half_width: f64::INFINITY },
        Spread::Student { scale: 1.0, degrees_of_freedom: 2.0 },
        Spread::TruncatedNormal { sd: 1.0, low: 1.0, high: -1.0 },
        Spread::TruncatedNormal { sd: 1.0, low: 40.0, high: 50.0 },
        Spread::TruncatedNormal { sd: 0.0, low: -1.0, high: 1.0 },
        Spread::InexactRectangular { half_width: 1.0, inexact_by: 2.0 },
    ] {
        assert!(matches!(run(spread), Err(StackError::Term { term: 0, .. })), "{spread:?}");
    }
    let fine = chain(Spread::Normal { sd: 1.0 });
    assert!(simulate_chain(&fine, &Simulation::new(10, 0)).is_err());
    let crossed = Simulation { min: Some(1.0), max: Some(0.0), ..Simulation::new(1000, 0) };
    assert!(matches!(simulate_chain(&fine, &crossed), Err(StackError::Crossed { .. })));
    let none = Chain { constant: 0.0, terms: Vec::new() };
    assert_eq!(simulate_chain(&none, &Simulation::new(1000, 0)), Err(StackError::Empty));
    let outcome = simulate_chain(&fine, &Simulation::new(1000, 0)).unwrap();
    assert!(outcome.quantile(0.001).is_err());
    assert!(outcome.quantile(f64::NAN).is_err());
}
