//! The plan of a stored site, with the findings about what is stored.

use catalogue::Catalogue;
use plan::Memory;
use record::document::Reading;
use record::store::Site;

use super::findings::{self, Moment};
use super::{SiteError, Sites, find, history};
use crate::planned::Planned;

impl Sites {
    /// Plans a site as it stands, or as it stood with a change or at a moment.
    ///
    /// # Errors
    /// There is no such site or moment, it cannot be read, or the database fails.
    pub fn show(&mut self, asked: &str, at: Option<&str>, catalogue: Catalogue) -> Result<Planned, SiteError> {
        planned(&self.site(asked)?, at, catalogue, self.memory())
    }
}

/// A site with its plan, as it would stand with edits that were only rehearsed.
pub fn planned_reading(
    site: &Site,
    reading: Reading,
    catalogue: Catalogue,
    memory: &Memory,
) -> Result<Planned, SiteError> {
    let survey = find::survey(site.document(), reading.clone())?;
    let more = findings::of(site, &reading, Moment::Now);
    Ok(Planned::with(survey, catalogue, more, findings::refused, memory))
}

/// A site with its plan, as it stands or stood.
pub fn planned(site: &Site, at: Option<&str>, catalogue: Catalogue, memory: &Memory) -> Result<Planned, SiteError> {
    let reading = history::reading(site, at)?;
    if at.is_none() {
        return planned_reading(site, reading, catalogue, memory);
    }
    let survey = find::survey(site.document(), reading.clone())?;
    let more = findings::of(site, &reading, Moment::Past);
    Ok(Planned::with(survey, catalogue, more, findings::refused, memory))
}
