//! Putting this device's items into its feed, and saying so in its head.

use super::Note;
use super::ask::{Failure, Home};
use super::work::Work;
use crate::head::{Head, Lack};
use crate::layout::Spot;
use crate::pack::{self, Item, Pack};
use crate::place::Trouble;
use crate::seal::Keys;

/// About so many bytes of items go into one pack.
const PACK_BYTES: usize = 1 << 20;
/// So many packs of one tier are merged into one of the next.
const MERGED: usize = 4;
/// Packs are merged into none larger than about this, bytes.
const MOST_MERGED_BYTES: u64 = 4 << 20;
/// For so many rounds in a row others have been asked in vain for what this device gave.
const LONG: u64 = 8;
/// So many files are removed in one round, so that none of them is long.
const MOST_CLEARED: usize = 3;

/// The content of a pack that is to be written.
struct Made {
    from: u64,
    tier: u64,
    items: Vec<Item>,
}

impl Work {
    /// Puts what lies in no feed yet into this device's own.
    pub async fn publish(&mut self) -> Result<(), Failure> {
        if self.holds_back {
            return Ok(());
        }
        let id = self.own.id();
        let Some(keys) = self.ring.seals_with().cloned() else { return Ok(()) };
        // What this device gave before and has lost since, as from a backup, comes first; else it would be overwritten.
        self.give_up_what_is_lost();
        let feed = self.memory.feeds.entry(id).or_default();
        let mut from = feed.length();
        if !feed.have.has(0, from) {
            return Ok(());
        }
        let mut packs = feed.packs.clone();
        let before = from;
        loop {
            let items = self.io.home(Home::Offer { from, most: PACK_BYTES }).await.into_items()?;
            if items.is_empty() {
                break;
            }
            from += items.len() as u64;
            let made = self.merged(&mut packs, items).await?;
            let pack = self.write_pack(&keys, made).await?;
            packs.push(pack);
        }
        if from > before {
            // A head that only says what is lacking adds nothing to what is here.
            self.memory.feeds.entry(id).or_default().have.add(before, from);
            self.write_head(packs).await?;
            self.report.gave += from - before;
            self.io.tell(Note::Gave(from - before));
        }
        Ok(())
    }

    /// Cuts this device's own feed where it was lost in the folder and on the device, and nobody has brought it back for
    /// long; whatever of it others hold is offered again by them.
    fn give_up_what_is_lost(&mut self) {
        let long = self.memory.lost >= LONG;
        let feed = self.memory.feeds.entry(self.own.id()).or_default();
        let here = feed.ranges().take_while(|(_, from, to)| feed.have.has(*from, *to)).count();
        if long && here < feed.packs.len() {
            feed.packs.truncate(here);
            let length = feed.length();
            feed.have.cut(length);
        }
    }

    async fn write_pack(&mut self, keys: &Keys, made: Made) -> Result<Pack, Failure> {
        let (name, file) = keys.object(&pack::write(self.own.id(), made.from, &made.items));
        let written = Pack { name, items: made.items.len() as u64, bytes: file.len() as u64, tier: made.tier };
        // Remembered before it is written, so that one that no head ever names is cleared away.
        self.memory.litter.insert(name);
        self.remember().await?;
        self.io.write(Spot::Object(name).to_string(), file).await?;
        Ok(written)
    }

    /// What the next pack holds: new items, with the packs before them where there are enough of one tier, and of the next
    /// one again. Those are taken off the list.
    async fn merged(&mut self, packs: &mut Vec<Pack>, items: Vec<Item>) -> Result<Made, Failure> {
        let (mut kept, mut tier) = (packs.len(), 0);
        let mut bytes = items.iter().map(|item| item.size() as u64).sum::<u64>();
        while let Some(start) = kept.checked_sub(MERGED - 1) {
            let more: u64 = packs[start..kept].iter().map(|pack| pack.bytes).sum();
            if packs[start..kept].iter().any(|pack| pack.tier != tier) || bytes + more > MOST_MERGED_BYTES {
                break;
            }
            (kept, tier, bytes) = (start, tier + 1, bytes + more);
        }
        let before = packs[..kept].iter().map(|pack| pack.items).sum();
        let older: u64 = packs[kept..].iter().map(|pack| pack.items).sum();
        let many = older + items.len() as u64;
        if older > 0 {
            let all = self.io.home(Home::Items { device: self.own.id(), from: before, many }).await.into_items()?;
            // Where the home has lost some of the older ones they stay as they are.
            if all.len() as u64 == many {
                packs.truncate(kept);
                return Ok(Made { from: before, tier, items: all });
            }
        }
        Ok(Made { from: before + older, tier: 0, items })
    }

