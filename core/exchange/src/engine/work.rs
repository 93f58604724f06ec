//! A round from its beginning to its end.

use std::collections::{BTreeMap, BTreeSet};

use super::ask::{Failure, Home, Io};
use super::{Aside, Note, Report};
use crate::DeviceId;
use crate::head::Lack;
use crate::layout::{HEADS, MEMBERS, MOST_SMALL_BYTES, Spot};
use crate::members::{Body, Hash, Join, Removed, Ring, Team};
use crate::memory::Memory;
use crate::pack::Class;
use crate::seal::{Identity, Name, derived};

/// For so many rounds in a row the log is looked through for entries that are missing or damaged.
pub(super) const LONG: u64 = 16;

/// Every so many rounds the log is looked through where somebody may be missing an entry of it.
pub(super) const HELD_UP: u64 = 8;

/// What stands in the folder of heads: sizes in bytes.
#[derive(Debug, Default)]
pub(super) struct Listing {
    pub heads: BTreeMap<DeviceId, BTreeMap<u64, u64>>,
    pub joins: BTreeMap<DeviceId, u64>,
}

/// A round at work.
pub(super) struct Work {
    pub io: Io,
    pub own: Identity,
    pub memory: Memory,
    pub team: Team,
    pub ring: Ring,
    pub now_ms: i64,
    pub report: Report,
    pub listed: Listing,
    /// What other devices newly say that they lack.
    pub wanted: BTreeSet<Lack>,
    /// What cannot be read here.
    pub lacks: BTreeSet<Lack>,
    pub failed: BTreeSet<Name>,
    /// Whether a newer head of this device's own cannot be read just now.
    pub holds_back: bool,
    /// Whether the whole log was read in this round.
    refreshed: bool,
    random: [u8; 32],
    drawn: u64,
}

pub(super) async fn round(
    io: Io,
    own: Identity,
    memory: Memory,
    now_ms: i64,
    random: [u8; 32],
) -> (Result<Report, Failure>, Memory) {
    let (team, ring) = memory.team(&own);
    let mut work = Work {
        io,
        own,
        memory,
        team,
        ring,
        now_ms,
        report: Report::default(),
        listed: Listing::default(),
        wanted: BTreeSet::new(),
        lacks: BTreeSet::new(),
        failed: BTreeSet::new(),
        holds_back: false,
        refreshed: false,
        random,
        drawn: 0,
    };
    let how = work.all().await;
    (how.map(|()| work.report), work.memory)
}

impl Work {
    async fn all(&mut self) -> Result<(), Failure> {
        let before = self.memory.clone();
        self.list().await?;
        self.send_entries().await?;
        if !self.come_in().await? {
            return self.remember_since(&before).await;
        }
        if self.memory.said.1.contains(&Lack::Log) && self.memory.lacking < LONG {
            self.refresh().await?;
        }
        self.read_named().await?;
        self.read_heads().await?;
        self.read_requests().await?;
        if !self.team.members.contains_key(&self.own.id()) {
            // Somebody has removed it since its last round.
            self.report.removed = true;
            return self.remember_since(&before).await;
        }
        self.release().await?;
        self.give_keys().await?;
        self.pull().await?;
        self.mend().await?;
        self.publish().await?;
        for class in Class::ALL {
            self.send_blobs(class).await?;
            self.fetch_blobs(class).await?;
        }
        self.say_lacks().await?;
        self.clear().await?;
        self.memory.failed = std::mem::take(&mut self.failed);
        self.report.lacking = self.memory.failed.len() as u64;
        self.remember_since(&before).await
    }

    /// Keeps the memory where it differs from what was kept.
    async fn remember_since(&mut self, before: &Memory) -> Result<(), Failure> {
        if self.memory == *before { Ok(()) } else { self.remember().await }
    }

    pub async fn remember(&self) -> Result<(), Failure> {
        self.io.home(Home::Remember(self.memory.to_bytes())).await.into_done()
    }

    pub fn set_aside(&mut self, path: String, why: impl std::fmt::Display) {
        let aside = Aside { path, why: why.to_string() };
        if !self.report.aside.contains(&aside) {
            self.io.tell(Note::SetAside(aside.clone()));
            self.report.aside.push(aside);
        }
    }

    /// Random bytes, each asked for once.
    fn draw(random: &[u8; 32], drawn: &mut u64) -> [u8; 32] {
        *drawn += 1;
        derived(random, &drawn.to_be_bytes())
    }

    /// How far the next head's number lies above all others, by chance: a device that was brought back from a backup and does
    /// not see its newest head must not write another one of its number, which nobody would read.
    pub fn stride(&mut self) -> u64 {
        let drawn = Self::draw(&self.random, &mut self.drawn);
        1 + u64::from(u32::from_be_bytes([drawn[0], drawn[1], drawn[2], drawn[3]]))
    }

    async fn list(&mut self) -> Result<(), Failure> {
        let mut files = self.io.list(HEADS).await?;
        files.sort();
        for file in files {
            let path = format!("{HEADS}/{}", file.name);
            match Spot::in_heads(&file.name) {
                None => self.set_aside(path, "it is no file of this team; it is left alone"),
                Some(_) if !file.plain => self.set_aside(path, "it is a link or a folder, which is never followed"),
                Some(_) if file.bytes > MOST_SMALL_BYTES => {
                    self.set_aside(path, format!("it has {} bytes, more than any head", file.bytes));
                }
                Some(Spot::Join(device)) => {
                    self.listed.joins.insert(device, file.bytes);
                }
                Some(Spot::Head(device, number)) => {
                    self.listed.heads.entry(device).or_default().insert(number, file.bytes);
                }
                Some(_) => {}
            }
        }
        Ok(())
    }

