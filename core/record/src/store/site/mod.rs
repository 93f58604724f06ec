//! One open site: its document in memory, every edit made durable before it is acknowledged.

mod change;
mod concerns;
mod dispute;
mod load;
mod past;
mod undo;

use std::collections::BTreeMap;

use automerge::{Automerge, ObjId};

use super::projection::{Projected, Share};
use super::{Cause, Store, StoreError};
use crate::document::{Content, Part, Parts, Reading, STAGE, Stage, Thing, compose, field, part, part_of, parts};
use crate::edit::{Note, name};
use crate::sign::DeviceId;
use crate::stored::Stored;
use crate::together::each;

pub use change::Shelf;
pub(super) use change::claim;
pub use dispute::{Disagreement, Position};
pub use past::Entry;

/// Who made a change, and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Author {
    pub device: DeviceId,
    pub person: String,
    pub time_ms: i64,
}

/// A change that does not count, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetAside {
    /// Who signed it, by its own word.
    pub person: String,
    /// The device.
    pub device: DeviceId,
    /// Why it does not count.
    pub cause: Cause,
    /// The same in words.
    pub why: String,
}

/// An open site.
pub struct Site {
    document: String,
    doc: Automerge,
    content: Content,
    /// The content as it was read, part by part.
    parts: Parts,
    authors: BTreeMap<[u8; 32], Author>,
    aside: Vec<SetAside>,
    /// What the database shows of it.
    projected: Projected,
    /// How much this store had taken in when the site was loaded.
    arrivals: u64,
    /// How many changes were made since the last snapshot.
    since_snapshot: usize,
}

impl Site {
    pub(crate) fn empty(document: &str, doc: Automerge, arrivals: u64) -> Self {
        Self {
            document: document.to_owned(),
            doc,
            content: Content::default(),
            parts: Parts::new(),
            authors: BTreeMap::new(),
            aside: Vec::new(),
            projected: Projected::default(),
            arrivals,
            since_snapshot: 0,
        }
    }

    /// Loads again where the store has taken something in since, so that nobody edits a site that is behind.
    ///
    /// # Errors
    /// The database fails.
    pub fn catch_up(&mut self, store: &Store) -> Result<(), StoreError> {
        if self.arrivals != store.arrivals()? {
            *self = Self::load(store, &self.document)?;
        }
        Ok(())
    }

    /// The document's id.
    #[must_use]
    pub fn document(&self) -> &str {
        &self.document
    }

    /// What the document says.
    #[must_use]
    pub fn reading(&self) -> Reading {
        compose(&self.content, &self.parts)
    }

    /// Everything in the document, thing by thing.
    #[must_use]
    pub fn content(&self) -> &Content {
        &self.content
    }

    /// Changes that do not count.
    #[must_use]
    pub fn set_aside(&self) -> &[SetAside] {
        &self.aside
    }

    /// How far the job has come; where people say different things, the earliest of them.
    #[must_use]
    pub fn stage(&self) -> Stage {
        let cell = self.content.things.get(&Thing::site()).and_then(|fields| fields.cells.get(STAGE));
        let Some(cell) = cell else { return Stage::default() };
        let values = cell.0.iter().filter_map(|written| Stage::from_scalar(&written.value).ok());
        values.min().unwrap_or_default()
    }

    pub(crate) fn last_change_ms(&self) -> i64 {
        self.authors.values().map(|author| author.time_ms).max().unwrap_or(0)
    }

    pub(crate) fn projected(&self) -> &Projected {
        &self.projected
    }

    pub(crate) fn parts(&self) -> impl Iterator<Item = (&Thing, &Part)> {
        self.parts.iter()
    }

    /// Looks at the whole document anew.
    fn look(&mut self) {
        self.content = Content::walk(&self.doc);
        self.parts = parts(&self.content);
        let parts: Vec<(&Thing, &Part)> = self.parts.iter().collect();
        let shares = each(&parts, |(head, part)| ((*head).clone(), Share::of(self, head, part))).into_iter().collect();
        self.projected = Projected::new(self, shares);
    }

    /// Looks anew at some things, and at the parts to which they belong; says how the projection was before in these
    /// parts and is now.
    fn look_at(&mut self, things: &[&Thing]) -> (Projected, Projected) {
        self.content.refresh_version(&self.doc);
        let mut heads: Vec<Thing> = things.iter().map(|thing| part_of(thing)).collect();
        heads.sort();
        heads.dedup();
        for thing in things {
            self.content.refresh(&self.doc, thing);
        }
        let (mut old, mut new) = (BTreeMap::new(), BTreeMap::new());
        for head in heads {
            let read = part(&self.content, &head);
            let share = Share::of(self, &head, &read);
            self.parts.insert(head.clone(), read);
            if let Some(share) = self.projected.shares.insert(head.clone(), share.clone()) {
                old.insert(head.clone(), share);
            }
            new.insert(head, share);
        }
        let old = Projected { row: self.projected.row.clone(), shares: old };
        let shares = std::mem::take(&mut self.projected.shares);
        self.projected = Projected::new(self, shares);
        (old, Projected { row: self.projected.row.clone(), shares: new })
    }

    fn notes(&self) -> impl Iterator<Item = ([u8; 32], DeviceId, Note)> + '_ {
        self.doc.get_changes_meta(&[]).into_iter().filter_map(|change| {
            let author = self.authors.get(&change.hash.0)?;
            Some((change.hash.0, author.device, Note::read(change.message.as_deref().unwrap_or_default())))
        })
    }

    fn author(&self, by: &ObjId) -> Option<&Author> {
        self.doc.hash_for_opid(by).and_then(|hash| self.authors.get(&hash.0))
    }

    fn about(&self, thing: &Thing, written: &str) -> String {
        let words = field(thing.kind, written).map_or(written, |field| field.words);
        let on = if thing.kind.of_rail() {
            format!(" on {}", name(&self.content, &Thing::rail(&thing.rail)))
        } else {
            String::new()
        };
        format!("{words} of {}{on}", name(&self.content, thing))
    }
}
