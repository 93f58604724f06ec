//! Reading the heads that are new, and the requests of newcomers.

use std::collections::BTreeSet;

use super::ask::{Failure, Home};
use super::work::{HELD_UP, Work};
use crate::DeviceId;
use crate::head::{Head, Lack};
use crate::layout::{MOST_SMALL_BYTES, Spot};
use crate::members::Join;
use crate::seal::SealError;

/// So many heads of one device are looked at in one round, its newest first.
const MOST_TRIED: usize = 3;
/// So many requests are kept.
const MOST_REQUESTS: usize = 64;
/// For so many rounds after a removed device last wrote the log is looked through for what it or this device lacks.
const LONG_HELD_UP: u64 = 4 * HELD_UP;

impl Work {
    pub async fn read_heads(&mut self) -> Result<(), Failure> {
        let listed: Vec<DeviceId> = self.listed.heads.keys().copied().collect();
        for device in listed {
            let newest = self.listed.heads[&device].keys().next_back().copied().unwrap_or(0);
            let most = self.most(device);
            if newest > most {
                // It was not let in, or was removed and does not know; the log may say more by now. Its number tells
                // whether that was looked up before.
                if self.memory.strangers.insert(device, newest) != Some(newest) {
                    self.refresh().await?;
                    // It may miss an entry of the log, and what it says of that is not read here.
                    self.wanted.insert(Lack::Log);
                    self.memory.held_up = 0;
                }
            } else {
                self.memory.strangers.remove(&device);
            }
            if !self.team.members.contains_key(&device) && !self.team.removed.contains_key(&device) {
                self.report.strangers.push(device);
                continue;
            }
            self.read_heads_of(device).await?;
        }
        Ok(())
    }

    /// The greatest number of a device's heads that may count.
    fn most(&self, device: DeviceId) -> u64 {
        match self.team.removed.get(&device) {
            Some(removed) => removed.head,
            None if self.team.members.contains_key(&device) => u64::MAX,
            None => 0,
        }
    }

    async fn read_heads_of(&mut self, device: DeviceId) -> Result<(), Failure> {
        let (most, known) = (self.most(device), self.memory.feeds.get(&device).map_or(0, |feed| feed.number));
        let (mut files, mut late): (Vec<(u64, u64)>, Vec<u64>) = (Vec::new(), Vec::new());
        for (number, bytes) in &self.listed.heads[&device] {
            if *number > most {
                late.push(*number);
            } else if *number > known {
                files.push((*number, *bytes));
            }
        }
        for number in late {
            let why = "its device was removed from the team before it wrote this";
            self.set_aside(Spot::Head(device, number).to_string(), why);
        }
        // The newest first; last those that were damaged before, for they may have been mended.
        let refused = self.memory.feeds.get(&device).map(|feed| feed.refused.clone()).unwrap_or_default();
        let before = |(number, bytes): &(u64, u64)| refused.get(number) == Some(bytes);
        files.sort_by_key(|file| (before(file), std::cmp::Reverse(file.0)));
        for (number, bytes) in files.into_iter().take(MOST_TRIED) {
            let path = Spot::Head(device, number).to_string();
            let file = match self.io.read(path.clone(), MOST_SMALL_BYTES).await {
                Ok(file) => file,
                Err(failure) if failure.is_of_one_file() => {
                    self.set_aside(path, failure);
                    if device == self.own.id() && !before(&(number, bytes)) {
                        // Written by this device before it was brought back from a backup, and perhaps there in a moment:
                        // a newer one without what stands in it must not come first.
                        self.holds_back = true;
                        self.memory.feeds.entry(device).or_default().refused.insert(number, bytes);
                    }
                    continue;
                }
                Err(failure) => return Err(failure),
            };
            let mut head = Head::read(device, number, &file, &self.ring);
            if head == Err(SealError::OtherKey) {
                // A new key was handed out meanwhile, perhaps because somebody left, perhaps this device.
                self.refresh().await?;
                head = Head::read(device, number, &file, &self.ring);
            }
            match head {
                Ok(head) => {
                    self.believe(head, file).await?;
                    break;
                }
                Err(why) => {
                    if why == SealError::Damaged {
                        // Asked for as long as it is damaged: its device may be away for longer than anybody counts.
                        self.lacks.insert(Lack::Head(device));
                        self.memory.feeds.entry(device).or_default().refused.insert(number, bytes);
                    } else {
                        // Either an entry of the log that hands out its key is missing, or what says with which key it is
                        // sealed is damaged.
                        self.lacks.extend([Lack::Log, Lack::Head(device)]);
                    }
                    self.set_aside(path, why);
                }
            }
        }
        Ok(())
    }

