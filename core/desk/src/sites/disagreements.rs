//! Fields that people changed at once to different values: both are heard, one is chosen.

use record::document::{Kind, REMOVED};
use record::store::{Disagreement, Site};

use super::{Said, SiteError, Sites, findings, moment};
use crate::wire::sites::{DisagreementLine, PositionLine, SiteDisagreements};

impl Sites {
    /// The disagreements of a site.
    ///
    /// # Errors
    /// There is no such site, or the database fails.
    pub fn disagreements(&mut self, asked: &str) -> Result<SiteDisagreements, SiteError> {
        let site = self.site(asked)?;
        Ok(SiteDisagreements { schema_version: 1, id: site.document().to_owned(), disagreements: lines(&site) })
    }

    /// Settles a disagreement by one of its values, named by its number.
    ///
    /// # Errors
    /// There is no such disagreement or number, or the database fails.
    pub fn settle(&mut self, asked: &str, disagreement: &str, number: u32) -> Result<Said, SiteError> {
        let mut site = self.site(asked)?;
        let sentence = self.settle_in(&mut site, disagreement, number)?;
        Ok(Said { id: site.document().to_owned(), sentence })
    }

    /// Settles a disagreement of a site that is open.
    pub(crate) fn settle_in(&mut self, site: &mut Site, disagreement: &str, number: u32) -> Result<String, SiteError> {
        let all = site.disagreements();
        let known = || {
            let names: Vec<String> = all.iter().map(name).collect();
            if names.is_empty() { "none, since nobody disagrees".to_owned() } else { names.join(", ") }
        };
        let found = all
            .iter()
            .find(|about| name(about) == disagreement)
            .ok_or_else(|| SiteError::NoDisagreement { asked: disagreement.to_owned(), accepted: known() })?;
        let position = number.checked_sub(1).and_then(|at| found.positions.get(at as usize)).ok_or_else(|| {
            SiteError::NoDisagreement {
                asked: format!("{disagreement} {number}"),
                accepted: format!("{disagreement} with a number from 1 to {}", found.positions.len()),
            }
        })?;
        let now = self.now();
        Ok(site.settle(&mut self.store, found, &position.value, now)?)
    }
}

/// The disagreements of an open site.
pub(crate) fn lines(site: &Site) -> Vec<DisagreementLine> {
    site.disagreements().iter().map(line).collect()
}

fn line(about: &Disagreement) -> DisagreementLine {
    let positions = about.positions.iter().zip(1..).map(|(position, number)| PositionLine {
        number,
        value: position.said.clone(),
        person: position.person.clone(),
        when: moment::written(position.time_ms),
    });
    DisagreementLine {
        name: name(about),
        about: about.about.clone(),
        stops: weight(about) == Weight::Safety,
        positions: positions.collect(),
    }
}

/// The name of a disagreement: the way to the field in the document.
fn name(about: &Disagreement) -> String {
    let mut way = about.thing.path();
    way.push(&about.field);
    way.join("/")
}

/// What hangs on a disputed field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Somebody's safety: it counts as stop until it is settled.
    Safety,
    /// Where holes come and what is built.
    Figures,
    /// Words and pictures.
    Words,
}

/// How much hangs on the field of a disagreement.
pub fn weight(about: &Disagreement) -> Weight {
    let words = ["label", "note", "address", "file", "surveyor", "surveyed_on", "concerns", "order", "stage", REMOVED];
    if findings::is_safety(about) {
        Weight::Safety
    } else if words.contains(&about.field.as_str()) || about.thing.kind == Kind::Photo {
        Weight::Words
    } else {
        Weight::Figures
    }
}
