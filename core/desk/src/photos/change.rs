//! Notes and mark-up of a photo, as edits of the site.

use record::document::{Kind, Thing};
use record::edit::Edit;
use record::stored::Stored;

use super::find;
use crate::read::read_marks;
use crate::sites::{Said, SiteError, Sites};

impl Sites {
    /// Writes the note of a photo.
    ///
    /// # Errors
    /// There is no such site or photo, or the database fails.
    pub fn note_photo(&mut self, asked: &str, photo: &str, note: &str) -> Result<Said, SiteError> {
        self.set_photo(asked, photo, "note", &note.to_owned())
    }

    /// Writes the mark-up of a photo, given as JSON or TOML; what was drawn before is replaced.
    ///
    /// # Errors
    /// Every fault of the text; or there is no such site or photo, or the database fails.
    pub fn mark_photo(&mut self, asked: &str, photo: &str, marks: &[u8], name: &str) -> Result<Said, SiteError> {
        let marks = read_marks(marks, name)?;
        self.set_photo(asked, photo, "marks", &marks)
    }

    fn set_photo<T: Stored>(&mut self, asked: &str, photo: &str, field: &str, value: &T) -> Result<Said, SiteError> {
        let survey = self.survey(asked, None)?;
        let thing = Thing::new(Kind::Photo, find::photo(&survey, photo)?.id.as_str());
        let (mut site, now) = (self.site(survey.site.id.as_str())?, self.now());
        let sentence = site.edit(self.store_mut(), &Edit::set(thing, field, value), now)?;
        // The history keeps its sentences in one line each.
        Ok(Said { id: survey.site.id.to_string(), sentence: sentence.replace(['\n', '\r'], " ") })
    }
}
