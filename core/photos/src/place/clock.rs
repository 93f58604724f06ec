//! Cameras whose clock is wrong, found from the survey's day or from the satellites, and put right in the record alone.

use std::collections::BTreeMap;

use jiff::SignedDuration;
use jiff::civil::{Date, DateTime};
use survey::{Id, Photo, Survey};

/// How a wrong clock was noticed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DriftKind {
    /// All photos of the camera lie on other days than the survey.
    SurveyDay,
    /// The camera's clock differs from the satellites'.
    Satellites,
}

/// A camera whose clock seems wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drift {
    /// The camera.
    pub camera: String,
    /// Its photos, in the survey's order.
    pub photos: Vec<Id>,
    /// How far its clock is ahead (behind: negative), seconds: to the satellites, or whole days to the survey's day.
    pub ahead_s: i64,
    /// How it was noticed.
    pub kind: DriftKind,
}

impl Drift {
    /// In a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let count = match self.photos.len() {
            1 => "1 photo".to_owned(),
            count => format!("{count} photos"),
        };
        let seconds = self.ahead_s.unsigned_abs();
        let (ahead, against) = (
            if self.ahead_s < 0 { "behind" } else { "ahead of" },
            match self.kind {
                DriftKind::SurveyDay => "the day of the survey",
                DriftKind::Satellites => "the satellites' time",
            },
        );
        let amount = match seconds {
            s if s >= 86_400 => format!("{} d", (s + 43_200) / 86_400),
            s if s >= 3600 => format!("{} h {} min", s / 3600, s % 3600 / 60),
            s => format!("{} min {} s", s / 60, s % 60),
        };
        format!("{count} by {}: the clock is {amount} {ahead} {against}; correct the batch?", self.camera)
    }
}

/// A fix may be some minutes old, so a smaller difference to the satellites says nothing, seconds.
const LEAST_S: i64 = 120;

/// What the file of a photo says of its time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shot {
    /// The time, as [`crate::exif::Taken::text`] writes it.
    pub taken: String,
    /// How far the clock was ahead of the satellites', seconds.
    pub ahead_of_satellites_s: i64,
}

/// A photo, its day, and how far its clock was ahead of the satellites', seconds.
type Dated<'a> = (&'a Id, Date, Option<i64>);

/// Cameras whose clock seems wrong. `shot` gives what the file of a photo says of its time, where it is at hand.
#[must_use]
pub fn drifts(survey: &Survey, shot: impl Fn(&Photo) -> Option<Shot>) -> Vec<Drift> {
    let day = survey.site.surveyed_on.as_deref().and_then(|day| day.get(..10)?.parse::<Date>().ok());
    let mut cameras: BTreeMap<&str, Vec<Dated<'_>>> = BTreeMap::new();
    for photo in &survey.photos {
        let Some(local) = photo.taken.as_deref().and_then(local) else { continue };
        let camera = photo.camera.as_deref().unwrap_or("an unknown camera");
        // Where the record was corrected the file's own difference no longer holds.
        let ahead =
            shot(photo).filter(|shot| photo.taken.as_ref() == Some(&shot.taken)).map(|shot| shot.ahead_of_satellites_s);
        cameras.entry(camera).or_default().push((&photo.id, local.date(), ahead));
    }
    let mut found = Vec::new();
    for (camera, photos) in cameras {
        let ids = || photos.iter().map(|(id, ..)| (*id).clone()).collect();
        let mut ahead: Vec<i64> = photos.iter().filter_map(|(.., ahead)| *ahead).collect();
        ahead.sort_unstable();
        // The middle one: a single stale fix does not condemn a clock.
        if let Some(middle) = ahead.get(ahead.len() / 2).filter(|s| s.abs() > LEAST_S) {
            found.push(Drift {
                camera: camera.to_owned(),
                photos: ids(),
                ahead_s: *middle,
                kind: DriftKind::Satellites,
            });
            continue;
        }
        let Some(day) = day else { continue };
        // A survey may take a night; another day than the neighbours' is a wrong clock or another job.
        let days = |at: &Date| (at.duration_since(day).as_hours()) / 24;
        let least = photos.iter().map(|(_, at, _)| days(at)).min_by_key(|d| d.abs());
        if let Some(least) = least.filter(|d| d.abs() > 1) {
            let kind = DriftKind::SurveyDay;
            found.push(Drift { camera: camera.to_owned(), photos: ids(), ahead_s: least * 86_400, kind });
        }
    }
    found
}

/// A time as written in the record, put right by so many seconds (what the clock was ahead is taken away); the offset
/// stays. `None` where it cannot be read or would leave the years 1 to 9999.
///
/// # Example
/// ```
/// use photos::place::corrected;
/// assert_eq!(corrected("2026-09-15T00:10:00+02:00", 3600).as_deref(), Some("2026-09-14T23:10:00+02:00"));
/// ```
#[must_use]
pub fn corrected(taken: &str, ahead_s: i64) -> Option<String> {
    let (clock, offset) = split(taken);
    let right = clock.parse::<DateTime>().ok()?.checked_sub(SignedDuration::from_secs(ahead_s)).ok()?;
    (right.year() >= 1).then(|| format!("{right}{offset}"))
}

fn local(taken: &str) -> Option<DateTime> {
    split(taken).0.parse().ok()
}

/// Date and time, and the offset as written.
fn split(taken: &str) -> (&str, &str) {
    match taken.char_indices().skip(11).find(|(_, c)| matches!(c, 'Z' | '+' | '-')) {
        Some((at, _)) => taken.split_at(at),
        None => (taken, ""),
    }
}
