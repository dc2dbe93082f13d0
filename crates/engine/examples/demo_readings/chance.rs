//! Chance that comes out the same on every machine: a named generator, seeded by words.

/// SplitMix64 (Steele, Lea & Flood, OOPSLA 2014), seeded by a number and a word, so that a feature
/// draws the same figures whatever other features there are.
#[derive(Clone, Debug)]
pub(crate) struct Chance(u64);

impl Chance {
    /// From a seed and a word.
    pub(crate) fn of(seed: u64, word: &str) -> Chance {
        // FNV-1a, 64 bit, over the word.
        let hash = word.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |h, b| {
            (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3)
        });
        let mut chance = Chance(seed ^ hash);
        // The first output of close seeds is close in its low bits only after one round.
        chance.next();
        chance
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Even between two ends.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        let unit = (self.next() >> 11) as f64 / (1_u64 << 53) as f64;
        low + (high - low) * unit
    }

    /// Normal with a standard deviation, by Box and Muller.
    pub(crate) fn normal(&mut self, deviation: f64) -> f64 {
        let radius = (-2.0 * (1.0 - self.between(0.0, 1.0)).ln()).sqrt();
        deviation * radius * (std::f64::consts::TAU * self.between(0.0, 1.0)).cos()
    }

    /// A whole number from 0 up to, not including, `n`.
    pub(crate) fn below(&mut self, n: usize) -> usize {
        (self.next() % n.max(1) as u64) as usize
    }

    /// True with a probability.
    pub(crate) fn happens(&mut self, probability: f64) -> bool {
        self.between(0.0, 1.0) < probability
    }
}
