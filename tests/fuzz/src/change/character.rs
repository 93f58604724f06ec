//! Changes one character of what a person types.

use super::dice::Dice;

/// Characters that lengths and amounts are made of.
const TYPED: &[u8] = b"0123456789.,-/'\" mckftin";

/// Puts a character in, over or out; `None` where there is no room or nothing to change.
pub fn change(data: &mut [u8], size: usize, max_size: usize, dice: &mut Dice) -> Option<usize> {
    let character = TYPED[dice.throw(TYPED.len())];
    // Signs stand at the start and units at the end, so these are tried more often.
    let at = match dice.throw(4) {
        0 => 0,
        1 => size,
        _ => dice.throw(size + 1),
    };
    match dice.throw(3) {
        0 if size < max_size => {
            data.copy_within(at..size, at + 1);
            data[at] = character;
            Some(size + 1)
        }
        1 if at < size => {
            data[at] = character;
            Some(size)
        }
        2 if at < size && size > 1 => {
            data.copy_within(at + 1..size, at);
            Some(size - 1)
        }
        _ => None,
    }
}
