//! New sites: from a survey file, from two words, as a copy; and into the archive and out of it.

use record::store::Shelf;
use survey::{Exposure, Id, PublicReach, Salt, Setting, Site, Survey};
use units::Celsius;

use super::{Said, SiteError, Sites, find, random};
use crate::read::read_survey;
use crate::wire::Mirror;

impl Sites {
    /// Adds a survey as a new site, under its own id or another one.
    ///
    /// # Errors
    /// The id is taken or cannot be one, or the database fails.
    pub fn add(&mut self, mut survey: Survey, other_id: Option<&str>) -> Result<Said, SiteError> {
        if let Some(text) = other_id {
            survey.site.id = Id::new(text).ok_or_else(|| SiteError::NoId(text.to_owned()))?;
        }
        let now = self.now();
        let site = self.store.create(&survey, now)?;
        Ok(Said { id: site.document().to_owned(), sentence: format!("site {} added", survey.site.label) })
    }

    /// Adds a survey as a new site, under a fresh id where its own is taken.
    ///
    /// # Errors
    /// As [`Self::add`].
    pub fn add_beside(&mut self, survey: Survey) -> Result<Said, SiteError> {
        let taken = self.store.sites()?.iter().any(|row| row.document == survey.site.id.as_str());
        let fresh = if taken { Some(random::id(self.now())?) } else { None };
        self.add(survey, fresh.as_ref().map(Id::as_str))
    }

    /// Adds the survey in a file as a new site.
    ///
    /// # Errors
    /// Every fault of the file; then as [`Self::add`].
    pub fn add_file(&mut self, bytes: &[u8], name: &str, other_id: Option<&str>) -> Result<Said, SiteError> {
        let survey = read_survey(bytes, name)?;
        self.add(survey, other_id)
    }

    /// Adds an empty site: what it is called and where it is. Its exposure is the harshest usual one, outdoors in the
    /// open with the public at any hour, until somebody says otherwise.
    ///
    /// # Errors
    /// The label is empty, or the database fails.
    pub fn new_site(&mut self, label: &str, address: &str) -> Result<Said, SiteError> {
        let label = fit(label)?;
        let id = random::id(self.now())?;
        self.add(empty(id, label, address.trim()), None)
    }

    /// Copies a site as it stands, without its history, under a new id and another label.
    ///
    /// # Errors
    /// There is no such site, it cannot be read, or the label is empty.
    pub fn duplicate(&mut self, asked: &str, label: &str) -> Result<Said, SiteError> {
        let document = self.document(asked)?;
        let label = fit(label)?;
        let (id, now) = (random::id(self.now())?, self.now());
        find::survey(&document, self.store.site(&document)?.reading())?;
        let copy = self.store.duplicate(&document, id, &label, now)?;
        Ok(Said { id: copy.document().to_owned(), sentence: format!("site {label} copied from {document}") })
    }

    /// Puts a site into the archive, or takes it out again.
    ///
    /// # Errors
    /// There is no such site, or the database fails.
    pub fn archive(&mut self, asked: &str, shelf: Archive) -> Result<Said, SiteError> {
        let mut site = self.site(asked)?;
        let (shelf, sentence) = match shelf {
            Archive::In => (Shelf::Archive, "put into the archive"),
            Archive::Out => (Shelf::Work, "taken out of the archive"),
        };
        let now = self.now();
        site.archive(&mut self.store, shelf, now)?;
        Ok(Said { id: site.document().to_owned(), sentence: format!("site {} {sentence}", site.document()) })
    }
}

/// Whether a site goes into the archive or comes out of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Archive {
    /// Into it.
    In,
    /// Out of it.
    Out,
}

fn fit(label: &str) -> Result<String, SiteError> {
    let label = label.trim();
    let fits = !label.is_empty() && label.chars().count() <= 100 && !label.chars().any(char::is_control);
    if fits { Ok(label.to_owned()) } else { Err(SiteError::NoLabel) }
}

/// A site on which nothing was measured yet. The temperatures are common practice, no source.
fn empty(id: Id, label: String, address: &str) -> Survey {
    Survey {
        site: Site {
            id,
            label,
            address: address.to_owned(),
            invented: false,
            surveyed_on: None,
            surveyor: None,
            origin: None,
            exposure: Exposure {
                setting: Setting::OutdoorOpen,
                salt: Salt::default(),
                cleaning: String::new(),
                public_reach: PublicReach::PublicAlways,
                least_temperature: Celsius::new(-20.0),
                greatest_temperature: Celsius::new(40.0),
                in_sun: true,
                special: None,
            },
            note: String::new(),
        },
        rails: Vec::new(),
        mains_points: Vec::new(),
        driver_places: Vec::new(),
        routes: Vec::new(),
        photos: Vec::new(),
        brief: crate::wire::survey::Brief::default().into_plain(),
    }
}
