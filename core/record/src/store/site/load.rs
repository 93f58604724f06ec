//! Loading a document from its changes: what is not signed by a device that counts is set aside and named, together with
//! what builds on it.
//!
//! Changes whose signatures were checked once are taken from a snapshot, which is built from them and can be thrown away
//! at any time; a rebuild throws it away and checks every signature anew.

use std::collections::{BTreeMap, BTreeSet};

use automerge::{ActorId, Automerge, Change};

use super::change::claim;
use super::{Author, SetAside, Site, Store, StoreError};
use crate::sign::{Claim, DeviceId};
use crate::store::changes::{self, ChangeRow, Head};
use crate::store::standing::Judge;
use crate::store::{Cause, devices, snapshots};

/// So many bytes of changes beyond the snapshot make a new one worth its while.
const WORTH_A_SNAPSHOT: usize = 64 * 1024;

/// Hashes of changes, each with those on which it builds.
type Needs = BTreeMap<[u8; 32], Vec<[u8; 32]>>;

/// Who may write here: devices that count, and the actors that they certified.
struct Gate {
    judge: Judge,
    certificates: BTreeMap<(Vec<u8>, DeviceId), [u8; 64]>,
    checked: BTreeMap<(Vec<u8>, DeviceId), bool>,
    /// Of devices of which some changes count: those, within this document.
    accepted: BTreeMap<DeviceId, BTreeSet<[u8; 32]>>,
}

impl Gate {
    fn of(store: &Store, document: &str, heads: &[Head]) -> Result<Self, StoreError> {
        let judge = Judge::of(store)?;
        let certificates = devices::actors(&store.db)?.into_iter();
        let partly: BTreeSet<DeviceId> =
            heads.iter().map(|head| head.device).filter(|device| judge.is_partly_accepted(*device)).collect();
        let needs = if partly.is_empty() { Needs::new() } else { needs(store, document, heads)? };
        Ok(Self {
            certificates: certificates.map(|row| ((row.actor, row.device), row.signature)).collect(),
            checked: BTreeMap::new(),
            accepted: partly.into_iter().map(|device| (device, judge.with_needs(device, &needs))).collect(),
            judge,
        })
    }

    /// Whether a change counts as far as its own device goes.
    fn admits(&self, head: &Head) -> bool {
        self.judge.counts(head.device)
            || self.accepted.get(&head.device).is_some_and(|changes| changes.contains(&head.hash))
    }

    fn is_certified(&mut self, actor: &ActorId, device: DeviceId) -> bool {
        let pair = (actor.to_bytes().to_vec(), device);
        let Some(signature) = self.certificates.get(&pair) else { return false };
        *self
            .checked
            .entry(pair)
            .or_insert_with_key(|(actor, device)| device.signed(&Claim::Actor { actor }, signature))
    }

    /// The change of a row that is admitted, or what is wrong with it.
    fn pass(&mut self, row: &ChangeRow) -> Result<Change, String> {
        let change = Change::from_bytes(row.chunk.clone()).map_err(|why| format!("it is damaged: {why}"))?;
        let refused = if !self.is_certified(change.actor_id(), row.device) {
            "its device did not certify who wrote it"
        } else if change.hash().0 != row.hash || !row.device.signed(&claim(row), &row.signature) {
            "its signature does not hold"
        } else {
            return Ok(change);
        };
        Err(refused.to_owned())
    }
}

/// What each change of a document builds on; those that cannot be read build on nothing.
fn needs(store: &Store, document: &str, heads: &[Head]) -> Result<Needs, StoreError> {
    let mut needs = Needs::new();
    for head in heads {
        let row = changes::row(&store.db, document, head)?;
        let deps = Change::from_bytes(row.chunk).map(|change| change.deps().iter().map(|dep| dep.0).collect());
        needs.insert(head.hash, deps.unwrap_or_default());
    }
    Ok(needs)
}

