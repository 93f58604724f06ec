//! Dice of our own, thrown from the number that libFuzzer gives for each change: the same seed, the same search.

/// A linear congruential generator (Knuth's constants for MMIX).
pub struct Dice(u64);

impl Dice {
    /// Dice that fall the same way for the same seed.
    pub fn new(seed: u32) -> Self {
        Self(u64::from(seed))
    }

    /// A number from 0 to one less than `sides`.
    pub fn throw(&mut self, sides: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        // The high bits are the good ones.
        (self.0 >> 33) as usize % sides
    }
}
