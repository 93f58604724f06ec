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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_character_comes_goes_or_changes_within_the_room() {
        let mut sizes = std::collections::BTreeSet::new();
        for seed in 0..2000 {
            let mut data = *b"12 mm\0";
            let Some(size) = change(&mut data, 5, 6, &mut Dice::new(seed)) else { continue };
            sizes.insert(size);
            let text = &data[..size];
            // What is left at both ends of the change is what was there.
            let same = |a: &[u8], b: &[u8]| a.iter().zip(b).take_while(|(a, b)| a == b).count();
            let reversed = |bytes: &[u8]| bytes.iter().rev().copied().collect::<Vec<u8>>();
            let (front, back) = (same(text, b"12 mm"), same(&reversed(text), &reversed(b"12 mm")));
            assert!(front + back >= 4, "{text:?}");
        }
        assert_eq!(sizes.into_iter().collect::<Vec<_>>(), [4, 5, 6]);
    }

    #[test]
    fn the_last_character_is_not_taken_and_no_room_is_overstepped() {
        for seed in 0..500 {
            let size = change(&mut *b"1".to_vec(), 1, 1, &mut Dice::new(seed));
            assert!(size.is_none_or(|size| size == 1), "{size:?}");
        }
    }
}
