//! When the picture was taken, with its offset from UTC and where that offset comes from.

use ::exif::{Exif, Tag};
use jiff::civil::{Date, DateTime, Time};

use super::Assume;
use super::value::{reals, text};

/// An offset of local time from UTC, minutes east; at most 14 hours either way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Offset(i32);

impl Offset {
    /// Of so many minutes east; `None` beyond 14 hours.
    #[must_use]
    pub const fn minutes(minutes: i32) -> Option<Self> {
        if minutes.abs() <= 14 * 60 { Some(Self(minutes)) } else { None }
    }

    /// Minutes east of UTC.
    #[must_use]
    pub const fn get(self) -> i32 {
        self.0
    }

    /// Reads `+02:00`, `-0330` or `Z`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        if text == "Z" {
            return Some(Self(0));
        }
        let (sign, rest) = match text.split_at_checked(1)? {
            ("+", rest) => (1, rest),
            ("-", rest) => (-1, rest),
            _ => return None,
        };
        let digits: String = rest.chars().filter(|c| *c != ':').collect();
        if digits.len() != 4 || !digits.bytes().all(|b| b.is_ascii_digit()) {
            return None;
        }
        let (hours, minutes): (i32, i32) = (digits[..2].parse().ok()?, digits[2..].parse().ok()?);
        if minutes > 59 { None } else { Self::minutes(sign * (hours * 60 + minutes)) }
    }
}

impl std::fmt::Display for Offset {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let sign = if self.0 < 0 { '-' } else { '+' };
        write!(f, "{sign}{:02}:{:02}", self.0.abs() / 60, self.0.abs() % 60)
    }
}

/// Where an offset comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum OffsetSource {
    /// The camera wrote it.
    Camera,
    /// The difference between the camera's clock and the satellites', to the nearest quarter of an hour.
    Satellites,
    /// Assumed, as the caller said.
    Assumed,
    /// Nobody knows it.
    Unknown,
}

/// Which clock a time was read from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Clock {
    /// When the shutter opened.
    Shutter,
    /// When the picture was digitised.
    Digitised,
    /// When the file was last written, for want of anything better.
    Written,
}

/// When a picture was taken, by the camera's clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Taken {
    /// Date and time as the camera's clock showed them.
    pub local: DateTime,
    /// Offset from UTC.
    pub offset: Option<Offset>,
    /// Where the offset comes from.
    pub offset_source: OffsetSource,
    /// Which time it is.
    pub clock: Clock,
    /// How far the camera's clock was ahead of the satellites', seconds; a fix may be minutes old. With an offset that
    /// was itself told from the satellites it is known within a quarter of an hour only.
    pub ahead_of_satellites_s: Option<i64>,
}

impl Taken {
    /// As ISO 8601, with the offset where one is known.
    #[must_use]
    pub fn text(&self) -> String {
        let local = self.local;
        let mut text = format!(
            "{:04}-{:02}-{:02}T{:02}:{:02}:{:02}",
            local.year(),
            local.month(),
            local.day(),
            local.hour(),
            local.minute(),
            local.second()
        );
        let nanoseconds = local.subsec_nanosecond();
        if nanoseconds > 0 {
            text.push('.');
            text.push_str(format!("{nanoseconds:09}").trim_end_matches('0'));
        }
        if let Some(offset) = self.offset {
            text.push_str(&offset.to_string());
        }
        text
    }
}

