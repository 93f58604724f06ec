//! The log and the team that it makes.
//!
//! An entry is let into the log when its signer was a member by what the entry itself builds on; that never changes. Where
//! entries know nothing of one another, the team follows from these rules, whoever applies them and in whatever order:
//!
//! - A removal puts an end to what the removed device writes without knowing of it: none of that stands, except what the
//!   removal builds on.
//! - Of two devices that remove each other, the removal by the one longer in the team stands. Longer in the team is whose
//!   own entry lies nearer to the first one, then whose entry has the lesser hash.
//! - A device is a member where some standing entry lets it in that knows of every standing removal of it.

use std::collections::{BTreeMap, BTreeSet};

use super::entry::hash;
use super::{Body, Entry, Hash, Newcomer};
use crate::DeviceId;

/// A member's device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Member {
    /// Its keys and its label.
    pub newcomer: Newcomer,
    /// Who let it in.
    pub by: DeviceId,
}

/// A device that was shut out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Removed {
    /// Its keys and its label, where it ever was a member.
    pub newcomer: Option<Newcomer>,
    /// The last of its heads that counts.
    pub head: u64,
    /// The items of it that count, with all that they build on.
    pub accepted: BTreeSet<[u8; 32]>,
}

impl Removed {
    /// Whether it ever was a member: of one that nobody let in some work may have been accepted all the same.
    #[must_use]
    pub fn was_member(&self) -> bool {
        self.newcomer.is_some()
    }
}

/// An invitation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Invitation {
    /// Whose it is.
    pub by: DeviceId,
    /// Its secret, sealed with a team key.
    pub secret: Vec<u8>,
    /// Who came with it.
    pub used_by: Option<DeviceId>,
}

/// The team as the log makes it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Team {
    /// Whether files are sealed.
    pub sealed: bool,
    /// Its members' devices.
    pub members: BTreeMap<DeviceId, Member>,
    /// Devices that were shut out.
    pub removed: BTreeMap<DeviceId, Removed>,
    /// Invitations by their id.
    pub invitations: BTreeMap<[u8; 8], Invitation>,
    /// The entries on which none other builds.
    pub heads: Vec<Hash>,
    /// Every entry, those first on which others build, each with whether it stands.
    pub order: Vec<(Hash, bool)>,
}

/// The entries that were let in.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Log {
    root: Hash,
    entries: BTreeMap<Hash, (Entry, Vec<u8>)>,
}

impl Log {
    /// An empty log of the team whose first entry has this hash.
    #[must_use]
    pub fn new(root: Hash) -> Self {
        Self { root, entries: BTreeMap::new() }
    }

    /// The team's first entry.
    #[must_use]
    pub fn root(&self) -> Hash {
        self.root
    }

    /// An entry.
    #[must_use]
    pub fn entry(&self, hash: &Hash) -> Option<&Entry> {
        self.entries.get(hash).map(|(entry, _)| entry)
    }

    /// Every entry's bytes by its hash.
    pub fn files(&self) -> impl Iterator<Item = (&Hash, &[u8])> {
        self.entries.iter().map(|(hash, (_, bytes))| (hash, bytes.as_slice()))
    }

    /// Whether an entry is in it.
    #[must_use]
    pub fn has(&self, hash: &Hash) -> bool {
        self.entries.contains_key(hash)
    }

    /// Lets in what may be let in of some files, in whatever order they stand; says how many were fresh, and which hashes
    /// others build on that are not here.
    pub fn take(&mut self, files: Vec<Vec<u8>>) -> (usize, BTreeSet<Hash>) {
        let read = |bytes: Vec<u8>| Some((hash(&bytes), (Entry::read(&bytes)?, bytes)));
        let mut left: BTreeMap<Hash, (Entry, Vec<u8>)> = files.into_iter().filter_map(read).collect();
        let mut fresh = 0;
        loop {
            let ready: Vec<Hash> = left.iter().filter(|(_, (e, _))| self.knows(&e.after)).map(|(h, _)| *h).collect();
            if ready.is_empty() {
                break;
            }
            for hash in ready {
                let Some(found) = left.remove(&hash) else { continue };
                if !self.has(&hash) && self.may_enter(&hash, &found.0) {
                    self.entries.insert(hash, found);
                    fresh += 1;
                }
            }
        }
        let missing = left.values().flat_map(|(entry, _)| &entry.after).filter(|hash| !self.has(hash));
        (fresh, missing.copied().collect())
    }

