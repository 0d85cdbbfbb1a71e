//! Random numbers for tests: the same on every machine for the same seed.

/// SplitMix64 (Steele, Lea, Flood, OOPSLA 2014, figure 17): one 64-bit state, every output well mixed.
#[derive(Debug, Clone)]
pub(crate) struct Random(u64);

impl Random {
    /// From words, so that one experiment's numbers do not hang on what stands before it (FNV-1a for the seed).
    pub(crate) fn named(words: &[&str]) -> Self {
        let bytes = words.iter().flat_map(|word| word.bytes().chain([b' ']));
        Self(bytes.fold(0xCBF2_9CE4_8422_2325, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01B3)
        }))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// Anywhere from 0 to 1.
    pub(crate) fn part(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Anywhere within ± `half`.
    pub(crate) fn within(&mut self, half: f64) -> f64 {
        half * (2.0 * self.part() - 1.0)
    }
}
