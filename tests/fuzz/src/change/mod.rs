//! Changes inputs in ways that their readers understand, beside the single bytes that libFuzzer changes by itself: most
//! changes of bytes end at the first comma that no longer stands where it should.

mod character;
mod dice;
mod digit;
mod number;

use libfuzzer_sys::fuzzer_mutate;

use dice::Dice;

/// One change of a file: mostly of a number in it. Returns the new size.
pub fn change_file(data: &mut [u8], size: usize, max_size: usize, seed: u32) -> usize {
    let mut dice = Dice::new(seed);
    let changed = if dice.throw(4) > 0 { number::change(data, size, max_size, &mut dice) } else { None };
    changed.unwrap_or_else(|| fuzzer_mutate(data, size, max_size))
}

/// One change of bytes that are no text. Returns the new size.
pub fn change_bytes(data: &mut [u8], size: usize, max_size: usize, _: u32) -> usize {
    fuzzer_mutate(data, size, max_size)
}

/// One change of what a person types: mostly of one digit or character. Returns the new size.
pub fn change_typed(data: &mut [u8], size: usize, max_size: usize, seed: u32) -> usize {
    let mut dice = Dice::new(seed);
    let changed = match dice.throw(4) {
        0 => None,
        1 => character::change(data, size, max_size, &mut dice),
        _ => digit::change(data, size, &mut dice),
    };
    changed.unwrap_or_else(|| fuzzer_mutate(data, size, max_size))
}