    /// Puts entries back that were let in before, and so were proved.
    pub(crate) fn restore(root: Hash, files: Vec<Vec<u8>>) -> Option<Self> {
        let read = |bytes: Vec<u8>| Some((hash(&bytes), (Entry::parse(&bytes)?, bytes)));
        Some(Self { root, entries: files.into_iter().map(read).collect::<Option<_>>()? })
    }

    fn knows(&self, hashes: &[Hash]) -> bool {
        hashes.iter().all(|hash| self.has(hash))
    }

    fn may_enter(&self, hash: &Hash, entry: &Entry) -> bool {
        match &entry.body {
            Body::Found { founder, .. } => {
                *hash == self.root && entry.after.is_empty() && founder.device == entry.signer
            }
            _ => {
                let mut past = BTreeSet::new();
                let mut open = entry.after.clone();
                while let Some(hash) = open.pop() {
                    if past.insert(hash) {
                        open.extend(self.entry(&hash).into_iter().flat_map(|entry| &entry.after));
                    }
                }
                !past.is_empty() && self.team_of(&past).members.contains_key(&entry.signer)
            }
        }
    }

    /// The team that all entries make.
    #[must_use]
    pub fn team(&self) -> Team {
        self.team_of(&self.entries.keys().copied().collect())
    }

    fn team_of(&self, hashes: &BTreeSet<Hash>) -> Team {
        let some = hashes.iter().filter_map(|hash| Some((*hash, self.entry(hash)?)));
        Reading::new(some.collect()).team()
    }
}

/// A set of entries while a team is made of it.
struct Reading<'a> {
    /// By depth, then hash.
    entries: Vec<(Hash, &'a Entry)>,
    depths: Vec<usize>,
    /// For each entry, those that it builds on, as bits.
    past: Vec<Vec<u64>>,
}

