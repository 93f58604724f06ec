//! Chance that follows from a seed.

/// The dice (splitmix64, by Steele, Lea and Flood, 2014).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x2545_f491_4f6c_dd1d)
    }

    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below this.
    pub fn below(&mut self, end: usize) -> usize {
        if end == 0 { 0 } else { (self.next() % end as u64) as usize }
    }

    /// Whether something with a chance of so many in a thousand happens.
    pub fn chance(&mut self, of_thousand: u64) -> bool {
        self.next() % 1000 < of_thousand
    }

    pub fn bytes<const N: usize>(&mut self) -> [u8; N] {
        std::array::from_fn(|_| self.next() as u8)
    }

    pub fn pick<'a, T>(&mut self, all: &'a [T]) -> Option<&'a T> {
        let at = self.below(all.len());
        all.get(at)
    }
}
