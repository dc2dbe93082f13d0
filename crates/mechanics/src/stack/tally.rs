//! What is kept of the draws: moments, extremes, counts against limits and a histogram.

use fearless_simd::{f64x8, prelude::*, u64x8};

use super::block::Block;
use super::source::LANES;

/// Bins of the histogram.
pub(super) const BINS: usize = 1 << 15;
const HALF: i64 = (BINS / 2) as i64;

/// A histogram on a grid whose bins double in width, by merging in pairs, whenever a draw falls
/// outside: the grid starts from a fixed edge, so the same draws give the same histogram in
/// whatever order and in however many parts they come.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Histogram {
    /// Width of a bin.
    pub(super) width: f64,
    /// Bin k − BINS/2 counts draws from `k · width` up to the next edge, k from −BINS/2.
    pub(super) counts: Vec<u64>,
}

impl Histogram {
    pub(super) fn new(width: f64) -> Self {
        Self { width, counts: vec![0; BINS] }
    }

    /// Doubles until departures from `low` to `high` fit.
    pub(super) fn cover(&mut self, low: f64, high: f64) {
        let fits = |w: f64| low >= -(HALF as f64) * w && high < HALF as f64 * w;
        while !fits(self.width) {
            let mut merged = vec![0; BINS];
            for (bin, count) in self.counts.iter().enumerate() {
                let k = (bin as i64 - HALF).div_euclid(2);
                merged[(k + HALF) as usize] += count;
            }
            self.counts = merged;
            self.width *= 2.0;
        }
    }

    pub(super) fn merge(&mut self, mut other: Self) {
        let full = |h: &Self| HALF as f64 * h.width;
        let reach = full(self).max(full(&other));
        let inside = reach * (1.0 - 1e-9);
        self.cover(-inside, inside);
        other.cover(-inside, inside);
        for (a, b) in self.counts.iter_mut().zip(&other.counts) {
            *a += b;
        }
    }
}

/// Moments of a group of draws about the reference value, and what else is summed in draw order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moments {
    pub(super) draws: u64,
    /// Mean departure.
    pub(super) mean: f64,
    /// Sum of squares about that mean.
    pub(super) square: f64,
    pub(super) least: f64,
    pub(super) greatest: f64,
    pub(super) below: u64,
    pub(super) above: u64,
}

impl Moments {
    /// Adds a later group. Source: Chan, Golub & LeVeque, American Statistician 37 (1983) 242-247.
    pub(super) fn merge(self, other: Self) -> Self {
        if self.draws == 0 {
            return other;
        }
        if other.draws == 0 {
            return self;
        }
        let (a, b) = (self.draws as f64, other.draws as f64);
        let apart = other.mean - self.mean;
        Self {
            draws: self.draws + other.draws,
            mean: self.mean + apart * (b / (a + b)),
            square: self.square + other.square + apart * apart * (a * b / (a + b)),
            least: self.least.min(other.least),
            greatest: self.greatest.max(other.greatest),
            below: self.below + other.below,
            above: self.above + other.above,
        }
    }
}

/// Sums over one unit of work, kept lane by lane.
pub(super) struct UnitSums<S: Simd> {
    draws: u64,
    first: f64x8<S>,
    second: f64x8<S>,
    least: f64x8<S>,
    greatest: f64x8<S>,
    below: u64x8<S>,
    above: u64x8<S>,
}

/// Limits as departures from the reference value; infinite where open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Departures {
    pub(super) min: f64,
    pub(super) max: f64,
}

impl<S: Simd> UnitSums<S> {
    #[inline(always)]
    pub(super) fn new(simd: S) -> Self {
        Self {
            draws: 0,
            first: f64x8::splat(simd, 0.0),
            second: f64x8::splat(simd, 0.0),
            least: f64x8::splat(simd, f64::INFINITY),
            greatest: f64x8::splat(simd, f64::NEG_INFINITY),
            below: u64x8::splat(simd, 0),
            above: u64x8::splat(simd, 0),
        }
    }

