//! Chance from a fixed seed, the same on every machine.

/// Normal deviates from a fixed seed: splitmix64 (Steele, Lea and Flood 2014) and the Box–Muller transform.
pub struct Deviates(pub u64);

impl Deviates {
    /// Even from 0 up to 1.
    pub fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Of mean 0 and standard deviation 1.
    pub fn normal(&mut self) -> f64 {
        let (a, b) = (1.0 - self.uniform(), self.uniform());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }

    /// Even between two ends.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + self.uniform() * (high - low)
    }

    pub fn one_of<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())]
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small count")]
    pub fn below(&mut self, n: usize) -> usize {
        (self.uniform() * n as f64) as usize
    }
}
