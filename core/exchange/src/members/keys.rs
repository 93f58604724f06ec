//! The team keys that this device holds, with which of them it seals, and what it owes to others.

use std::collections::{BTreeMap, BTreeSet};

use super::{Body, Entry, Hash, Log, Team};
use crate::DeviceId;
use crate::seal::{Identity, KeyId, Keys, Name, Purpose, SealError, Wrapped};

/// The keys of one device.
#[derive(Clone)]
pub struct Ring {
    keys: BTreeMap<KeyId, (Option<[u8; 32]>, Keys)>,
    seals_with: Option<KeyId>,
}

impl std::fmt::Debug for Ring {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Ring({} keys)", self.keys.len())
    }
}

impl Ring {
    /// The keys that a log holds for this device.
    #[must_use]
    pub fn new(log: &Log, team: &Team, own: &Identity) -> Self {
        if !team.sealed {
            let keys = Keys::open_folder();
            return Self { seals_with: Some(keys.id()), keys: BTreeMap::from([(keys.id(), (None, keys))]) };
        }
        let mut ring = Self { keys: BTreeMap::new(), seals_with: None };
        for (hash, _) in &team.order {
            for (id, wrapped) in log.entry(hash).into_iter().flat_map(|entry| &entry.keys) {
                if ring.keys.contains_key(id) {
                    continue;
                }
                let Some(key) = wrapped.open(own) else { continue };
                let keys = Keys::new(&key);
                if keys.id() == *id {
                    ring.keys.insert(*id, (Some(key), keys));
                }
            }
        }
        let held = newest_clean(log, team).into_iter().find(|id| ring.keys.contains_key(id));
        ring.seals_with = held;
        ring
    }

    /// The keys with which this device seals; `None` where it holds none that only members have.
    #[must_use]
    pub fn seals_with(&self) -> Option<&Keys> {
        self.keys.get(&self.seals_with?).map(|(_, keys)| keys)
    }

    fn of(&self, sealed: &[u8]) -> Result<&Keys, SealError> {
        let found = match crate::seal::key_of(sealed)? {
            Some(id) => self.keys.get(&id),
            None => self.keys.first_key_value().map(|(_, found)| found),
        };
        found.map(|(_, keys)| keys).ok_or(SealError::OtherKey)
    }

    /// Opens with whichever key sealed it.
    ///
    /// # Errors
    /// That key is not held, or it is damaged.
    pub fn open(&self, purpose: Purpose, context: &[u8], sealed: &[u8]) -> Result<Vec<u8>, SealError> {
        self.of(sealed)?.open(purpose, context, sealed)
    }

    /// Opens an object with whichever key sealed it, in the place of its file, and proves its name. The file is not to be
    /// used after a failure.
    ///
    /// # Errors
    /// That key is not held, or it is damaged.
    pub fn open_object<'a>(&self, name: Name, sealed: &'a mut [u8]) -> Result<&'a [u8], SealError> {
        self.of(sealed)?.open_object(name, sealed)
    }

    /// The object of a content under the key by which it has this name, for writing a lost one again.
    #[must_use]
    pub fn object_named(&self, name: Name, plain: &[u8]) -> Option<Vec<u8>> {
        let (_, keys) = self.keys.values().find(|(_, keys)| keys.name(plain) == name)?;
        Some(keys.object(plain).1)
    }

    /// What a member is called by its own word.
    #[must_use]
    pub fn label(&self, newcomer: &super::Newcomer) -> Option<super::Label> {
        newcomer.label(self.of(&newcomer.label).ok()?)
    }

    /// All keys, wrapped for one device.
    pub(crate) fn wrapped(
        &self,
        device: DeviceId,
        receives: &[u8; 32],
        random: &mut dyn FnMut() -> [u8; 32],
    ) -> Vec<(KeyId, Wrapped)> {
        let keys = self.keys.iter().filter_map(|(id, (key, _))| Some((*id, key.as_ref()?)));
        keys.filter_map(|(id, key)| Some((id, Wrapped::new(key, device, receives, random())?))).collect()
    }

    /// What members lack of the keys that this device holds, and a new key where none is left that only members have.
    pub(crate) fn owed(&self, log: &Log, team: &Team, random: &mut dyn FnMut() -> [u8; 32]) -> Vec<(KeyId, Wrapped)> {
        if !team.sealed {
            return Vec::new();
        }
        let have = recipients(log, team);
        let mut owed = Vec::new();
        for (device, member) in &team.members {
            for (id, (key, _)) in &self.keys {
                let Some(key) = key.as_ref().filter(|_| !have.get(id).is_some_and(|d| d.contains(device))) else {
                    continue;
                };
                owed.extend(Wrapped::new(key, *device, &member.newcomer.receives, random()).map(|w| (*id, w)));
            }
        }
        if newest_clean(log, team).is_empty() {
            owed.extend(fresh_key(team.members.iter().map(|(d, m)| (*d, m.newcomer.receives)), random));
        }
        owed
    }
}

/// A new team key, wrapped for some devices.
pub(crate) fn fresh_key(
    devices: impl Iterator<Item = (DeviceId, [u8; 32])>,
    random: &mut dyn FnMut() -> [u8; 32],
) -> Vec<(KeyId, Wrapped)> {
    let key = random();
    let id = Keys::new(&key).id();
    devices.filter_map(|(device, receives)| Some((id, Wrapped::new(&key, device, &receives, random())?))).collect()
}

/// For whom each key was ever wrapped, by whomever.
fn recipients(log: &Log, team: &Team) -> BTreeMap<KeyId, BTreeSet<DeviceId>> {
    let mut all: BTreeMap<KeyId, BTreeSet<DeviceId>> = BTreeMap::new();
    for entry in team.order.iter().filter_map(|(hash, _)| log.entry(hash)) {
        for (id, wrapped) in &entry.keys {
            all.entry(*id).or_default().insert(wrapped.device);
        }
    }
    all
}

/// The keys that nobody but members has, newest first: all who hold the same log seal with the same.
fn newest_clean(log: &Log, team: &Team) -> Vec<KeyId> {
    let have = recipients(log, team);
    let clean = |id: &KeyId| have.get(id).is_some_and(|devices| devices.iter().all(|d| team.members.contains_key(d)));
    let mut found = Vec::new();
    for entry in team.order.iter().filter(|(_, stands)| *stands).filter_map(|(hash, _)| log.entry(hash)) {
        for (id, _) in &entry.keys {
            if clean(id) && !found.contains(id) {
                found.push(*id);
            }
        }
    }
    found.reverse();
    found
}

impl Log {
    /// Signs an entry that builds on everything here, lets it in, and returns its hash and file. `None` where its signer
    /// may not write it.
    pub(crate) fn write(
        &mut self,
        own: &Identity,
        team: &Team,
        body: Body,
        keys: Vec<(KeyId, Wrapped)>,
        time_ms: i64,
    ) -> Option<(Hash, Vec<u8>)> {
        let entry = Entry { signer: own.id(), after: team.heads.clone(), time_ms, body, keys };
        let (hash, bytes) = entry.sign(own);
        self.take(vec![bytes.clone()]);
        self.has(&hash).then_some((hash, bytes))
    }
}
