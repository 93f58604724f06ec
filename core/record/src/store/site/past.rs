//! The history, and the site as it was at any past moment.

use std::collections::BTreeSet;

use automerge::ChangeHash;

use super::{Site, StoreError};
use crate::document::{Reading, read};
use crate::edit::Note;
use crate::sign::DeviceId;

/// A line of the history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The change; [`Site::at`] shows the site as it was with it.
    pub change: ChangeHash,
    /// Who.
    pub person: String,
    /// The device.
    pub device: DeviceId,
    /// When, milliseconds since 1970.
    pub time_ms: i64,
    /// What, in words.
    pub sentence: String,
}

impl Site {
    /// Every change in an order in which each follows what it builds on.
    #[must_use]
    pub fn history(&self) -> Vec<Entry> {
        let entries = self.doc.get_changes_meta(&[]).into_iter().filter_map(|change| {
            let author = self.authors.get(&change.hash.0)?;
            Some(Entry {
                change: change.hash,
                person: author.person.clone(),
                device: author.device,
                time_ms: author.time_ms,
                sentence: Note::read(change.message.as_deref().unwrap_or_default()).sentence,
            })
        });
        entries.collect()
    }

    /// The site as it was with a change and everything that it builds on.
    ///
    /// # Errors
    /// The change is not of this site.
    pub fn at(&self, change: ChangeHash) -> Result<Reading, StoreError> {
        Ok(read(&self.doc.fork_at(&[change])?))
    }

    /// The site as it was at a time: every change up to then whose ground was laid by then.
    ///
    /// # Errors
    /// The document fails.
    pub fn at_time(&self, time_ms: i64) -> Result<Reading, StoreError> {
        let mut within: BTreeSet<ChangeHash> = BTreeSet::new();
        let mut heads: BTreeSet<ChangeHash> = BTreeSet::new();
        for change in self.doc.get_changes_meta(&[]) {
            let early = self.authors.get(&change.hash.0).is_some_and(|author| author.time_ms <= time_ms);
            if early && change.deps.iter().all(|dep| within.contains(dep)) {
                within.insert(change.hash);
                for dep in &change.deps {
                    heads.remove(dep);
                }
                heads.insert(change.hash);
            }
        }
        let heads: Vec<ChangeHash> = heads.into_iter().collect();
        Ok(read(&self.doc.fork_at(&heads)?))
    }
}