impl Site {
    /// Loads a document.
    pub(crate) fn load(store: &Store, document: &str) -> Result<Self, StoreError> {
        let heads = changes::heads(&store.db, document)?;
        if heads.is_empty() {
            return Err(StoreError::Missing(document.to_owned()));
        }
        let mut gate = Gate::of(store, document, &heads)?;
        let mut site = Self::empty(document, store.access.document(), store.arrivals()?);
        let known = site.start(store, &heads, &gate)?;
        let (mut good, mut bytes, mut outside) = (Vec::new(), 0, Vec::new());
        for head in heads.iter().filter(|head| !known.contains(&head.hash)) {
            if !gate.admits(head) {
                outside.push((head, gate.judge.cause(head.device)));
                continue;
            }
            let row = changes::row(&store.db, document, head)?;
            match gate.pass(&row) {
                Ok(change) => {
                    bytes += row.chunk.len();
                    site.authors.insert(row.hash, head.author());
                    good.push(change);
                }
                Err(why) => site.set_aside_row(head, Cause::Damaged, why),
            }
        }
        if !good.is_empty() {
            site.doc.apply_changes(good)?;
            if bytes > WORTH_A_SNAPSHOT && store.access.may_write().is_ok() {
                // A snapshot only makes the next opening quicker: where it cannot be kept, nothing is lost.
                let _ = snapshots::put(&store.db, document, &site.doc);
            }
        }
        site.part(store, &heads, &outside)?;
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
            if gate.admits(head) && gate.certificates.contains_key(&(actor.clone(), head.device)) {
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

    /// Sets aside what is not to be admitted, and what builds on that or on changes that are not here.
    fn part(&mut self, store: &Store, heads: &[Head], outside: &[(&Head, Cause)]) -> Result<(), StoreError> {
        let applied: BTreeSet<[u8; 32]> = self.doc.get_changes_meta(&[]).into_iter().map(|c| c.hash.0).collect();
        let pending: Vec<&Head> =
            heads.iter().filter(|h| !applied.contains(&h.hash) && self.authors.contains_key(&h.hash)).collect();
        if outside.is_empty() && pending.is_empty() {
            return Ok(());
        }
        let mut causes: BTreeMap<[u8; 32], Cause> = outside.iter().map(|(head, cause)| (head.hash, *cause)).collect();
        let apart: Vec<Head> = outside.iter().map(|(head, _)| *head).chain(pending.iter().copied()).cloned().collect();
        let needs = needs(store, &self.document, &apart)?;
        let waits: BTreeSet<[u8; 32]> = needs.keys().copied().collect();
        // What a change builds on outweighs its own cause, until nothing changes any more.
        loop {
            let mut settled = true;
            for (hash, deps) in &needs {
                let of_dep = |dep: &[u8; 32]| match causes.get(dep) {
                    _ if applied.contains(dep) => None,
                    Some(cause) => Some(*cause),
                    None if waits.contains(dep) => None,
                    None => Some(Cause::Missing),
                };
                let worst = deps.iter().filter_map(of_dep).chain(causes.get(hash).copied()).max();
                if let Some(worst) = worst.filter(|worst| causes.get(hash) != Some(worst)) {
                    causes.insert(*hash, worst);
                    settled = false;
                }
            }
            if settled {
                break;
            }
        }
        for (head, alone) in outside {
            let cause = causes.get(&head.hash).copied().unwrap_or(*alone);
            let why = if cause == *alone { own_words(cause) } else { words(cause) };
            self.set_aside_row(head, cause, why);
        }
        for head in pending {
            self.authors.remove(&head.hash);
            let cause = causes.get(&head.hash).copied().unwrap_or(Cause::Missing);
            self.set_aside_row(head, cause, words(cause));
        }
        Ok(())
    }

    fn set_aside_row(&mut self, head: &Head, cause: Cause, why: String) {
        self.aside.push(SetAside { person: head.person.clone(), device: head.device, cause, why });
    }
}

/// Why a change of such a device does not count.
fn own_words(cause: Cause) -> String {
    match cause {
        Cause::Refused(_) => "its device was removed from the team before this was accepted".to_owned(),
        _ => "its device is not known here".to_owned(),
    }
}

/// Why a change does not count that builds on another.
fn words(cause: Cause) -> String {
    match cause {
        Cause::Unknown(device) => format!("it builds on a change of device {device}, which is not known here"),
        Cause::Refused(device) => {
            format!("it builds on a change of device {device} that came after that was removed from the team")
        }
        Cause::Missing | Cause::Damaged => "it builds on a change that is not here yet".to_owned(),
    }
}

impl Head {
    fn author(&self) -> Author {
        Author { device: self.device, person: self.person.clone(), time_ms: self.time_ms }
    }
}
