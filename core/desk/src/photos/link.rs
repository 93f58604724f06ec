//! Which photo that the survey merely names a file belongs to: the same name, and no other time.

use jiff::Timestamp;
use jiff::civil::DateTime;
use survey::Photo;

/// What was found.
#[derive(Debug, PartialEq, Eq)]
pub enum Link<'a> {
    /// The file is this photo's.
    Is(&'a Photo),
    /// The survey names none like it.
    None,
    /// The name fits, but something speaks against it; in a sentence.
    Doubtful(String),
}

/// Looks for the photo of a file by its name and the time in it.
pub fn link<'a>(named: impl Iterator<Item = &'a Photo>, name: &str, taken: Option<&str>) -> Link<'a> {
    let same_name: Vec<&Photo> = named.filter(|photo| is_named(photo, name)).collect();
    let same_time: Vec<&&Photo> = same_name.iter().filter(|photo| agree(photo.taken.as_deref(), taken)).collect();
    match (same_name.as_slice(), same_time.as_slice()) {
        ([], _) => Link::None,
        (_, [one]) => Link::Is(one),
        ([one, ..], []) => {
            let when = one.taken.as_deref().unwrap_or_default();
            let file =
                taken.map_or_else(|| "the file states no time".to_owned(), |taken| format!("the file says {taken}"));
            Link::Doubtful(format!(
                "the survey names photo {} with a file of this name, taken {when}, but {file}; it was added beside it",
                one.id
            ))
        }
        (_, several) => Link::Doubtful(format!(
            "the survey names {} photos with a file of this name and time; it was added beside them",
            several.len()
        )),
    }
}

fn is_named(photo: &Photo, name: &str) -> bool {
    let last = photo.file.rsplit(['/', '\\']).next().unwrap_or_default();
    last.to_lowercase() == name.to_lowercase()
}

/// Whether the times of survey and file may be one; a survey that states none says nothing against it.
fn agree(survey: Option<&str>, file: Option<&str>) -> bool {
    let Some(survey) = survey else { return true };
    let Some(file) = file else { return false };
    match (survey.parse::<Timestamp>(), file.parse::<Timestamp>()) {
        (Ok(survey), Ok(file)) => survey.as_second() == file.as_second(),
        // Where one has no offset, the clocks on the spot are compared.
        _ => clock(survey).is_some_and(|survey| Some(survey) == clock(file)),
    }
}

fn clock(text: &str) -> Option<DateTime> {
    text.get(..19)?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use survey::{Id, Shows};

    fn photo(id: &str, file: &str, taken: Option<&str>) -> Photo {
        Photo {
            id: Id::new(id).expect("an id"),
            file: file.to_owned(),
            content: None,
            shows: Shows::General,
            taken: taken.map(str::to_owned),
            position: None,
            heading: None,
            camera: None,
            note: String::new(),
            marks: Vec::new(),
        }
    }

    #[test]
    fn a_name_and_no_other_time_make_a_photo() {
        let named = [
            photo("a", "photos/stair.jpg", Some("2026-09-15T08:12:40+02:00")),
            photo("b", "ramp.jpg", None),
            photo("c", "twice.jpg", None),
            photo("d", "sub\\TWICE.JPG", None),
        ];
        let found = |name: &str, taken: Option<&str>| match link(named.iter(), name, taken) {
            Link::Is(photo) => photo.id.to_string(),
            Link::None => "none".to_owned(),
            Link::Doubtful(why) => why,
        };
        assert_eq!(found("stair.jpg", Some("2026-09-15T08:12:40+02:00")), "a");
        assert_eq!(found("STAIR.JPG", Some("2026-09-15T06:12:40.25Z")), "a", "the same moment, told elsewhere");
        assert_eq!(found("stair.jpg", Some("2026-09-15T08:12:40")), "a", "the clock on the spot");
        assert!(found("stair.jpg", Some("2026-09-15T08:12:41+02:00")).contains("photo a"));
        assert!(found("stair.jpg", None).contains("states no time"));
        assert_eq!(found("ramp.jpg", Some("2020-01-01T00:00:00")), "b");
        assert!(found("twice.jpg", None).contains("2 photos"));
        assert_eq!(found("other.jpg", None), "none");
    }
}
