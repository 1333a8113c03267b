//! Chance, the same for a seed on every machine.

/// A small fast generator (xorshift with a multiplied output); not for secrets.
#[derive(Debug, Clone)]
pub(crate) struct Chance(u64);

impl Chance {
    /// Two seeds that differ give unrelated sequences.
    pub(crate) fn new(seed: u64) -> Self {
        let mut mixed = seed.wrapping_add(0x9E37_79B9_7F4A_7C15);
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        Self((mixed ^ (mixed >> 31)) | 1)
    }

    pub(crate) fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// Uniform in `0..n`; 0 for `n` = 0.
    pub(crate) fn below(&mut self, n: usize) -> usize {
        let wide = u128::from(self.next()) * (n as u128);
        usize::try_from(wide >> 64).unwrap_or(0)
    }

    /// Uniform in `0.0..1.0`.
    pub(crate) fn part(&mut self) -> f64 {
        // 53 bits fill a double's fraction exactly.
        let bits = u32::try_from(self.next() >> 32).unwrap_or(0);
        f64::from(bits) / 4_294_967_296.0
    }

    /// True once in `n` on average.
    pub(crate) fn once_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }
}
