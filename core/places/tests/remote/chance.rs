//! Numbers and bytes without an order, the same on every machine.

/// The next of a run of numbers without an order (SplitMix64).
pub fn next(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    z ^ (z >> 31)
}

/// Bytes without an order.
pub fn bytes(seed: u64, many: usize) -> Vec<u8> {
    let mut state = seed;
    (0..many.div_ceil(8)).flat_map(|_| next(&mut state).to_be_bytes()).take(many).collect()
}
