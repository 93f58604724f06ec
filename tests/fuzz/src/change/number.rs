//! Changes a number in a text as a number, which single bytes seldom do without breaking the file.

use super::dice::Dice;

/// Numbers that stand in for any other.
const FRESH: [f64; 16] =
    [0.0, 1.0, -1.0, 5.0, 10.0, 100.0, -100.0, 1000.0, 10_000.0, 50_000.0, 1e6, 1e8, 1e12, 1e30, 0.1, 0.001];

/// Changes one number; `None` where there is none, or no room for the new one.
pub fn change(data: &mut [u8], size: usize, max_size: usize, dice: &mut Dice) -> Option<usize> {
    let numbers = numbers(&data[..size]);
    if numbers.is_empty() {
        return None;
    }
    let (start, end) = numbers[dice.throw(numbers.len())];
    let text = std::str::from_utf8(&data[start..end]).ok()?;
    let old: f64 = text.parse().ok()?;
    let new = match dice.throw(10) {
        0 => old * 10.0,
        1 => part(old, 10.0),
        2 => old * 2.0,
        3 => part(old, 2.0),
        4 => old + 1.0,
        5 => old - 1.0,
        // Whatever the number was, from here any size is one change away.
        _ => FRESH[dice.throw(FRESH.len())],
    };
    let new = new.to_string();
    let changed = size - (end - start) + new.len();
    if changed > max_size {
        return None;
    }
    data.copy_within(end..size, start + new.len());
    data[start..start + new.len()].copy_from_slice(new.as_bytes());
    Some(changed)
}

/// A part of a number, which stays whole where the number is, since many fields take whole numbers only.
fn part(number: f64, of: f64) -> f64 {
    if number.fract() == 0.0 { (number / of).trunc() } else { number / of }
}

/// Where the plain decimal numbers stand that are no part of a word or a date.
fn numbers(text: &[u8]) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let start = at;
        while at < text.len() && (text[at].is_ascii_digit() || text[at] == b'.') {
            at += 1;
        }
        let before = |back: usize| start.checked_sub(back).map(|i| text[i]);
        let in_word = before(1).is_some_and(|b| b.is_ascii_alphabetic() || b == b'_');
        let in_date =
            text.get(at) == Some(&b'-') || (before(1) == Some(b'-') && before(2).is_some_and(|b| b.is_ascii_digit()));
        if at > start && !in_word && !in_date {
            // A sign belongs to its number: without it, no number below zero would ever rise above.
            found.push((if before(1) == Some(b'-') { start - 1 } else { start }, at));
        }
        at = at.max(start + 1);
    }
    found
}
