//! Carrying blobs into the folder and out of it, block by block; one that was cut off goes on at its next block.

use std::collections::VecDeque;

use super::Note;
use super::ask::{Answer, Ask, Failure, Home, Ticket};
use super::pull::WINDOW;
use super::work::Work;
use crate::head::Lack;
use crate::layout::{BLOCK_BYTES, Spot};
use crate::memory::Sending;
use crate::pack::{self, Blob, Class};
use crate::place::Span;
use crate::seal::Name;

/// So many blocks are carried into the folder before a head says so.
const SAY_AFTER: usize = 64;

/// What a block and its file have beside their bytes: the kind, the version, the key's id and the proof.
const OVERHEAD: u64 = 1 + 1 + 8 + 16;

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
        let mut needed: VecDeque<(usize, u64)> = VecDeque::new();
        for (n, (blob, here)) in blobs.iter().enumerate() {
            needed.extend((*here..blob.blocks.len() as u64).map(|block| (n, block)));
            if *here == blob.blocks.len() as u64 {
                self.whole(blob).await?;
            }
        }
        let mut under_way: VecDeque<(usize, u64, Ticket)> = VecDeque::new();
        let mut spoiled = vec![false; blobs.len()];
        loop {
            while under_way.len() < WINDOW
                && let Some((n, block)) = needed.pop_front()
            {
                let length = length(&blobs[n].0, block);
                let name = blobs[n].0.blocks[block as usize];
                let ticket = self.io.read_later(Spot::Object(name).to_string(), length + OVERHEAD + 1);
                under_way.push_back((n, block, ticket));
            }
            let Some((n, block, ticket)) = under_way.pop_front() else { return Ok(()) };
            let (read, blob) = (ticket.await.into_bytes(), &blobs[n].0);
            if !spoiled[n] {
                spoiled[n] = !self.store(blob, block, read).await?;
            }
        }
    }

    /// Keeps a block; whether it could be read.
    async fn store(&mut self, blob: &Blob, block: u64, read: Result<Vec<u8>, Failure>) -> Result<bool, Failure> {
        let name = blob.blocks[block as usize];
        let found = match read {
            Ok(file) => self.ring.open_object(name, &file).map_err(|why| why.to_string()),
            Err(failure) if failure.is_of_one_file() => Err(failure.to_string()),
            Err(failure) => return Err(failure),
        };
        let bytes = found.and_then(|plain| {
            let bytes = pack::block_bytes(plain).filter(|bytes| bytes.len() as u64 == length(blob, block));
            bytes.ok_or_else(|| "it is no block of this blob".to_owned())
        });
        match bytes {
            Err(why) => {
                self.set_aside(Spot::Object(name).to_string(), why);
                self.failed.insert(name);
                if self.memory.failed.contains(&name) {
                    self.lacks.insert(Lack::Blob(blob.id));
                }
                Ok(false)
            }
            Ok(bytes) => {
                self.io.home(Home::Store { id: blob.id, block, bytes }).await.into_done()?;
                let done = ((block + 1) * BLOCK_BYTES).min(blob.bytes);
                self.io.tell(Note::Carried { id: blob.id, done, bytes: blob.bytes });
                if block + 1 == blob.blocks.len() as u64 {
                    self.whole(blob).await?;
                }
                Ok(true)
            }
        }
    }

    async fn whole(&mut self, blob: &Blob) -> Result<(), Failure> {
        match self.io.home(Home::Whole(blob.id)).await {
            Answer::Is(true) => self.report.blobs_took += 1,
            Answer::Is(false) => {
                let path = blob.blocks.first().map(|name| Spot::Object(*name).to_string()).unwrap_or_default();
                self.set_aside(path, "the blob that begins here is not what its name says");
            }
            other => return Err(other.into_failure()),
        }
        Ok(())
    }
}

/// Bytes of one block.
fn length(blob: &Blob, block: u64) -> u64 {
    (blob.bytes - block * BLOCK_BYTES).min(BLOCK_BYTES)
}
