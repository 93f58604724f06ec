//! Order keys: texts between which another always fits, so that two people inserting never disturb each other.

const DIGITS: &[u8; 62] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz";

/// The key of the n-th of a list that is written at once: six digits of base 62, then a middle digit.
#[must_use]
pub fn nth(n: usize) -> String {
    let mut rest = n;
    let mut digits = [b'0'; 6];
    for digit in digits.iter_mut().rev() {
        *digit = DIGITS[rest % 62];
        rest /= 62;
    }
    let mut key: String = digits.iter().map(|d| char::from(*d)).collect();
    key.push('V');
    key
}

/// A key between two; `None` is the start or the end of the list. Where the two are equal or the wrong way round, the
/// new one comes right after the first.
#[must_use]
pub fn between(before: Option<&str>, after: Option<&str>) -> String {
    let low: Vec<usize> = before.map(digits).unwrap_or_default();
    let high: Option<Vec<usize>> = after.map(digits).filter(|high| *high > low);
    let mut key = Vec::new();
    // Once the key has left the upper bound's digits, only the lower bound matters.
    let mut bounded = high.is_some();
    for i in 0.. {
        let l = low.get(i).copied().unwrap_or(0);
        let h = if bounded { high.as_ref().and_then(|h| h.get(i).copied()).unwrap_or(0) } else { DIGITS.len() };
        if h > l + 1 {
            key.push(usize::midpoint(l, h));
            break;
        }
        key.push(l);
        if h > l {
            bounded = false;
        }
    }
    key.into_iter().map(|d| char::from(DIGITS[d])).collect()
}

fn digits(key: &str) -> Vec<usize> {
    key.bytes().map(|b| DIGITS.iter().position(|d| *d == b).unwrap_or(DIGITS.len() - 1)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_is_always_room_between() {
        let (mut low, high) = (nth(3), nth(4));
        for _ in 0..200 {
            let middle = between(Some(&low), Some(&high));
            assert!(low < middle && middle < high, "{low} < {middle} < {high}");
            low = middle;
        }
        let mut high = nth(0);
        for _ in 0..200 {
            let middle = between(None, Some(&high));
            assert!(middle < high && !middle.ends_with('0'), "{middle} < {high}");
            high = middle;
        }
        assert!(between(Some(&nth(61)), None) > nth(61));
        assert!(nth(61) < nth(62));
        assert!(between(Some("V"), Some("V")).as_str() > "V");
    }
}