    /// A new head where the log or what is lacking has changed since the last one.
    pub async fn say_lacks(&mut self) -> Result<(), Failure> {
        let packs = self.memory.feeds.get(&self.own.id()).map(|feed| feed.packs.clone()).unwrap_or_default();
        let lacks: Vec<Lack> = self.lacks.iter().cloned().collect();
        let its = |lack: &Lack| matches!(lack, Lack::Pack { device, .. } if *device == self.own.id());
        self.memory.lost = if lacks.iter().any(its) { self.memory.lost + 1 } else { 0 };
        self.memory.lacking = if lacks.is_empty() { 0 } else { self.memory.lacking + 1 };
        // Whoever mended may have failed; now and then it is said again.
        let again = self.memory.lacking > 0 && self.memory.lacking.is_multiple_of(4);
        if !self.holds_back && (again || self.memory.said != (self.team.heads.clone(), lacks)) {
            self.write_head(packs).await?;
        }
        Ok(())
    }

    async fn write_head(&mut self, packs: Vec<Pack>) -> Result<(), Failure> {
        let id = self.own.id();
        let Some(keys) = self.ring.seals_with().cloned() else { return Ok(()) };
        // Above every number that stands there, a stranger's included, so that the newest is ours.
        let listed = self.listed.heads.get(&id).and_then(|files| files.keys().next_back().copied()).unwrap_or(0);
        let known = self.memory.feeds.get(&id).map_or(0, |feed| feed.number);
        let highest = known.max(self.memory.tried).max(if listed < u64::MAX / 2 { listed } else { 0 });
        let number = highest.saturating_add(self.stride());
        self.memory.tried = number;
        self.remember().await?;
        let (log, lacks) = (self.team.heads.clone(), self.lacks.iter().cloned().collect::<Vec<_>>());
        let said = (log.clone(), lacks.clone());
        let head = Head { device: id, number, time_ms: self.now_ms, log, packs, lacks };
        let file = head.write(&self.own, &keys);
        self.io.write(head.path(), file.clone()).await?;
        let feed = self.memory.feeds.entry(id).or_default();
        for pack in &feed.packs {
            if !head.packs.contains(pack) {
                self.memory.litter.insert(pack.name);
            }
        }
        for pack in &head.packs {
            self.memory.litter.remove(&pack.name);
        }
        (feed.number, feed.file, feed.packs) = (number, file, head.packs);
        self.memory.said = said;
        self.remember().await
    }

    /// Removes older heads of this device, and packs that none of its heads names any more.
    pub async fn clear(&mut self) -> Result<(), Failure> {
        let id = self.own.id();
        let Some(feed) = self.memory.feeds.get(&id) else { return Ok(()) };
        let mut left = MOST_CLEARED;
        let older: Vec<u64> = self
            .listed
            .heads
            .get(&id)
            .into_iter()
            .flat_map(|f| f.keys().copied())
            .filter(|n| *n < feed.number)
            .collect();
        for number in older {
            if left == 0 {
                return Ok(());
            }
            left -= 1;
            self.remove(Spot::Head(id, number)).await?;
        }
        while left > 0
            && let Some(name) = self.memory.litter.first().copied()
        {
            left -= 1;
            self.remove(Spot::Object(name)).await?;
            self.memory.litter.remove(&name);
        }
        Ok(())
    }

    /// Removes a file; one that somebody has put out of reach, behind a link, is named and left where it is.
    async fn remove(&mut self, spot: Spot) -> Result<(), Failure> {
        match self.io.delete(spot.to_string()).await {
            Err(failure) if failure.trouble == Some(Trouble::Unreadable) => {
                self.set_aside(spot.to_string(), failure);
                Ok(())
            }
            done => done,
        }
    }
}
