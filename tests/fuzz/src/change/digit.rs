//! Changes one digit of what a person types: most of it is digits.

use super::dice::Dice;

/// Puts another digit over one that is there; `None` where there is none.
pub fn change(data: &mut [u8], size: usize, dice: &mut Dice) -> Option<usize> {
    let digits: Vec<usize> = (0..size).filter(|&at| data[at].is_ascii_digit()).collect();
    if digits.is_empty() {
        return None;
    }
    let at = digits[dice.throw(digits.len())];
    // One of the nine others.
    data[at] = b'0' + (data[at] - b'0' + 1 + dice.throw(9) as u8) % 10;
    Some(size)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_digit_becomes_every_other_and_nothing_else_changes() {
        let mut seen = std::collections::BTreeSet::new();
        for seed in 0..3000 {
            let mut data = *b"1.2 m";
            assert_eq!(change(&mut data, 5, &mut Dice::new(seed)), Some(5));
            let differ: Vec<usize> = (0..5).filter(|&at| data[at] != b"1.2 m"[at]).collect();
            assert!(differ == [0] || differ == [2], "{data:?}");
            assert!(data[differ[0]].is_ascii_digit(), "{data:?}");
            seen.insert(data);
        }
        assert_eq!(seen.len(), 18);
    }

    #[test]
    fn a_text_without_digits_has_none_to_change() {
        assert_eq!(change(&mut *b"mm".to_vec(), 2, &mut Dice::new(1)), None);
        assert_eq!(change(&mut [], 0, &mut Dice::new(1)), None);
    }
}
