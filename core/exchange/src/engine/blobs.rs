//! Carrying blobs into the folder and out of it, block by block; one that was cut off goes on at its next block.

use std::collections::VecDeque;
use std::sync::Arc;

use super::ask::{Answer, Ask, Failure, Home, Ticket};
use super::pull::WINDOW;
use super::work::Work;
use super::{Fetch, Note};
use crate::head::Lack;
use crate::layout::{BLOCK_BYTES, Spot};
use crate::memory::Sending;
use crate::pack::{self, Blob, Class};
use crate::place::Span;
use crate::seal::Name;

/// So many blocks are carried into the folder before a head says so.
const SAY_AFTER: usize = 64;

/// So many blocks are asked for ahead: they take no memory before somebody is at work on them.
const AHEAD: usize = 32;
/// So many blobs are proved at once at most.
const MOST_PROVED: usize = 32;

impl Work {
    /// Puts blobs of a class into the folder that are here and that no item names yet.
    pub async fn send_blobs(&mut self, class: Class) -> Result<(), Failure> {
        if self.ring.seals_with().is_none() {
            // Another device hands the key out in its next round.
            return Ok(());
        }
        let mut unsaid = 0;
        loop {
            let senders = match self.io.home(Home::Unsent(class)).await {
                Answer::Senders(senders) => senders,
                other => return Err(other.into_failure()),
            };
            if senders.is_empty() {
                break;
            }
            for sender in senders {
                unsaid += self.send_blob(sender.id, class, sender.bytes).await?;
                if unsaid >= SAY_AFTER {
                    self.publish().await?;
                    unsaid = 0;
                }
            }
        }
        if unsaid > 0 { self.publish().await } else { Ok(()) }
    }

    /// Sends one, and says how many files that took.
    async fn send_blob(&mut self, id: [u8; 32], class: Class, bytes: u64) -> Result<usize, Failure> {
        let Some(keys) = self.ring.seals_with().cloned() else {
            let why = "this device has no key of the team yet; run the next round after another device's";
            return Err(Failure { trouble: None, why: why.to_owned() });
        };
        let begun = self.memory.sending.take().filter(|s| (s.id, s.bytes, s.key) == (id, bytes, keys.id()));
        let mut sending = begun.unwrap_or(Sending { id, class, bytes, key: keys.id(), blocks: Vec::new() });
        let (mut files, many) = (0, bytes.div_ceil(BLOCK_BYTES));
        let mut under_way: VecDeque<(Name, Ticket)> = VecDeque::new();
        let mut next = sending.blocks.len() as u64;
        loop {
            while under_way.len() < WINDOW / 2 && next < many {
                let span = Span { from: next * BLOCK_BYTES, most: BLOCK_BYTES };
                let plain = pack::block(&self.io.home(Home::Load { id, span }).await.into_bytes()?);
                let (name, file) = keys.object(&plain);
                under_way.push_back((name, self.io.ask(Ask::Write(Spot::Object(name).to_string(), file))));
                next += 1;
            }
            let Some((name, ticket)) = under_way.pop_front() else { break };
            ticket.await.into_done()?;
            files += 1;
            sending.blocks.push(name);
            let done = (sending.blocks.len() as u64 * BLOCK_BYTES).min(bytes);
            if many > 1 {
                self.memory.sending = Some(sending.clone());
                self.remember().await?;
            }
            self.io.tell(Note::Carried { id, done, bytes });
        }
        self.memory.sending = None;
        let blob = Blob { id, class, bytes, blocks: sending.blocks };
        self.io.home(Home::Sent(blob)).await.into_done()?;
        self.report.blobs_gave += 1;
        Ok(files)
    }

    /// Takes blobs of a class that are wanted here.
    pub async fn fetch_blobs(&mut self, class: Class) -> Result<(), Failure> {
        let mut tried: Vec<[u8; 32]> = Vec::new();
        loop {
            let blobs = self.io.home(Home::Wanted(class, tried.clone())).await.into_blobs()?;
            if blobs.is_empty() {
                return Ok(());
            }
            tried.extend(blobs.iter().map(|(blob, _)| blob.id));
            self.fetch_some(blobs).await?;
        }
    }

    async fn fetch_some(&mut self, blobs: Vec<(Blob, u64)>) -> Result<(), Failure> {
        let ring = Arc::new(self.ring.clone());
        let mut needed: VecDeque<(usize, Fetch)> = VecDeque::new();
        let mut whole: Vec<&Blob> = Vec::new();
        for (n, (blob, here)) in blobs.iter().enumerate() {
            let many = blob.blocks.len() as u64;
            needed.extend((*here..many).filter_map(|block| Some((n, Fetch::new(&ring, blob, block, *here)?))));
            if *here == many {
                whole.push(blob);
            }
        }
        let mut under_way: VecDeque<(usize, Fetch, Ticket)> = VecDeque::new();
        let mut spoiled = vec![false; blobs.len()];
        loop {
            while under_way.len() < AHEAD
                && let Some((n, fetch)) = needed.pop_front()
            {
                let ticket = self.io.ask(Ask::Fetch(fetch.clone()));
                under_way.push_back((n, fetch, ticket));
            }
            // What is here is proved while others are on their way: one at a time where they are slow to come, and many
            // where they are quick.
            if whole.len() >= MOST_PROVED || under_way.front().is_none_or(|(_, _, ticket)| !ticket.is_answered()) {
                self.whole(std::mem::take(&mut whole)).await?;
            }
            let Some((n, fetch, ticket)) = under_way.pop_front() else { return Ok(()) };
            let blob = &blobs[n].0;
            match ticket.await.into_done() {
                Ok(()) => {
                    let (_, block) = fetch.of();
                    let done = ((block + 1) * BLOCK_BYTES).min(blob.bytes);
                    self.io.tell(Note::Carried { id: blob.id, done, bytes: blob.bytes });
                    if block + 1 == blob.blocks.len() as u64 {
                        whole.push(blob);
                    }
                }
                Err(failure) if failure.is_of_one_file() => {
                    // Of a blob the first that cannot be read is named; none behind it is kept.
                    if !std::mem::replace(&mut spoiled[n], true) {
                        self.spoil(blob, &fetch, failure);
                    }
                }
                Err(failure) => return Err(failure),
            }
        }
    }

    /// Sets a block aside that cannot be read.
    fn spoil(&mut self, blob: &Blob, fetch: &Fetch, why: Failure) {
        let name = fetch.name();
        self.set_aside(fetch.path(), why);
        self.failed.insert(name);
        if self.memory.failed.contains(&name) {
            self.lacks.insert(Lack::Blob(blob.id));
        }
    }

    /// Has blobs proved of which all blocks are here.
    async fn whole(&mut self, blobs: Vec<&Blob>) -> Result<(), Failure> {
        if blobs.is_empty() {
            return Ok(());
        }
        let proved = match self.io.home(Home::Whole(blobs.iter().map(|blob| blob.id).collect())).await {
            Answer::Whole(proved) => proved,
            other => return Err(other.into_failure()),
        };
        for blob in blobs {
            if proved.contains(&blob.id) {
                self.report.blobs_took += 1;
            } else {
                let path = blob.blocks.first().map(|name| Spot::Object(*name).to_string()).unwrap_or_default();
                self.set_aside(path, "the blob that begins here is not what its name says");
            }
        }
        Ok(())
    }
}