    /// Tallies the first `used` departures of a block, all finite.
    #[inline(always)]
    pub(super) fn tally(
        &mut self,
        simd: S,
        block: &Block,
        used: usize,
        limits: Departures,
        histogram: &mut Histogram,
    ) {
        let whole = used / LANES * LANES;
        let spare = used - whole;
        let (mut low, mut high) = (self.least, self.greatest);
        let mut last = [0.0; LANES];
        if spare > 0 {
            // The last, partial group is filled up with its own first value for the extremes; sums
            // and counts leave the filling out.
            last = [block[whole]; LANES];
            last[..spare].copy_from_slice(&block[whole..used]);
        }
        let one = u64x8::splat(simd, 1);
        let none = u64x8::splat(simd, 0);
        for values in block[..whole].chunks_exact(LANES) {
            let v = f64x8::from_slice(simd, values);
            self.first = self.first + v;
            self.second = self.second + v * v;
            low = v.simd_lt(low).select(v, low);
            high = v.simd_gt(high).select(v, high);
            self.below = self.below + v.simd_lt(limits.min).select(one, none);
            self.above = self.above + v.simd_gt(limits.max).select(one, none);
        }
        if spare > 0 {
            let v = f64x8::from_slice(simd, &last);
            low = v.simd_lt(low).select(v, low);
            high = v.simd_gt(high).select(v, high);
            let mut counted = [0_u64; LANES];
            counted[..spare].fill(1);
            let counted = u64x8::from_slice(simd, &counted);
            self.below = self.below + v.simd_lt(limits.min).select(counted, none);
            self.above = self.above + v.simd_gt(limits.max).select(counted, none);
            last[spare..].fill(0.0);
            let v = f64x8::from_slice(simd, &last);
            self.first = self.first + v;
            self.second = self.second + v * v;
        }
        (self.least, self.greatest) = (low, high);
        self.draws += used as u64;
        let (mut lows, mut highs) = ([0.0; LANES], [0.0; LANES]);
        low.store_slice(&mut lows);
        high.store_slice(&mut highs);
        histogram.cover(
            lows.iter().copied().fold(f64::INFINITY, f64::min),
            highs.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        );
        let inverse = 1.0 / histogram.width;
        // A power of two times the first width: its reciprocal times a departure rounds alike at
        // every doubling, so merged bins hold exactly the draws they would have been given.
        const { assert!(BINS == 1 << 15) };
        for values in block[..whole].chunks_exact(LANES) {
            let bins: u64x8<S> =
                ((f64x8::from_slice(simd, values) * inverse).floor() + MAGIC_ROUND).bitcast();
            let mut places = [0; LANES];
            bins.store_slice(&mut places);
            for place in places {
                // The low bits hold the bin from −BINS/2; the mask makes that a valid index.
                let index = (place as usize).wrapping_add(BINS / 2) & (BINS - 1);
                histogram.counts[index] += 1;
            }
        }
        for value in &block[whole..used] {
            let place = ((value * inverse).floor() + MAGIC_ROUND).to_bits();
            let index = (place as usize).wrapping_add(BINS / 2) & (BINS - 1);
            histogram.counts[index] += 1;
        }
    }

    #[inline(always)]
    pub(super) fn finish(self) -> Moments {
        let doubles = |v: f64x8<S>| {
            let mut lanes = [0.0; LANES];
            v.store_slice(&mut lanes);
            lanes
        };
        let counts = |v: u64x8<S>| {
            let mut lanes = [0; LANES];
            v.store_slice(&mut lanes);
            lanes.iter().sum::<u64>()
        };
        let n = self.draws as f64;
        let first: f64 = doubles(self.first).iter().sum();
        let second: f64 = doubles(self.second).iter().sum();
        let mean = first / n;
        Moments {
            draws: self.draws,
            mean,
            // The reference value is close to the mean, so little is taken away here.
            square: (second - first * mean).max(0.0),
            least: doubles(self.least).iter().copied().fold(f64::INFINITY, f64::min),
            greatest: doubles(self.greatest).iter().copied().fold(f64::NEG_INFINITY, f64::max),
            below: counts(self.below),
            above: counts(self.above),
        }
    }
}

/// 1.5 · 2⁵²: added to a whole number, leaves it in the low bits.
const MAGIC_ROUND: f64 = 6_755_399_441_055_744.0;
