//! Cameras whose clock was wrong: the times of a whole batch are put right in the record, and no file is touched.

use ::photos::place::corrected;
use record::document::{Kind, Thing};
use record::edit::Edit;
use survey::{Id, Photo};

use super::find;
use crate::edit::OpenSite;
use crate::sites::{Said, SiteError, Sites};
use crate::view::Opened;
use crate::wire::photos::ClockDrift;

/// Which photos are put right together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Batch {
    /// All of a camera, by its name.
    Camera(String),
    /// These.
    Photos(Vec<String>),
}

impl Sites {
    /// Cameras of a site whose clock seems wrong.
    ///
    /// # Errors
    /// There is no such site, it cannot be read, or the database fails.
    pub fn clocks(&mut self, asked: &str) -> Result<Vec<ClockDrift>, SiteError> {
        Ok(self.shelf(asked)?.drifts().iter().map(super::list::drift).collect())
    }

    /// Puts the times of photos right: what the clock was ahead is taken away, seconds; negative where it was behind. One
    /// step takes it back.
    ///
    /// # Errors
    /// There is no such site or photo, none of them has a time, or the database fails; then nothing is changed.
    pub fn correct_clock(&mut self, asked: &str, batch: &Batch, ahead_s: i64) -> Result<Said, SiteError> {
        let survey = self.survey(asked, None)?;
        let chosen: Vec<&Photo> = match batch {
            Batch::Camera(camera) => by_camera(&survey.photos, camera)?,
            Batch::Photos(photos) => find::photos(&survey, photos)?,
        };
        let right = right_times(&chosen, ahead_s)?;
        let (mut site, now) = (self.site(survey.site.id.as_str())?, self.now());
        let sentence = sentence(right.len(), ahead_s);
        site.edit_with_photos(self.store_mut(), &sentence, &edits(&right), &[], now)?;
        Ok(Said { id: survey.site.id.to_string(), sentence })
    }
}

impl OpenSite {
    /// As [`Sites::correct_clock`], on the open site.
    ///
    /// # Errors
    /// There is no such photo, none of them has a time, or the database fails; then nothing is changed.
    pub fn correct_clock(&mut self, sites: &mut Sites, photos: &[String], ahead_s: i64) -> Result<Opened, SiteError> {
        let site = self.planned().clone();
        let right = right_times(&find::photos(&site.survey, photos)?, ahead_s)?;
        self.edit_as(sites, sentence(right.len(), ahead_s), &edits(&right))
    }
}

/// The photos that have a time, each with the right one.
fn right_times<'a>(photos: &[&'a Photo], ahead_s: i64) -> Result<Vec<(&'a Id, String)>, SiteError> {
    let right = photos.iter().filter_map(|photo| {
        let taken = photo.taken.as_ref()?;
        let right = corrected(taken, ahead_s).ok_or_else(|| SiteError::NoTime(format!("{taken} less {ahead_s} s")));
        Some(right.map(|right| (&photo.id, right)))
    });
    let right = right.collect::<Result<Vec<_>, _>>()?;
    if right.is_empty() {
        return Err(SiteError::NoTime("no photo of these has a time".to_owned()));
    }
    Ok(right)
}

fn edits(right: &[(&Id, String)]) -> Vec<Edit> {
    let edit = |(photo, taken): &(&Id, String)| {
        Edit::set(Thing::new(Kind::Photo, photo.as_str()), "taken", &Some(taken.clone()))
    };
    right.iter().map(edit).collect()
}

fn sentence(photos: usize, ahead_s: i64) -> String {
    let photos = if photos == 1 { "1 photo".to_owned() } else { format!("{photos} photos") };
    let way = if ahead_s < 0 { "behind" } else { "ahead" };
    format!("times of {photos} put right, the clock was {} s {way}", ahead_s.unsigned_abs())
}

fn by_camera<'a>(photos: &'a [Photo], camera: &str) -> Result<Vec<&'a Photo>, SiteError> {
    let found: Vec<&Photo> = photos.iter().filter(|photo| photo.camera.as_deref() == Some(camera)).collect();
    if found.is_empty() {
        let mut names: Vec<&str> = photos.iter().filter_map(|photo| photo.camera.as_deref()).collect();
        names.sort_unstable();
        names.dedup();
        let accepted = if names.is_empty() { "none, since no photo names one".to_owned() } else { names.join(", ") };
        return Err(SiteError::NoThing { kind: "camera", asked: camera.to_owned(), accepted });
    }
    Ok(found)
}

/// Reads a span of time: `90`, `90 s`, `1 h 2 min`, `3 d`.
///
/// # Errors
/// It is none.
pub fn seconds(text: &str) -> Result<i64, SiteError> {
    let wrong = || SiteError::NoSpan(text.to_owned());
    let spaced: String = text
        .chars()
        .zip(text.chars().skip(1).chain(Some(' ')))
        .flat_map(|(c, next)| {
            let parts = c.is_ascii_digit() != next.is_ascii_digit();
            std::iter::once(c).chain(parts.then_some(' '))
        })
        .collect();
    let mut words = spaced.split_whitespace();
    let mut total: i64 = 0;
    let mut some = false;
    while let Some(number) = words.next() {
        let number: i64 = number.parse().map_err(|_| wrong())?;
        let each = match words.next() {
            None | Some("s") => 1,
            Some("min") => 60,
            Some("h") => 3600,
            Some("d") => 86_400,
            Some(_) => return Err(wrong()),
        };
        total = number.checked_mul(each).and_then(|part| total.checked_add(part)).ok_or_else(wrong)?;
        some = true;
    }
    if some { Ok(total) } else { Err(wrong()) }
}

#[cfg(test)]
mod tests {
    use super::seconds;

    #[test]
    fn spans_are_read_as_people_write_them() {
        for (text, expected) in
            [("90", 90), ("90 s", 90), ("1 h 2 min", 3720), ("1h2min5s", 3725), ("3 d", 259_200), ("0", 0)]
        {
            assert_eq!(seconds(text).ok(), Some(expected), "{text}");
        }
        for bad in ["", "an hour", "1 week", "-5", "1.5 h", "9999999999999999 d"] {
            assert!(seconds(bad).is_err(), "{bad}");
        }
    }
}
