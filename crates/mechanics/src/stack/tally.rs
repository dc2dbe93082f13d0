//! What is kept of the draws: moments, extremes, counts against limits and a histogram.

use fearless_simd::{f64x8, prelude::*, u64x8};

use super::block::Block;
use super::source::LANES;

/// Bins of the even middle of the histogram.
pub(super) const BINS: usize = 1 << 15;
/// Bins of each tail.
pub(super) const TAIL: usize = 1 << 13;
/// Bins of a tail to a doubling of the distance: 2⁵.
const TAIL_BITS: u32 = 5;
const HALF: f64 = (BINS / 2) as f64;
const ONE_BITS: u64 = 0x3ff0_0000_0000_0000;

/// A histogram with an even middle and tails whose bins widen with the distance.
///
/// The grid is fixed from the start, so the same draws give the same histogram in whatever order
/// and in however many parts they come. The middle reaches `BINS/2` bins either way; beyond it,
/// each doubling of the distance has 32 bins, up to 2²⁵⁶ times, past which everything falls in the
/// last bin.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Histogram {
    /// Width of a bin of the middle.
    pub(super) width: f64,
    /// Counts: lower tail from the farthest in, middle, upper tail outwards.
    pub(super) counts: Vec<u64>,
}

impl Histogram {
    pub(super) fn new(width: f64) -> Self {
        Self { width, counts: vec![0; BINS + 2 * TAIL] }
    }

    /// Lower edge of bin `index`; for the number of bins, the upper edge of the last.
    pub(super) fn edge(&self, index: usize) -> f64 {
        let far = |steps: usize| {
            let times = f64::from_bits(ONE_BITS + ((steps as u64) << (52 - TAIL_BITS)));
            HALF * self.width * times
        };
        match index {
            i if i < TAIL => -far(TAIL - i),
            i if i <= TAIL + BINS => (i as f64 - TAIL as f64 - HALF) * self.width,
            i => far(i - TAIL - BINS),
        }
    }

    /// The bin of a departure.
    pub(super) fn bin(&self, value: f64) -> usize {
        let place = (value * (1.0 / self.width)).floor();
        if (-HALF..HALF).contains(&place) {
            return (place + HALF) as usize + TAIL;
        }
        let times = (value.abs() / (HALF * self.width)).max(1.0);
        let steps = ((times.to_bits() - ONE_BITS) >> (52 - TAIL_BITS)) as usize;
        let steps = steps.min(TAIL - 1);
        if value < 0.0 { TAIL - 1 - steps } else { TAIL + BINS + steps }
    }

    pub(super) fn merge(&mut self, other: &Self) {
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
            self.first += v;
            self.second += v * v;
            low = v.simd_lt(low).select(v, low);
            high = v.simd_gt(high).select(v, high);
            self.below += v.simd_lt(limits.min).select(one, none);
            self.above += v.simd_gt(limits.max).select(one, none);
        }
        if spare > 0 {
            let v = f64x8::from_slice(simd, &last);
            low = v.simd_lt(low).select(v, low);
            high = v.simd_gt(high).select(v, high);
            let mut counted = [0_u64; LANES];
            counted[..spare].fill(1);
            let counted = u64x8::from_slice(simd, &counted);
            self.below += v.simd_lt(limits.min).select(counted, none);
            self.above += v.simd_gt(limits.max).select(counted, none);
            last[spare..].fill(0.0);
            let v = f64x8::from_slice(simd, &last);
            self.first += v;
            self.second += v * v;
        }
        (self.least, self.greatest) = (low, high);
        self.draws += used as u64;
        let inverse = 1.0 / histogram.width;
        for values in block[..whole].chunks_exact(LANES) {
            let v = f64x8::from_slice(simd, values);
            let place = (v * inverse).floor();
            if (place.simd_ge(-HALF) & place.simd_lt(HALF)).all_true() {
                // A whole number added to 1.5 · 2⁵² stands in the low bits.
                let bins: u64x8<S> = (place + (HALF + TAIL as f64 + MAGIC_ROUND)).bitcast();
                let mut places = [0; LANES];
                bins.store_slice(&mut places);
                for place in places {
                    // The mask says to the compiler what the comparison has made sure of.
                    histogram.counts[place as usize & (2 * BINS - 1)] += 1;
                }
            } else {
                for value in values {
                    let bin = histogram.bin(*value);
                    histogram.counts[bin] += 1;
                }
            }
        }
        for value in &block[whole..used] {
            let bin = histogram.bin(*value);
            histogram.counts[bin] += 1;
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
