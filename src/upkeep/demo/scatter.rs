//! A person's scatter: small, repeatable, never the same twice running; and how long things take.

/// A small linear congruential generator (the multiplier and increment of Knuth's MMIX), so that the demonstration shop
/// is laid out the same each time. Nothing else may rest on it.
pub(super) struct Scatter(u64);

impl Scatter {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// Even from 0 up to 1.
    fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        // The upper 32 bits, which have the longer periods.
        (self.0 >> 32) as f64 / 4_294_967_296.0
    }

    /// Between −1 and 1, more often near 0: by how much a careful hand reads off, in what it can just feel.
    pub fn wobble(&mut self) -> f64 {
        self.even() - self.even()
    }

    /// The same, as pictures need it.
    #[expect(clippy::cast_possible_truncation, reason = "a picture needs no more digits")]
    pub fn slip(&mut self) -> f32 {
        self.wobble() as f32
    }

    /// A number of seconds from `least` on, below `most`.
    pub fn seconds(&mut self, least: f64, most: f64) -> f64 {
        (least + self.even() * (most - least)).floor()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_scatters_the_same_around_nothing() {
        let (mut one, mut other) = (Scatter::new(7), Scatter::new(7));
        let drawn: Vec<f64> = (0..1000).map(|_| one.wobble()).collect();
        assert!(drawn.iter().all(|&wobble| (other.wobble() - wobble).abs() < f64::EPSILON && wobble.abs() < 1.0));
        assert!(drawn.iter().sum::<f64>().abs() < 50.0, "leans to one side");
        assert!(drawn.windows(2).all(|pair| (pair[0] - pair[1]).abs() > 0.0));
    }
}
