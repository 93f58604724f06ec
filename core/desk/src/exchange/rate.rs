//! Bytes a second, as people type and read them.

/// Less would take years for a site with photos, bytes a second.
pub(super) const LEAST: u64 = 1_000;

/// Reads a limit such as `500kB/s` or `1.5 MB/s`; the answer is in bytes a second.
///
/// # Errors
/// It is none, in words that say what is accepted.
pub fn rate(text: &str) -> Result<u64, String> {
    let wrong = || format!("{text:?} is no limit; accepted: 1 kB/s or more, as 500kB/s or 1.5MB/s");
    let typed = text.trim();
    let number = typed.trim_end_matches(|c: char| c.is_ascii_alphabetic() || c == '/');
    let per_unit = match typed[number.len()..].to_ascii_lowercase().as_str() {
        "b/s" => 1,
        "kb/s" => 1_000,
        "mb/s" => 1_000_000,
        _ => return Err(wrong()),
    };
    let (whole, part) = number.trim().split_once('.').unwrap_or((number.trim(), "0"));
    let digits = |text: &str, most: usize| {
        ((1..=most).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit()))
            .then(|| text.parse::<u64>().ok())
            .flatten()
    };
    let (whole, thousandths) = match (digits(whole, 6), digits(part, 3)) {
        (Some(whole), Some(_)) => (whole, digits(&format!("{part:0<3}"), 3).unwrap_or(0)),
        _ => return Err(wrong()),
    };
    let bytes = whole * per_unit + thousandths * per_unit / 1_000;
    if bytes < LEAST { Err(wrong()) } else { Ok(bytes) }
}

/// A limit as people read it.
pub(super) fn said(bytes_per_second: u64) -> String {
    match bytes_per_second {
        n if n % 1_000_000 == 0 => format!("{} MB/s", n / 1_000_000),
        n if n % 1_000 == 0 => format!("{} kB/s", n / 1_000),
        n => format!("{n} B/s"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_read_and_others_refused() {
        for (text, bytes) in [
            ("500kB/s", 500_000),
            (" 1.5 MB/s ", 1_500_000),
            ("2000 b/s", 2_000),
            ("0.125MB/s", 125_000),
            ("1kb/s", 1_000),
        ] {
            assert_eq!(rate(text), Ok(bytes), "{text}");
        }
        for text in [
            "",
            "500",
            "kB/s",
            "-1kB/s",
            "1e3kB/s",
            "0.9kB/s",
            "1,5MB/s",
            "1.MB/s",
            "1.2345MB/s",
            "9999999MB/s",
            "5 GB",
        ] {
            assert!(rate(text).unwrap_err().contains("accepted: 1 kB/s or more"), "{text}");
        }
        assert_eq!([500_000, 1_500_000, 2_000_000, 1_234].map(said), ["500 kB/s", "1500 kB/s", "2 MB/s", "1234 B/s"]);
    }
}
