//! The list of sites.

use record::document::Stage;
use record::store::SiteRow;

use super::{Said, SiteError, Sites, moment};
use crate::wire::sites::{SiteLine, SiteList, SurveyFindings};

impl Sites {
    /// The sites, last changed first.
    ///
    /// # Errors
    /// The database fails.
    pub fn list(&self) -> Result<SiteList, SiteError> {
        Ok(SiteList { schema_version: 1, sites: self.store.sites()?.into_iter().map(line).collect() })
    }

    /// Says how far the job has come: survey, scheme, price or fit.
    ///
    /// # Errors
    /// There is no such site or stage, or the database fails.
    pub fn put_stage(&mut self, asked: &str, stage: &str) -> Result<Said, SiteError> {
        let stage = Stage::of_word(stage).ok_or_else(|| SiteError::NoStage(stage.to_owned()))?;
        let (mut site, now) = (self.site(asked)?, self.now());
        let sentence = site.put_stage(&mut self.store, stage, now)?;
        Ok(Said { id: site.document().to_owned(), sentence })
    }

    /// Builds list and search anew from the changes.
    ///
    /// # Errors
    /// The database fails.
    pub fn rebuild(&mut self) -> Result<usize, SiteError> {
        self.store.rebuild()?;
        Ok(self.store.sites()?.len())
    }
}

fn line(row: SiteRow) -> SiteLine {
    SiteLine {
        id: row.document,
        label: row.label,
        address: row.address,
        stage: row.stage.word().to_owned(),
        rails: count(row.rails),
        features: count(row.features),
        photos: count(row.photos),
        findings: SurveyFindings { stop: count(row.stops), open: count(row.findings - row.stops) },
        disagreements: count(row.disagreements),
        unreadable: count(row.unreadable),
        set_aside: count(row.set_aside),
        archived: row.archived,
        last_change: moment::written(row.last_change_ms),
    }
}

/// A number of things; the database counts in numbers that may be negative, which none of these is.
fn count(number: i64) -> u32 {
    u32::try_from(number.max(0)).unwrap_or(u32::MAX)
}