impl<'a> Reading<'a> {
    fn new(set: BTreeMap<Hash, &'a Entry>) -> Self {
        // The longest way to the first entry, found by walking until nothing changes: logs are short.
        let mut depth: BTreeMap<Hash, usize> = set.keys().map(|hash| (*hash, 0)).collect();
        loop {
            let mut changed = false;
            for (hash, entry) in &set {
                let least = entry.after.iter().filter_map(|h| depth.get(h)).max().map_or(0, |most| most + 1);
                if let Some(found) = depth.get_mut(hash).filter(|found| **found < least) {
                    *found = least;
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        let mut entries: Vec<(Hash, &Entry)> = set.into_iter().collect();
        entries.sort_by_key(|(hash, _)| (depth[hash], *hash));
        let place: BTreeMap<Hash, usize> = entries.iter().enumerate().map(|(n, (hash, _))| (*hash, n)).collect();
        let words = entries.len().div_ceil(64);
        let mut past: Vec<Vec<u64>> = Vec::with_capacity(entries.len());
        for (_, entry) in &entries {
            let mut bits = vec![0; words];
            for before in entry.after.iter().filter_map(|hash| place.get(hash)) {
                bits[before / 64] |= 1 << (before % 64);
                for (word, other) in bits.iter_mut().zip(&past[*before]) {
                    *word |= other;
                }
            }
            past.push(bits);
        }
        let depths = entries.iter().map(|(hash, _)| depth[hash]).collect();
        Self { entries, depths, past }
    }

    fn builds_on(&self, entry: usize, before: usize) -> bool {
        self.past[entry][before / 64] >> (before % 64) & 1 == 1
    }

    fn removed_by(&self, entry: usize) -> Option<DeviceId> {
        match &self.entries[entry].1.body {
            Body::Remove { device, .. } => Some(*device),
            _ => None,
        }
    }

    fn lets_in(&self, entry: usize) -> Option<DeviceId> {
        self.entries[entry].1.newcomer().map(|newcomer| newcomer.device)
    }

    /// By which entry a device is a member, as far as an entry sees (`None`: as all see), of those that stand.
    fn member(&self, device: DeviceId, seen_by: Option<usize>, stands: &[bool]) -> Option<usize> {
        let seen = |n: &usize| stands[*n] && seen_by.is_none_or(|by| self.builds_on(by, *n));
        let removals: Vec<usize> =
            (0..stands.len()).filter(|n| self.removed_by(*n) == Some(device) && seen(n)).collect();
        (0..stands.len())
            .filter(|n| self.lets_in(*n) == Some(device) && seen(n))
            .find(|n| removals.iter().all(|removal| self.builds_on(*n, *removal)))
    }

    /// Which entries stand, where these removals do and no others.
    fn standing(&self, removals: &BTreeSet<usize>) -> Vec<bool> {
        let mut stands = vec![false; self.entries.len()];
        for n in 0..stands.len() {
            stands[n] = (self.removed_by(n).is_none() || removals.contains(&n)) && self.is_sound(n, &stands, removals);
        }
        stands
    }

    /// Whether the signer of an entry may write it, where these stand of those before it.
    fn is_sound(&self, n: usize, stands: &[bool], removals: &BTreeSet<usize>) -> bool {
        let signer = self.entries[n].1.signer;
        let apart = |removal: &usize| !self.builds_on(*removal, n) && !self.builds_on(n, *removal);
        let ended = removals.iter().any(|r| *r != n && self.removed_by(*r) == Some(signer) && apart(r));
        let founds = matches!(self.entries[n].1.body, Body::Found { .. });
        (!ended || removals.contains(&n)) && (founds || self.member(signer, Some(n), stands).is_some())
    }

    fn team(&self) -> Team {
        let rank = |device: DeviceId| (0..self.entries.len()).find(|n| self.lets_in(*n) == Some(device));
        let mut candidates: Vec<usize> = (0..self.entries.len()).filter(|n| self.removed_by(*n).is_some()).collect();
        candidates.sort_by_key(|n| (rank(self.entries[*n].1.signer), self.depths[*n], self.entries[*n].0));
        let mut removals = BTreeSet::new();
        for candidate in candidates {
            let stands = self.standing(&removals);
            if self.is_sound(candidate, &stands, &removals) {
                removals.insert(candidate);
            }
        }
        let stands = self.standing(&removals);
        let mut team = Team::default();
        for n in 0..self.entries.len() {
            team.order.push((self.entries[n].0, stands[n]));
            if !(0..stands.len()).any(|later| self.builds_on(later, n)) {
                team.heads.push(self.entries[n].0);
            }
            if stands[n] {
                self.count(n, &stands, &mut team);
            }
        }
        team.heads.sort_unstable();
        team
    }

    /// What one standing entry does to the team.
    fn count(&self, n: usize, stands: &[bool], team: &mut Team) {
        let entry = self.entries[n].1;
        match &entry.body {
            Body::Found { founder, sealed, .. } => {
                team.sealed = *sealed;
                self.let_in(n, founder, stands, team);
            }
            Body::Approve { newcomer, invitation } => {
                self.let_in(n, newcomer, stands, team);
                if let Some(invitation) = team.invitations.get_mut(invitation) {
                    invitation.used_by.get_or_insert(newcomer.device);
                }
            }
            Body::Invite { invitation, secret } => {
                let fresh = Invitation { by: entry.signer, secret: secret.clone(), used_by: None };
                team.invitations.entry(*invitation).or_insert(fresh);
            }
            Body::Remove { device, head, accepted } if self.member(*device, None, stands).is_none() => {
                let removed = self.shut_out(*device, team);
                removed.head = removed.head.max(*head);
                removed.accepted.extend(accepted);
            }
            Body::Accept { device, accepted } if self.member(*device, None, stands).is_none() => {
                self.shut_out(*device, team).accepted.extend(accepted);
            }
            Body::Remove { .. } | Body::Accept { .. } | Body::Keys => {}
        }
    }

    fn let_in(&self, n: usize, newcomer: &Newcomer, stands: &[bool], team: &mut Team) {
        if self.member(newcomer.device, None, stands) == Some(n) {
            let member = Member { newcomer: newcomer.clone(), by: self.entries[n].1.signer };
            team.members.insert(newcomer.device, member);
        }
    }

    fn shut_out<'t>(&self, device: DeviceId, team: &'t mut Team) -> &'t mut Removed {
        let newcomer = self.entries.iter().filter_map(|(_, entry)| entry.newcomer()).find(|n| n.device == device);
        team.removed.entry(device).or_insert_with(|| Removed {
            newcomer: newcomer.cloned(),
            head: 0,
            accepted: BTreeSet::new(),
        })
    }
}
