//! A stored site as a survey file.

use survey::Survey;

use super::{SiteError, Sites, find, history};
use crate::wire::{self, Mirror};

impl Sites {
    /// The survey of a site, as it stands or stood.
    ///
    /// # Errors
    /// There is no such site or moment, it cannot be read, or the database fails.
    pub fn survey(&mut self, asked: &str, at: Option<&str>) -> Result<Survey, SiteError> {
        let site = self.site(asked)?;
        find::survey(site.document(), history::reading(&site, at)?)
    }

    /// The survey file of a site, in the form in which survey files are read.
    ///
    /// # Errors
    /// As [`Self::survey`].
    pub fn export(&mut self, asked: &str, at: Option<&str>) -> Result<String, SiteError> {
        Ok(survey_text(&self.survey(asked, at)?))
    }
}

/// A survey as the text of a survey file: every field in its full form, features by chainage and id, since their order
/// in the list means nothing.
#[must_use]
pub fn survey_text(survey: &Survey) -> String {
    let mut survey = survey.clone();
    for rail in &mut survey.rails {
        rail.features.sort_by(|a, b| (a.chainage.value, &a.id).cmp(&(b.chainage.value, &b.id)));
    }
    crate::json_text(&wire::survey::Survey::from_plain(&survey))
}
