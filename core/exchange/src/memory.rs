//! What a device remembers of a team's folder between rounds: all that must survive a restart, as a value.
//!
//! It holds no secret: team keys come out of the log again with the device's own key.

mod file;
mod team;

use std::collections::{BTreeMap, BTreeSet};

use crate::DeviceId;
use crate::head::{Head, Lack};
use crate::members::{Code, Hash, Log};
use crate::pack::{Class, Pack, Spans};
use crate::seal::{Identity, KeyId, Name};

pub use team::{Asking, MemberError};

/// A device's feed as far as it is known here.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Feed {
    /// The number of its newest head that was read.
    pub number: u64,
    /// That head's file, so that a lost one can be written again by anybody.
    pub file: Vec<u8>,
    pub packs: Vec<Pack>,
    /// The positions whose items are in the home.
    pub have: Spans,
    /// Files with a greater number that are no head of it, by number and size.
    pub refused: BTreeMap<u64, u64>,
}

impl Feed {
    /// So many items are in it.
    pub fn length(&self) -> u64 {
        self.packs.iter().map(|pack| pack.items).sum()
    }

    /// Each pack with the range of its positions.
    pub fn ranges(&self) -> impl Iterator<Item = (&Pack, u64, u64)> {
        self.packs.iter().scan(0, |at, pack| {
            let from = *at;
            *at += pack.items;
            Some((pack, from, *at))
        })
    }
}

/// A blob on its way into the folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Sending {
    pub id: [u8; 32],
    pub class: Class,
    pub bytes: u64,
    pub key: KeyId,
    /// The blocks that lie in the folder.
    pub blocks: Vec<Name>,
}

/// What a device remembers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Memory {
    pub(crate) log: Log,
    /// Entries that are not in the folder yet.
    pub(crate) unsent: BTreeSet<Hash>,
    /// Entries that a head names and that could not be read yet.
    pub(crate) unread: BTreeSet<Hash>,
    /// With what this device asked to be let in.
    pub(crate) asked: Option<(Code, Vec<u8>)>,
    /// Every feed, this device's own among them.
    pub(crate) feeds: BTreeMap<DeviceId, Feed>,
    /// The log and the lacks of its own newest head.
    pub(crate) said: (Vec<Hash>, Vec<Lack>),
    /// Objects of its own that its head does not name, or no longer.
    pub(crate) litter: BTreeSet<Name>,
    pub(crate) sending: Option<Sending>,
    /// The greatest number under which this device has tried to write a head: it may lie in the folder for others to read
    /// though this device was told that it failed, so that no other head ever gets it.
    pub(crate) tried: u64,
    /// Objects that could not be read in the last round.
    pub(crate) failed: BTreeSet<Name>,
    /// For so many rounds something has been lacking.
    pub(crate) lacking: u64,
    /// For so many rounds something of this device's own feed has been.
    pub(crate) lost: u64,
    /// For so many rounds a device that was let in has not come in yet.
    pub(crate) held_up: u64,
    /// Requests of devices that are no members, by their files.
    pub(crate) requests: BTreeMap<DeviceId, Vec<u8>>,
    /// Devices that nobody let in or that were removed, with the number of their newest head that does not count.
    pub(crate) strangers: BTreeMap<DeviceId, u64>,
}

impl Memory {
    fn of(log: Log) -> Self {
        Self {
            log,
            unsent: BTreeSet::new(),
            unread: BTreeSet::new(),
            asked: None,
            feeds: BTreeMap::new(),
            said: (Vec::new(), Vec::new()),
            litter: BTreeSet::new(),
            sending: None,
            tried: 0,
            failed: BTreeSet::new(),
            lacking: 0,
            lost: 0,
            held_up: 0,
            requests: BTreeMap::new(),
            strangers: BTreeMap::new(),
        }
    }

    /// The membership log.
    #[must_use]
    pub fn log(&self) -> &Log {
        &self.log
    }

    /// Whether this device asks to be let in.
    #[must_use]
    pub fn asks(&self) -> bool {
        self.asked.is_some()
    }

    /// Takes a request in that came another way than through the folder; whether it is one.
    pub fn receive_request(&mut self, file: Vec<u8>) -> bool {
        let Some(join) = crate::members::Join::read(&file) else { return false };
        self.requests.insert(join.device, file);
        true
    }

    /// The same with entries of the log that came another way than through the folder, as far as they may be let in.
    #[must_use]
    pub fn with_entries(&self, files: Vec<Vec<u8>>) -> Self {
        let mut more = self.clone();
        more.log.take(files);
        more
    }

    /// When each device wrote its newest head that was read here, by its own clock, milliseconds since 1970; those whose
    /// key this device does not hold are left out.
    #[must_use]
    pub fn times(&self, own: &Identity) -> BTreeMap<DeviceId, i64> {
        let (_, ring) = self.team(own);
        let of = |(device, feed): (&DeviceId, &Feed)| {
            Some((*device, Head::read(*device, feed.number, &feed.file, &ring).ok()?.time_ms))
        };
        self.feeds.iter().filter_map(of).collect()
    }

    /// The packs that the newest heads name which were read here.
    #[must_use]
    pub fn packs(&self) -> BTreeSet<Name> {
        self.feeds.values().flat_map(|feed| &feed.packs).map(|pack| pack.name).collect()
    }

    /// How many files of this device lie in the folder, or may lie there, that no head names: it removes some in each round.
    #[must_use]
    pub fn to_clear(&self) -> usize {
        self.litter.len()
    }

    /// How many items each device's feed has.
    #[must_use]
    pub fn lengths(&self) -> BTreeMap<DeviceId, u64> {
        self.feeds.iter().map(|(device, feed)| (*device, feed.length())).collect()
    }

    /// The heads of each device that were read: their numbers.
    #[must_use]
    pub fn heads(&self) -> BTreeMap<DeviceId, u64> {
        self.feeds.iter().map(|(device, feed)| (*device, feed.number)).collect()
    }
}