    /// Carries entries of the log into the folder that were made since the last round.
    async fn send_entries(&mut self) -> Result<(), Failure> {
        while let Some(hash) = self.memory.unsent.first().copied() {
            if let Some(bytes) = self.entry_file(&hash) {
                self.io.write(Spot::Entry(hash).to_string(), bytes).await?;
            }
            self.memory.unsent.remove(&hash);
        }
        Ok(())
    }

    pub fn entry_file(&self, hash: &Hash) -> Option<Vec<u8>> {
        self.memory.log.files().find(|(found, _)| *found == hash).map(|(_, bytes)| bytes.to_vec())
    }

    /// Whether this device is in the team; a newcomer asks, and looks whether it was let in.
    async fn come_in(&mut self) -> Result<bool, Failure> {
        let id = self.own.id();
        if !self.team.members.contains_key(&id) {
            self.refresh().await?;
        }
        let here = self.team.members.contains_key(&id);
        if here {
            self.memory.asked = None;
            if self.listed.joins.contains_key(&id) {
                self.io.delete(Spot::Join(id).to_string()).await?;
            }
        } else {
            // One that was never let in may have had its work accepted, and one that was removed may ask anew: they wait
            // like any other.
            let left = self.team.removed.get(&id).is_some_and(Removed::was_member);
            self.report.removed = left && self.memory.asked.is_none();
            self.report.waits = !self.report.removed;
            if self.report.removed {
                // The log may say so only because an entry is missing that perhaps this device alone has.
                if self.memory.held_up.is_multiple_of(HELD_UP) {
                    self.mend_log().await?;
                }
                self.memory.held_up += 1;
            }
            let file = match &self.memory.asked {
                Some((_, file)) => file.clone(),
                // Whoever knows better sees by it that the log which says so is not whole.
                None => Join::objection(&self.own),
            };
            if self.listed.joins.get(&id) != Some(&(file.len() as u64)) {
                self.io.write(Spot::Join(id).to_string(), file).await?;
            }
        }
        Ok(here)
    }

    /// Reads the whole log of members, once a round.
    pub async fn refresh(&mut self) -> Result<(), Failure> {
        if std::mem::replace(&mut self.refreshed, true) {
            return Ok(());
        }
        let mut files = self.io.list(MEMBERS).await?;
        files.sort();
        let mut hashes = Vec::new();
        for file in files {
            let path = format!("{MEMBERS}/{}", file.name);
            match Spot::in_members(&file.name) {
                None => self.set_aside(path, "it is no file of this team; it is left alone"),
                Some(_) if !file.plain => self.set_aside(path, "it is a link or a folder, which is never followed"),
                Some(_) if file.bytes > MOST_SMALL_BYTES => {
                    self.set_aside(path, format!("it has {} bytes, more than any entry", file.bytes));
                }
                Some(Spot::Entry(hash)) => hashes.push(hash),
                Some(_) => {}
            }
        }
        self.read_entries(hashes).await
    }

    /// Reads entries that are not here, and those on which they build.
    pub async fn read_entries(&mut self, hashes: Vec<Hash>) -> Result<(), Failure> {
        let (mut open, mut tried, mut files) = (hashes, BTreeSet::new(), Vec::new());
        while !open.is_empty() {
            open.retain(|hash| !self.memory.log.has(hash) && tried.insert(*hash));
            let path = |hash: &Hash| Spot::Entry(*hash).to_string();
            let reads = std::mem::take(&mut open).into_iter();
            let tickets: Vec<_> =
                reads.map(|hash| (hash, path(&hash), self.io.read_later(path(&hash), MOST_SMALL_BYTES))).collect();
            for (hash, path, ticket) in tickets {
                match ticket.await.into_bytes() {
                    Ok(bytes) if crate::members::hash(&bytes) == hash => files.push(bytes),
                    Ok(_) => {
                        self.lacks.insert(Lack::Log);
                        self.set_aside(path, "it is not what its name says: damaged, or altered");
                    }
                    Err(failure) if failure.is_of_one_file() => {
                        self.lacks.insert(Lack::Log);
                        self.set_aside(path, failure);
                    }
                    Err(failure) => return Err(failure),
                }
            }
            let (fresh, missing) = self.memory.log.take(files.clone());
            open = missing.into_iter().filter(|hash| !tried.contains(hash)).collect();
            if fresh > 0 {
                self.look_at_team();
            }
        }
        Ok(())
    }

    /// The team and this device's keys anew, after the log has changed.
    pub fn look_at_team(&mut self) {
        (self.team, self.ring) = self.memory.team(&self.own);
        self.report.team_changed = true;
    }

    /// Hands out keys that members lack, and a new one where none is left that only members have.
    async fn give_keys(&mut self) -> Result<(), Failure> {
        let (random, drawn) = (self.random, &mut self.drawn);
        let owed = self.ring.owed(&self.memory.log, &self.team, &mut || Self::draw(&random, drawn));
        if owed.is_empty() {
            return Ok(());
        }
        let written = self.memory.log.write(&self.own, &self.team, Body::Keys, owed, self.now_ms);
        if let Some((hash, _)) = written {
            self.memory.unsent.insert(hash);
            self.remember().await?;
            self.look_at_team();
            self.send_entries().await?;
        }
        Ok(())
    }
}
