//! The day of issue.

use std::time::{SystemTime, UNIX_EPOCH};

/// Today by the machine's clock, in UTC so that the time zone changes nothing: `2030-03-04`.
#[must_use]
pub fn today() -> String {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    day_text(seconds / 86_400)
}

/// Whether a text is a day, `YYYY-MM-DD`.
#[must_use]
pub fn is_day(text: &str) -> bool {
    crate::wire::text::is_day(text)
}

/// The Gregorian day so many days after 1970-01-01.
///
/// # Source
/// Years counted from March, so that the leap day ends the year: 400 years have 146097 days (Gregorian calendar).
fn day_text(days: u64) -> String {
    let since_march_0000 = days + 719_468;
    let (era, of_era) = (since_march_0000 / 146_097, since_march_0000 % 146_097);
    let year_of_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * of_year + 2) / 153;
    let day = of_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 { month_from_march + 3 } else { month_from_march - 9 };
    let year = era * 400 + year_of_era + u64::from(month <= 2);
    format!("{year:04}-{month:02}-{day:02}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_days_come_out() {
        // Days since the epoch as GNU date gives them: date -u -d 2024-02-29 +%s, over 86400.
        for (days, text) in [
            (0, "1970-01-01"),
            (11_016, "2000-02-29"),
            (11_017, "2000-03-01"),
            (19_782, "2024-02-29"),
            (20_454, "2026-01-01"),
            (47_540, "2100-02-28"),
            (47_541, "2100-03-01"),
        ] {
            assert_eq!(day_text(days), text);
        }
    }
}
