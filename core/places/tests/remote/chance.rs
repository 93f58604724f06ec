//! Bytes without an order, the same on every machine.

use crate::dice::Dice;

/// So many bytes that follow from a seed.
pub fn bytes(seed: u64, many: usize) -> Vec<u8> {
    let mut dice = Dice::new(seed);
    (0..many.div_ceil(8)).flat_map(|_| dice.next().to_be_bytes()).take(many).collect()
}
