//! Taking the packs that heads name.

use std::collections::VecDeque;

use super::Note;
use super::ask::{Failure, Home, Ticket};
use super::work::Work;
use crate::DeviceId;
use crate::head::Lack;
use crate::layout::{MOST_OBJECT_BYTES, Spot};
use crate::pack::{self, Pack};

/// So many are read at once.
pub(super) const WINDOW: usize = 8;

impl Work {
    pub async fn pull(&mut self) -> Result<(), Failure> {
        let mut needed: VecDeque<(DeviceId, Pack, u64)> = VecDeque::new();
        for (device, feed) in &self.memory.feeds {
            let fresh = feed.ranges().filter(|(_, from, to)| !feed.have.has(*from, *to));
            needed.extend(fresh.map(|(pack, from, _)| (*device, pack.clone(), from)));
        }
        let mut under_way: VecDeque<(DeviceId, Pack, u64, Ticket)> = VecDeque::new();
        loop {
            while under_way.len() < WINDOW
                && let Some((device, pack, from)) = needed.pop_front()
            {
                if pack.bytes > MOST_OBJECT_BYTES {
                    let why = format!("it is said to have {} bytes, more than any pack", pack.bytes);
                    self.set_aside(Spot::Object(pack.name).to_string(), why);
                    continue;
                }
                // One byte more than it should have tells a longer file.
                let ticket = self.io.read_later(Spot::Object(pack.name).to_string(), pack.bytes + 1);
                under_way.push_back((device, pack, from, ticket));
            }
            let Some((device, pack, from, ticket)) = under_way.pop_front() else { return Ok(()) };
            let read = ticket.await.into_bytes();
            self.take_pack(device, &pack, from, read).await?;
        }
    }

    async fn take_pack(
        &mut self,
        device: DeviceId,
        pack: &Pack,
        from: u64,
        mut read: Result<Vec<u8>, Failure>,
    ) -> Result<(), Failure> {
        let path = Spot::Object(pack.name).to_string();
        let found = match &mut read {
            Ok(file) => self.ring.open_object(pack.name, file).map_err(|why| why.to_string()),
            Err(failure) if failure.is_of_one_file() => Err(failure.to_string()),
            Err(failure) => return Err(failure.clone()),
        };
        let items = found.and_then(|plain| {
            let items = pack::read(plain, device, from).filter(|items| items.len() as u64 == pack.items);
            items.ok_or_else(|| "it holds something else than its device's head says".to_owned())
        });
        match items {
            Err(why) => {
                self.set_aside(path, why);
                self.failed.insert(pack.name);
                // Once is a file on its way; twice is a file that somebody must write again.
                if self.memory.failed.contains(&pack.name) {
                    self.lacks.insert(Lack::Pack { device, name: pack.name });
                }
                if device == self.own.id() {
                    // It may well be here, though this device does not remember.
                    self.wanted.insert(Lack::Pack { device, name: pack.name });
                }
            }
            Ok(items) => {
                let many = items.len() as u64;
                self.io.home(Home::Take { device, from, items }).await.into_done()?;
                self.memory.feeds.entry(device).or_default().have.add(from, from + many);
                self.remember().await?;
                *self.report.took.entry(device).or_default() += many;
                self.io.tell(Note::Took { device, items: many });
            }
        }
        Ok(())
    }
}
