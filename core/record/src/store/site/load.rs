//! Loading a document from its changes: what is not signed by a known device is set aside and named.
//!
//! Changes whose signatures were checked once are taken from a snapshot, which is built from them and can be thrown away
//! at any time; a rebuild throws it away and checks every signature anew.

use std::collections::{BTreeMap, BTreeSet};

use automerge::{ActorId, Automerge, Change};

use super::change::claim;
use super::{Author, SetAside, Site, Store, StoreError};
use crate::sign::{Claim, DeviceId};
use crate::store::changes::{self, ChangeRow, Head};
use crate::store::{devices, snapshots};

/// So many bytes of changes beyond the snapshot make a new one worth its while.
const WORTH_A_SNAPSHOT: usize = 64 * 1024;

/// Who may write here: known devices, and the actors that they certified.
struct Gate {
    known: BTreeSet<DeviceId>,
    certificates: BTreeMap<(Vec<u8>, DeviceId), [u8; 64]>,
    checked: BTreeMap<(Vec<u8>, DeviceId), bool>,
}

impl Gate {
    fn of(store: &Store) -> Result<Self, StoreError> {
        let known = devices::all(&store.db)?.into_values().filter(|device| device.known);
        let certificates = devices::actors(&store.db)?.into_iter();
        Ok(Self {
            known: known.map(|device| device.device).collect(),
            certificates: certificates.map(|row| ((row.actor, row.device), row.signature)).collect(),
            checked: BTreeMap::new(),
        })
    }

    fn is_certified(&mut self, actor: &ActorId, device: DeviceId) -> bool {
        let pair = (actor.to_bytes().to_vec(), device);
        let Some(signature) = self.certificates.get(&pair) else { return false };
        *self
            .checked
            .entry(pair)
            .or_insert_with_key(|(actor, device)| device.signed(&Claim::Actor { actor }, signature))
    }

    /// The change of a row, or why it does not count.
    fn pass(&mut self, row: &ChangeRow) -> Result<Change, String> {
        let change = Change::from_bytes(row.chunk.clone()).map_err(|why| format!("it is damaged: {why}"))?;
        let refused = if !self.known.contains(&row.device) {
            "its device is not known here"
        } else if !self.is_certified(change.actor_id(), row.device) {
            "its device did not certify who wrote it"
        } else if change.hash().0 != row.hash || !row.device.signed(&claim(row), &row.signature) {
            "its signature does not hold"
        } else {
            return Ok(change);
        };
        Err(refused.to_owned())
    }
}

impl Site {
    /// Loads a document.
    pub(crate) fn load(store: &Store, document: &str) -> Result<Self, StoreError> {
        let heads = changes::heads(&store.db, document)?;
        if heads.is_empty() {
            return Err(StoreError::Missing(document.to_owned()));
        }
        let mut gate = Gate::of(store)?;
        let mut site = Self::empty(document, store.access.document(), store.arrivals()?);
        let known = site.start(store, &heads, &gate)?;
        let (mut good, mut bytes) = (Vec::new(), 0);
        for head in heads.iter().filter(|head| !known.contains(&head.hash)) {
            let row = changes::row(&store.db, document, head)?;
            match gate.pass(&row) {
                Ok(change) => {
                    bytes += row.chunk.len();
                    site.authors.insert(row.hash, head.author());
                    good.push(change);
                }
                Err(why) => site.set_aside_row(head, why),
            }
        }
        if !good.is_empty() {
            site.doc.apply_changes(good)?;
            site.part_from_pending(&heads);
            if bytes > WORTH_A_SNAPSHOT && store.access.may_write().is_ok() {
                // A snapshot only makes the next opening quicker: where it cannot be kept, nothing is lost.
                let _ = snapshots::put(&store.db, document, &site.doc);
            }
        }
        site.look();
        Ok(site)
    }

    /// Starts from the snapshot, where every change in it is still vouched for; says what it holds.
    fn start(&mut self, store: &Store, heads: &[Head], gate: &Gate) -> Result<BTreeSet<[u8; 32]>, StoreError> {
        let Some(saved) = snapshots::get(&store.db, &self.document)? else { return Ok(BTreeSet::new()) };
        let Ok(mut doc) = Automerge::load(&saved) else { return Ok(BTreeSet::new()) };
        let mut authors = BTreeMap::new();
        let actors: BTreeMap<[u8; 32], Vec<u8>> =
            doc.get_changes_meta(&[]).into_iter().map(|c| (c.hash.0, c.actor.to_bytes().to_vec())).collect();
        for head in heads {
            let Some(actor) = actors.get(&head.hash) else { continue };
            if gate.known.contains(&head.device) && gate.certificates.contains_key(&(actor.clone(), head.device)) {
                authors.insert(head.hash, head.author());
            }
        }
        if authors.len() != actors.len() {
            return Ok(BTreeSet::new());
        }
        doc.set_actor(self.doc.get_actor().clone());
        (self.doc, self.authors) = (doc, authors);
        Ok(actors.into_keys().collect())
    }

    /// Sets aside what builds on changes that are not here.
    fn part_from_pending(&mut self, heads: &[Head]) {
        let applied: BTreeSet<[u8; 32]> = self.doc.get_changes_meta(&[]).into_iter().map(|c| c.hash.0).collect();
        for head in heads {
            if !applied.contains(&head.hash) && self.authors.remove(&head.hash).is_some() {
                self.set_aside_row(head, "it builds on a change that is not here yet".to_owned());
            }
        }
    }

    fn set_aside_row(&mut self, head: &Head, why: String) {
        self.aside.push(SetAside { person: head.person.clone(), device: head.device, why });
    }
}

impl Head {
    fn author(&self) -> Author {
        Author { device: self.device, person: self.person.clone(), time_ms: self.time_ms }
    }
}
