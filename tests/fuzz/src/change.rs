//! Changes a number in a text as a number, which single bytes seldom do without breaking the file.

use libfuzzer_sys::fuzzer_mutate;

/// One change: of one number, or whatever libFuzzer itself would do. Returns the new size.
pub fn change(data: &mut [u8], size: usize, max_size: usize, seed: u32) -> usize {
    let mut dice = u64::from(seed) | 1;
    let mut throw = |sides: usize| {
        // A linear congruential generator (Knuth's constants); its high bits are the good ones.
        dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (dice >> 33) as usize % sides
    };
    if throw(2) == 0 {
        return fuzzer_mutate(data, size, max_size);
    }
    let numbers = numbers(&data[..size]);
    if numbers.is_empty() {
        return fuzzer_mutate(data, size, max_size);
    }
    let (start, end) = numbers[throw(numbers.len())];
    let old: f64 = std::str::from_utf8(&data[start..end]).ok().and_then(|text| text.parse().ok()).unwrap_or(0.0);
    let new = match throw(8) {
        0 => old * 10.0,
        1 => old / 10.0,
        2 => old * 2.0,
        3 => old / 2.0,
        4 => old + 1.0,
        5 => old - 1.0,
        6 => -old,
        _ => [0.0, 1.0, 0.001, 1e6, 1e12, 1e300][throw(6)],
    };
    let new = new.to_string();
    let changed = size - (end - start) + new.len();
    if changed > max_size {
        return fuzzer_mutate(data, size, max_size);
    }
    data.copy_within(end..size, start + new.len());
    data[start..start + new.len()].copy_from_slice(new.as_bytes());
    changed
}

/// Where the plain decimal numbers stand that are no part of a word.
fn numbers(text: &[u8]) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let start = at;
        while at < text.len() && (text[at].is_ascii_digit() || text[at] == b'.') {
            at += 1;
        }
        let in_word = start > 0 && (text[start - 1].is_ascii_alphabetic() || text[start - 1] == b'_');
        if at > start && !in_word {
            found.push((start, at));
        }
        at = at.max(start + 1);
    }
    found
}
