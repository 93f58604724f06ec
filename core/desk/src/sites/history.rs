//! What was changed, by whom and when; and the site as it was at a past moment.

use record::document::Reading;
use record::store::{Entry, Site};

use super::{SiteError, Sites, moment};
use crate::hex::hex;
use crate::wire::sites::{ChangeLine, SetAsideLine, SiteHistory};

/// Fewer digits of a change's name could mean a day or nothing at all.
const LEAST_DIGITS: usize = 6;

impl Sites {
    /// Every change of a site in words.
    ///
    /// # Errors
    /// There is no such site, or the database fails.
    pub fn history(&mut self, asked: &str) -> Result<SiteHistory, SiteError> {
        let site = self.site(asked)?;
        let changes = site.history().into_iter().map(|entry| ChangeLine {
            change: entry.change.to_string(),
            when: moment::written(entry.time_ms),
            person: entry.person,
            device: hex(&entry.device.0),
            sentence: entry.sentence,
        });
        Ok(SiteHistory {
            schema_version: 1,
            id: site.document().to_owned(),
            changes: changes.collect(),
            set_aside: set_aside(&site),
        })
    }

    /// What can be taken back and what can be made again, in words.
    ///
    /// # Errors
    /// There is no such site, or the database fails.
    pub fn steps(&mut self, asked: &str) -> Result<(Option<String>, Option<String>), SiteError> {
        let site = self.site(asked)?;
        Ok(site.steps(&self.store))
    }
}

/// The changes of an open site that do not count.
pub(crate) fn set_aside(site: &Site) -> Vec<SetAsideLine> {
    let lines = site.set_aside().iter().map(|aside| SetAsideLine {
        person: aside.person.clone(),
        device: hex(&aside.device.0),
        why: aside.why.clone(),
    });
    lines.collect()
}

/// What a site says now, or said with a change or at a moment.
pub fn reading(site: &Site, at: Option<&str>) -> Result<Reading, SiteError> {
    let Some(asked) = at else { return Ok(site.reading()) };
    let history = site.history();
    let digits = asked.to_lowercase();
    let fits: Vec<&Entry> = if digits.len() < LEAST_DIGITS {
        Vec::new()
    } else {
        history.iter().filter(|entry| entry.change.to_string().starts_with(&digits)).collect()
    };
    match (fits.as_slice(), moment::named(asked)) {
        ([one], _) => Ok(site.at(one.change)?),
        (_, Some(ms)) if history.iter().any(|entry| entry.time_ms <= ms) => Ok(site.at_time(ms)?),
        _ => {
            let first = history.iter().map(|entry| entry.time_ms).min().map(moment::written).unwrap_or_default();
            let accepted = format!(
                "the first {LEAST_DIGITS} or more digits of a change as newel site history lists them, or a day or \
                 moment from {first} on, such as 2030-03-04 or 2030-03-04T10:20:30Z"
            );
            Err(SiteError::NoMoment { asked: asked.to_owned(), accepted })
        }
    }
}
