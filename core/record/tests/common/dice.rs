//! Dice: the same throws for the same seed (splitmix64, Steele, Lea and Flood 2014).

/// A seeded source of throws.
#[derive(Clone, Debug)]
pub struct Dice(pub u64);

impl Dice {
    /// The next throw.
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number below n.
    pub fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.next() % n as u64).expect("below a usize")
    }

    /// One in n.
    pub fn one_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }

    /// One of several.
    pub fn pick<T: Clone>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())].clone()
    }

    /// Perhaps a value.
    pub fn maybe<T>(&mut self, make: impl FnOnce(&mut Self) -> T) -> Option<T> {
        if self.one_in(2) { Some(make(self)) } else { None }
    }

    /// A list of up to `most` things.
    pub fn list<T>(&mut self, most: usize, mut make: impl FnMut(&mut Self, usize) -> T) -> Vec<T> {
        (0..self.below(most + 1)).map(|n| make(self, n)).collect()
    }

    /// Bytes.
    pub fn bytes<const N: usize>(&mut self) -> [u8; N] {
        std::array::from_fn(|_| self.next().to_le_bytes()[0])
    }
}