pub(super) fn taken(exif: &Exif, assume: Assume, notes: &mut Vec<String>) -> Option<Taken> {
    let sources = [
        (Clock::Shutter, Tag::DateTimeOriginal, Tag::SubSecTimeOriginal, Tag::OffsetTimeOriginal),
        (Clock::Digitised, Tag::DateTimeDigitized, Tag::SubSecTimeDigitized, Tag::OffsetTimeDigitized),
        (Clock::Written, Tag::DateTime, Tag::SubSecTime, Tag::OffsetTime),
    ];
    let (clock, local, offset_tag) = sources.into_iter().find_map(|(clock, time, fraction, offset)| {
        let raw = text(exif, time)?;
        let read = date_time(&raw, text(exif, fraction).as_deref());
        if read.is_none() && raw.bytes().any(|b| b.is_ascii_digit() && b != b'0') {
            notes.push(format!("the time \"{raw}\" could not be read; it was left out"));
        }
        let (local, seconds) = read?;
        if seconds == Seconds::Missing {
            notes.push("the camera wrote no seconds; they are taken as zero".to_owned());
        }
        Some((clock, local, offset))
    })?;
    if clock == Clock::Written {
        notes.push("only the time of the last writing is known; the picture may be older".to_owned());
    }
    let satellites = satellite_time(exif);
    let camera = text(exif, offset_tag).and_then(|raw| Offset::parse(&raw));
    let told = || offset_told(local, satellites?);
    let (offset, offset_source) = match (camera, told(), assume.offset) {
        (Some(offset), ..) => (Some(offset), OffsetSource::Camera),
        (None, Some(offset), _) => {
            notes.push(format!("the camera wrote no time zone; {offset} follows from the satellites' time"));
            (Some(offset), OffsetSource::Satellites)
        }
        (None, None, Some(offset)) => {
            notes.push(format!("the camera wrote no time zone; {offset} is assumed"));
            (Some(offset), OffsetSource::Assumed)
        }
        (None, None, None) => {
            notes.push("the camera wrote no time zone; the time is local time of an unknown place".to_owned());
            (None, OffsetSource::Unknown)
        }
    };
    let ahead_of_satellites_s = offset
        .zip(satellites)
        .filter(|_| offset_source != OffsetSource::Assumed)
        .map(|(offset, satellites)| seconds_between(satellites, local) - i64::from(offset.get()) * 60);
    Some(Taken { local, offset, offset_source, clock, ahead_of_satellites_s })
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Seconds {
    Written,
    Missing,
}

/// Reads `2026:09:15 08:12:40` and what makers make of it: other separators, no seconds, blanks for seconds.
fn date_time(raw: &str, fraction: Option<&str>) -> Option<(DateTime, Seconds)> {
    let (day, clock) = raw.split_once([' ', 'T'])?;
    let mut parts = day.split([':', '-', '/', '.']);
    let date = Date::new(parts.next()?.parse().ok()?, parts.next()?.parse().ok()?, parts.next()?.parse().ok()?).ok()?;
    // EXIF years have four digits; the year zero stands for "unknown".
    if date.year() < 1 || parts.next().is_some() {
        return None;
    }
    let mut parts = clock.split(':').map(str::trim);
    let (hour, minute) = (parts.next()?.parse().ok()?, parts.next()?.parse().ok()?);
    let (second, seconds) = match parts.next() {
        None | Some("") => (0, Seconds::Missing),
        Some(text) => (text.get(..2)?.parse().ok()?, Seconds::Written),
    };
    // A leap second has no place in a civil clock; it is the last ordinary one.
    let second = if second == 60 { 59 } else { second };
    let time = Time::new(hour, minute, second, nanoseconds(fraction)).ok()?;
    Some((DateTime::from_parts(date, time), seconds))
}

/// A fraction of a second written as its digits.
fn nanoseconds(digits: Option<&str>) -> i32 {
    let digits: String = digits.unwrap_or("").chars().take_while(char::is_ascii_digit).take(9).collect();
    format!("{digits:0<9}").parse().unwrap_or(0)
}

/// The satellites' time, UTC.
fn satellite_time(exif: &Exif) -> Option<DateTime> {
    let day = text(exif, Tag::GPSDateStamp)?;
    let clock = reals(exif, Tag::GPSTimeStamp)?;
    let mut parts = day.split([':', '-', '/']).map(|part| part.trim().parse::<i16>().ok());
    let (year, month, date) = (parts.next()??, parts.next()??, parts.next()??);
    let date = Date::new(year, i8::try_from(month).ok()?, i8::try_from(date).ok()?).ok()?;
    let [hour, minute, second] = clock.as_slice() else { return None };
    let part = |value: &f64, most: f64| (0.0..=most).contains(value).then_some(*value as i8);
    let time = Time::new(part(hour, 23.0)?, part(minute, 59.0)?, part(second, 60.0)?.min(59), 0).ok()?;
    Some(DateTime::from_parts(date, time))
}

/// Seconds from one date and time to another.
pub(crate) fn seconds_between(from: DateTime, to: DateTime) -> i64 {
    // Both lie in the years 1 to 9999, so the count fits.
    to.duration_since(from).as_secs()
}

/// An offset told from both clocks: whole quarters of an hour, within 14 hours, off by 5 minutes at the most.
fn offset_told(local: DateTime, satellites: DateTime) -> Option<Offset> {
    let seconds = seconds_between(satellites, local);
    let quarters = (seconds as f64 / 900.0).round() as i64;
    if (seconds - quarters * 900).abs() > 300 {
        return None;
    }
    Offset::minutes(i32::try_from(quarters * 15).ok()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_of_every_hand_are_read() {
        let read = |raw: &str, fraction| date_time(raw, fraction).map(|(t, _)| t.to_string());
        assert_eq!(read("2026:09:15 08:12:40", None).as_deref(), Some("2026-09-15T08:12:40"));
        assert_eq!(read("2026-09-15T08:12:40", Some("25")).as_deref(), Some("2026-09-15T08:12:40.25"));
        assert_eq!(read("2026:09:15 08:12", None).as_deref(), Some("2026-09-15T08:12:00"));
        assert_eq!(read("2026:09:15 08:12:  ", None).as_deref(), Some("2026-09-15T08:12:00"));
        for bad in [
            "",
            "    :  :     :  :  ",
            "0000:00:00 00:00:00",
            "2026:13:01 00:00:00",
            "2026:09:15 24:00:00",
            "yesterday",
        ] {
            assert_eq!(read(bad, None), None, "{bad}");
        }
    }

    #[test]
    fn offsets_are_read_and_written() {
        for (raw, minutes) in [("+02:00", 120), ("-03:30", -210), ("Z", 0), ("+0545", 345), ("+14:00", 840)] {
            assert_eq!(Offset::parse(raw).map(Offset::get), Some(minutes), "{raw}");
        }
        for bad in ["", "   :  ", "02:00", "+15:00", "+02:60", "+2", "+²0:00"] {
            assert_eq!(Offset::parse(bad), None, "{bad}");
        }
        assert_eq!(Offset::parse("-03:30").unwrap().to_string(), "-03:30");
    }

    #[test]
    fn the_satellites_tell_the_offset_to_a_quarter_of_an_hour() {
        let at = |h, m, s| jiff::civil::date(2026, 9, 15).at(h, m, s, 0);
        assert_eq!(offset_told(at(8, 12, 40), at(6, 12, 38)).map(Offset::get), Some(120));
        assert_eq!(offset_told(at(8, 12, 40), at(2, 28, 0)).map(Offset::get), Some(345));
        assert_eq!(offset_told(at(8, 12, 40), at(6, 4, 0)), None, "8 minutes off a quarter is no offset");
    }
}
