//! SplitMix64 (Steele, Lea and Flood 2014): the same stream on every machine and in every version.

pub(super) struct Random(u64);

impl Random {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Above 0, at most 1.
    pub(super) fn unit(&mut self) -> f64 {
        ((self.next() >> 11) + 1) as f64 / (1_u64 << 53) as f64
    }

    /// A number below `n`; 0 when `n` is 0.
    pub(super) fn below(&mut self, n: usize) -> usize {
        if n == 0 { 0 } else { ((u128::from(self.next()) * n as u128) >> 64) as usize }
    }
}

#[cfg(test)]
mod tests {
    /// First outputs for seed 0, from the reference C code (from memory).
    #[test]
    fn reference_stream() {
        let mut r = super::Random::new(0);
        assert_eq!(r.next(), 0xE220_A839_7B1D_CDAF);
        assert_eq!(r.next(), 0x6E78_9E6A_A1B9_65F4);
    }
}
