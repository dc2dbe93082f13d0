//! Eight random streams side by side.

use fearless_simd::{prelude::*, u64x8};

/// Streams side by side; fixed, so that results do not depend on the width of the machine.
pub(super) const LANES: usize = 8;

/// Eight independent xoshiro256++ streams, one a lane.
///
/// Source: Blackman & Vigna, Scrambled linear pseudorandom number generators, ACM Transactions on
/// Mathematical Software 47 (2021) article 36.
pub(super) struct Source<S: Simd> {
    pub(super) simd: S,
    words: [u64x8<S>; 4],
}

impl<S: Simd> Source<S> {
    /// The streams of one unit of work: every pair of seed and unit has its own.
    #[inline(always)]
    pub(super) fn new(simd: S, seed: u64, unit: u64) -> Self {
        let start = states(seed, unit);
        Self { simd, words: start.map(|word| u64x8::from_slice(simd, &word)) }
    }

    /// Sixty-four random bits in every lane.
    #[inline(always)]
    pub(super) fn next(&mut self) -> u64x8<S> {
        let [mut s0, mut s1, mut s2, mut s3] = self.words;
        let sum = s0 + s3;
        let result = ((sum << 23) | (sum >> 41)) + s0;
        let t = s1 << 17;
        s2 ^= s0;
        s3 ^= s1;
        s1 ^= s2;
        s0 ^= s3;
        s2 ^= t;
        s3 = (s3 << 45) | (s3 >> 19);
        self.words = [s0, s1, s2, s3];
        result
    }
}

/// Starting states, word by lane.
///
/// The generator's authors ask for states filled by another generator; SplitMix64 (Steele, Lea &
/// Flood, OOPSLA 2014) from a start mixed of seed and unit. Two streams of 2⁴⁰ numbers out of a
/// million overlap with a chance of about 2⁴⁰ · 10¹² / 2²⁵⁶: never.
pub(super) fn states(seed: u64, unit: u64) -> [[u64; LANES]; 4] {
    let mut state = mixed(seed.wrapping_add(0x9E37_79B9_7F4A_7C15) ^ mixed(unit));
    let mut words = [[0; LANES]; 4];
    for lane in 0..LANES {
        for word in &mut words {
            state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
            word[lane] = mixed(state);
        }
    }
    words
}

fn mixed(value: u64) -> u64 {
    let z = (value ^ (value >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}
