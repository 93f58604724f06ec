//! Moments: the clock, how they are written, and how one is named.

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

/// The machine's clock, milliseconds since 1970.
#[must_use]
pub fn now_ms() -> i64 {
    Timestamp::now().as_millisecond()
}

/// A moment for programs, in UTC: `2030-03-04T10:20:30.123Z` (RFC 3339).
pub fn written(ms: i64) -> String {
    // Beyond the years that have four digits there is nothing to write but the number.
    Timestamp::from_millisecond(ms).map_or_else(|_| ms.to_string(), |moment| format!("{moment:.3}"))
}

/// A moment for people, in UTC to the minute: `2030-03-04 10:20`.
pub fn said(ms: i64) -> String {
    let minute = |moment: Timestamp| moment.to_zoned_datetime(TimeZone::UTC).strftime("%Y-%m-%d %H:%M").to_string();
    Timestamp::from_millisecond(ms).map_or_else(|_| ms.to_string(), minute)
}

/// The last millisecond of what was named: a moment with its offset, or a whole day in UTC.
pub fn named(text: &str) -> Option<i64> {
    if let Ok(moment) = text.parse::<Timestamp>() {
        return Some(moment.as_millisecond());
    }
    if !crate::wire::text::is_day(text) {
        return None;
    }
    let next = text.parse::<Date>().ok()?.tomorrow().ok()?.to_zoned_datetime(TimeZone::UTC).ok()?;
    Some(next.timestamp().as_millisecond() - 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moments_are_written_and_named() {
        // Seconds since 1970 as GNU date gives them: date -u -d 2030-03-04T10:20:30Z +%s.
        assert_eq!(written(1_898_850_030_123), "2030-03-04T10:20:30.123Z");
        assert_eq!(said(1_898_850_030_123), "2030-03-04 10:20");
        assert_eq!(named("2030-03-04T10:20:30Z"), Some(1_898_850_030_000));
        assert_eq!(named("2030-03-04T12:20:30+02:00"), Some(1_898_850_030_000));
        assert_eq!(named("2030-03-04"), Some(1_898_899_199_999));
        assert_eq!(named("yesterday"), None);
    }
}
