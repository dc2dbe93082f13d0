//! Draws of one quantity, added to a block of running sums.

use fearless_simd::{f64x8, prelude::*};
use statrs::distribution::{ContinuousCDF, Normal};

use super::block::{BLOCK, Block};
use super::kernels::{direction, exp_less_one, minus_two_ln, one_to_two, open_unit};
use super::normal_quantile::normal_quantile;
use super::source::{LANES, Source};
use super::spread::Spread;

/// A distribution about zero, scaled by a factor, made ready for drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Sampler {
    Fixed,
    Normal { sd: f64 },
    Rectangular { half_width: f64 },
    Triangular { half_width: f64 },
    UShaped { half_width: f64 },
    InexactRectangular { half_width: f64, inexact_by: f64 },
    Student { scale: f64, degrees_of_freedom: f64 },
    Truncated { scale: f64, from: f64, width: f64, offset: f64 },
}

impl Sampler {
    /// A checked spread, less its mean, times a factor.
    pub(super) fn new(spread: &Spread, factor: f64, mean_offset: f64) -> Self {
        match *spread {
            Spread::Fixed => Self::Fixed,
            Spread::Normal { sd } => Self::Normal { sd: factor * sd },
            Spread::Rectangular { half_width } => {
                Self::Rectangular { half_width: factor * half_width }
            }
            Spread::Triangular { half_width } => {
                Self::Triangular { half_width: factor * half_width }
            }
            Spread::UShaped { half_width } => Self::UShaped { half_width: factor * half_width },
            Spread::InexactRectangular { half_width, inexact_by } => Self::InexactRectangular {
                half_width: factor * half_width,
                inexact_by: factor * inexact_by,
            },
            Spread::Student { scale, degrees_of_freedom } => {
                Self::Student { scale: factor * scale, degrees_of_freedom }
            }
            Spread::TruncatedNormal { sd, low, high } => {
                let (low, high) = (low / sd, high / sd);
                // An interval above the middle is mirrored, so that its small probabilities keep
                // their digits.
                let mirrored = low + high > 0.0;
                let (from, to) = if mirrored { (-high, -low) } else { (low, high) };
                let below = |x: f64| Normal::standard().cdf(x);
                let sign = if mirrored { -1.0 } else { 1.0 };
                Self::Truncated {
                    scale: sign * factor * sd,
                    from: below(from),
                    width: below(to) - below(from),
                    offset: factor * mean_offset,
                }
            }
        }
    }
}

/// Adds one draw to every sum of the block.
#[inline(always)]
pub(super) fn add_draws<S: Simd>(source: &mut Source<S>, sampler: &Sampler, block: &mut Block) {
    match *sampler {
        Sampler::Fixed => {}
        Sampler::Normal { sd } => add_normal(source, sd, block),
        Sampler::Rectangular { half_width } => {
            // Numbers from 1 to 2: 2a(u − 1.5) is ±a.
            each(source, block, |s| one_to_two(s.next()) * (2.0 * half_width) - 3.0 * half_width);
        }
        Sampler::Triangular { half_width } => {
            each(source, block, |s| (one_to_two(s.next()) - one_to_two(s.next())) * half_width);
        }
        Sampler::UShaped { half_width } => {
            each(source, block, |s| direction(s.next()).0 * half_width);
        }
        Sampler::InexactRectangular { half_width, inexact_by } => {
            each(source, block, |s| {
                let width =
                    one_to_two(s.next()) * (2.0 * inexact_by) + (half_width - 3.0 * inexact_by);
                (one_to_two(s.next()) * 2.0 - 3.0) * width
            });
        }
        Sampler::Student { scale, degrees_of_freedom } => {
            // Polar method: ν(u^(−2/ν) − 1) is the square of the radius of a pair; one of the two
            // coordinates is used, because they are not independent. Bailey, Mathematics of
            // Computation 62 (1994) 779-781.
            each(source, block, |s| {
                let radius = minus_two_ln(open_unit(s.next())) * (1.0 / degrees_of_freedom);
                let radius = (exp_less_one(radius) * degrees_of_freedom).sqrt();
                radius * direction(s.next()).0 * scale
            });
        }
        Sampler::Truncated { scale, from, width, offset } => {
            each(source, block, |s| {
                let mut p = [0.0; LANES];
                (open_unit(s.next()) * width + from).store_slice(&mut p);
                let values = p.map(normal_quantile);
                f64x8::from_slice(s.simd, &values) * scale - offset
            });
        }
    }
}

#[inline(always)]
fn each<S: Simd>(
    source: &mut Source<S>,
    block: &mut Block,
    draw: impl Fn(&mut Source<S>) -> f64x8<S>,
) {
    for sums in block.chunks_exact_mut(LANES) {
        let drawn = draw(source);
        (f64x8::from_slice(source.simd, sums) + drawn).store_slice(sums);
    }
}

/// Normals in pairs, by direction and distance: `√(−2 ln u)` times sine and cosine of an even
/// direction. Box & Muller, Annals of Mathematical Statistics 29 (1958) 610-611. With 52 bits the
/// farthest is 8.57 standard deviations, which is passed once in 10¹⁷ draws.
#[inline(always)]
fn add_normal<S: Simd>(source: &mut Source<S>, sd: f64, block: &mut Block) {
    const { assert!(BLOCK.is_multiple_of(2 * LANES)) };
    for sums in block.chunks_exact_mut(2 * LANES) {
        let distance = minus_two_ln(open_unit(source.next())).sqrt() * sd;
        let (sine, cosine) = direction(source.next());
        let (first, second) = sums.split_at_mut(LANES);
        (f64x8::from_slice(source.simd, first) + distance * sine).store_slice(first);
        (f64x8::from_slice(source.simd, second) + distance * cosine).store_slice(second);
    }
}
