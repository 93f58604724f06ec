//! Printed numbers with their thousands set apart, the same in every locale.

/// Sets the thousands of a printed number apart with commas: `12,345.6`. What is no plain number stays as it is.
///
/// # Example
/// ```
/// assert_eq!(units::grouped("-1234567.25"), "-1,234,567.25");
/// ```
#[must_use]
pub fn grouped(number: &str) -> String {
    let (sign, rest) = number.strip_prefix('-').map_or(("", number), |rest| ("-", rest));
    let (whole, fraction) = rest.split_at(rest.find('.').unwrap_or(rest.len()));
    if !whole.bytes().all(|byte| byte.is_ascii_digit()) {
        return number.to_owned();
    }
    let mut out = String::from(sign);
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out.push_str(fraction);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_set_apart() {
        for (number, shown) in [("0", "0"), ("999", "999"), ("1234", "1,234"), ("-12345.5", "-12,345.5"), ("–", "–")]
        {
            assert_eq!(grouped(number), shown);
        }
    }
}
