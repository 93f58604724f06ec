//! Full-text search over labels, notes and addresses.

use std::collections::BTreeMap;

use super::{SiteError, Sites};
use crate::wire::sites::{HitLine, SiteHits};

/// More places than anybody reads.
const MOST_HITS: usize = 200;

impl Sites {
    /// Places whose text holds every word, each as it begins.
    ///
    /// # Errors
    /// The database fails.
    pub fn search(&self, words: &str) -> Result<SiteHits, SiteError> {
        let labels: BTreeMap<String, String> =
            self.store.sites()?.into_iter().map(|row| (row.document, row.label)).collect();
        let hits = self.store.search(words, MOST_HITS)?.into_iter().map(|hit| HitLine {
            label: labels.get(&hit.document).cloned().unwrap_or_default(),
            id: hit.document,
            thing: hit.thing,
            field: hit.field,
            text: hit.text,
        });
        Ok(SiteHits { schema_version: 1, words: words.to_owned(), hits: hits.collect() })
    }
}
