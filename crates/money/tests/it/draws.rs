//! Pseudo-random draws for simulations: a linear generator with a fixed seed, and normals by the polar form.

/// A 64-bit linear congruential generator (Knuth's MMIX constants), of which the high bits are used.
pub(crate) struct Draws(u64);

impl Draws {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// Uniform in 0..1.
    pub(crate) fn uniform(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        f64::from((self.0 >> 33) as u32) / f64::from(1_u32 << 31)
    }

    /// Uniform in `low..=high`.
    pub(crate) fn whole(&mut self, low: i64, high: i64) -> i64 {
        low + (self.uniform() * (high - low + 1) as f64).floor() as i64
    }

    /// Standard normal, by the polar form.
    pub(crate) fn normal(&mut self) -> f64 {
        loop {
            let (x, y) = (2.0 * self.uniform() - 1.0, 2.0 * self.uniform() - 1.0);
            let square = x * x + y * y;
            if square > 0.0 && square < 1.0 {
                return x * (-2.0 * square.ln() / square).sqrt();
            }
        }
    }
}
