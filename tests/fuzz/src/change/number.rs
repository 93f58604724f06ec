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

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str) -> Vec<&str> {
        numbers(text.as_bytes()).into_iter().map(|(start, end)| &text[start..end]).collect()
    }

    #[test]
    fn numbers_are_found_with_their_signs_but_not_in_words_or_dates() {
        assert_eq!(found("{\"a\": -12.5, \"b\": [3, 40]}"), ["-12.5", "3", "40"]);
        assert_eq!(found("per_10_m = 20\nm8 = 7"), ["20", "7"]);
        assert_eq!(found("on = \"2026-01-15\""), [""; 0]);
    }

    #[test]
    fn a_changed_number_is_a_number_and_the_rest_stays() {
        let mut seen = std::collections::BTreeSet::new();
        for seed in 0..2000 {
            let mut data = [b' '; 60];
            data[..6].copy_from_slice(b"a = 40");
            let size = change(&mut data, 6, 60, &mut Dice::new(seed)).expect("there is room");
            let text = std::str::from_utf8(&data[..size]).expect("it is text");
            let number: f64 = text.strip_prefix("a = ").expect("the name stays").parse().expect("a number");
            seen.insert(number.to_string());
        }
        // Its tenfold, tenth, double, half and both neighbours are among them, and every fresh one.
        for number in
            ["400", "4", "80", "20", "41", "39"].map(String::from).into_iter().chain(FRESH.map(|n| n.to_string()))
        {
            assert!(seen.contains(&number), "{number} is never made");
        }
    }

    #[test]
    fn what_has_no_number_or_no_room_is_left_to_the_library() {
        assert_eq!(change(&mut *b"none".to_vec(), 4, 4, &mut Dice::new(1)), None);
        assert_eq!(change(&mut [], 0, 0, &mut Dice::new(1)), None);
        for seed in 0..200 {
            if let Some(size) = change(&mut *b"9".to_vec(), 1, 1, &mut Dice::new(seed)) {
                assert_eq!(size, 1);
            }
        }
    }
}