    /// A newer head of a device.
    async fn believe(&mut self, head: Head, file: Vec<u8>) -> Result<(), Failure> {
        let own = head.device == self.own.id();
        let length = head.packs.iter().map(|pack| pack.items).sum();
        if !own && self.memory.feeds.get(&head.device).is_some_and(|feed| feed.length() > length) {
            // It lost the end of its feed, as by a backup, and will fill it with other items. What was taken of it before
            // travels in this device's own feed from now on, or nobody would ever give it again.
            self.io.home(Home::Release { device: head.device, from: length }).await.into_done()?;
        }
        let feed = self.memory.feeds.entry(head.device).or_default();
        // Only what is named alike is surely alike: what comes after was merged with new items, or written anew by a device
        // that was brought back from a backup and did not see what it had written before. What it displaces is offered here.
        let alike = feed.packs.iter().zip(&head.packs).take_while(|(a, b)| a == b);
        feed.have.cut(alike.map(|(pack, _)| pack.items).sum());
        if own {
            // What was written shortly before this device was cut off counts as litter until its head is remembered, and what
            // was merged then does not yet.
            self.memory.litter.extend(feed.packs.iter().map(|pack| pack.name));
            self.memory.litter.retain(|name| head.packs.iter().all(|pack| pack.name != *name));
        }
        (feed.number, feed.file, feed.packs) = (head.number, file, head.packs);
        feed.refused.retain(|number, _| *number > head.number);
        if own {
            self.memory.said = (head.log.clone(), head.lacks);
        } else {
            self.wanted.extend(head.lacks);
        }
        self.memory.unread.extend(head.log);
        self.read_named().await
    }

    /// Reads the entries of the log that heads name and that are not here.
    pub async fn read_named(&mut self) -> Result<(), Failure> {
        let log = &self.memory.log;
        self.memory.unread.retain(|hash| !log.has(hash));
        if !self.memory.unread.is_empty() {
            self.read_entries(self.memory.unread.iter().copied().collect()).await?;
            let log = &self.memory.log;
            self.memory.unread.retain(|hash| !log.has(hash));
        }
        if !self.memory.unread.is_empty() {
            self.lacks.insert(Lack::Log);
        }
        Ok(())
    }

    /// Lets go of feeds that were read further than the team now accepts, since a device was removed, or whoever let it in
    /// was: others will not read them, so that what stands in them travels in this device's own feed from now on.
    pub async fn release(&mut self) -> Result<(), Failure> {
        let (members, removed) = (&self.team.members, &self.team.removed);
        let known = self.memory.feeds.keys().chain(self.memory.strangers.keys()).chain(removed.keys());
        let outside: BTreeSet<DeviceId> = known.filter(|id| !members.contains_key(id)).copied().collect();
        for device in outside {
            let most = self.most(device);
            let feed = self.memory.feeds.get(&device);
            let from = match feed.filter(|feed| feed.number <= most) {
                // What was taken beyond this was not remembered before a stop.
                Some(feed) => feed.ranges().take_while(|(_, from, to)| feed.have.has(*from, *to)).map(|r| r.2).last(),
                None => None,
            };
            let forget = feed.is_some() && feed.is_none_or(|feed| feed.number > most);
            self.io.home(Home::Release { device, from: from.unwrap_or(0) }).await.into_done()?;
            if forget {
                self.memory.feeds.remove(&device);
                self.remember().await?;
            }
        }
        Ok(())
    }

    pub async fn read_requests(&mut self) -> Result<(), Failure> {
        let listed: Vec<(DeviceId, u64)> = self.listed.joins.iter().map(|(device, bytes)| (*device, *bytes)).collect();
        // Whoever was let in and still asks has perhaps found the log damaged.
        let asks = listed.iter().any(|(device, _)| self.team.members.contains_key(device));
        // One that was removed and writes on may lack an entry of the log that somebody has by now, and so may this device:
        // two that removed one another would else never learn of it.
        let removed = &self.team.removed;
        let newest =
            |device: &DeviceId| self.listed.heads.get(device).and_then(|files| files.keys().next_back()).copied();
        let writes_on = removed.iter().any(|(device, removed)| newest(device) > Some(removed.head));
        let held_up = asks || (writes_on && self.memory.held_up < LONG_HELD_UP);
        if held_up && self.memory.held_up.is_multiple_of(HELD_UP) {
            self.wanted.insert(Lack::Log);
        }
        if held_up {
            // Or it was shut out by an entry that is not here.
            self.refresh().await?;
        }
        self.memory.held_up = match (held_up, writes_on) {
            (true, _) => self.memory.held_up + 1,
            (false, true) => self.memory.held_up,
            (false, false) => 0,
        };
        let gone = |device: &DeviceId| !listed.iter().any(|(found, _)| found == device);
        let members = &self.team.members;
        self.memory.requests.retain(|device, _| !gone(device) && !members.contains_key(device));
        for (device, bytes) in listed {
            let known = self.memory.requests.get(&device).is_some_and(|file| file.len() as u64 == bytes);
            if self.team.members.contains_key(&device) || known {
                continue;
            }
            let path = Spot::Join(device).to_string();
            let file = match self.io.read(path.clone(), MOST_SMALL_BYTES).await {
                Ok(file) => file,
                Err(failure) if failure.is_of_one_file() => {
                    self.set_aside(path, failure);
                    continue;
                }
                Err(failure) => return Err(failure),
            };
            if Join::read(&file).is_none_or(|join| join.device != device) {
                self.set_aside(path, "it is no request of this device: damaged, or altered");
            } else if self.memory.requests.len() < MOST_REQUESTS {
                self.memory.requests.insert(device, file);
                // Whoever asks must find the whole log.
                self.wanted.insert(Lack::Log);
            }
        }
        Ok(())
    }
}
