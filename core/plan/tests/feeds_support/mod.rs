//! Random small rails, their mirror images, and a search that tries everything.
// Each test uses a part of this; indexes say more than iterators where stretches are tried.
#![allow(dead_code, clippy::needless_range_loop)]

pub mod brute;
pub mod groups;
pub mod long;
pub mod rails;
pub mod together;

/// Numbers that look random and are the same on every machine (xorshift64*, Vigna 2016; constants from memory).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    pub fn next(&mut self) -> u64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        self.0.wrapping_mul(0x2545_F491_4F6C_DD1D)
    }

    /// From `low` to `high`, both included.
    pub fn between(&mut self, low: i64, high: i64) -> i64 {
        low + ((self.next() >> 16) % (high - low + 1) as u64) as i64
    }

    /// True this many times in a hundred.
    pub fn chance(&mut self, per_cent: i64) -> bool {
        self.between(1, 100) <= per_cent
    }

    pub fn pick<T: Copy>(&mut self, from: &[T]) -> T {
        from[self.between(0, from.len() as i64 - 1) as usize]
    }
}
