//! Writing again what others lack and this device has. Sealing is deterministic, so a lost file comes back as it was,
//! whoever writes it.

use super::ask::{Answer, Failure, Home};
use super::work::Work;
use crate::DeviceId;
use crate::head::Lack;
use crate::layout::{BLOCK_BYTES, Spot};
use crate::pack;
use crate::place::Span;
use crate::seal::Name;

impl Work {
    pub async fn mend(&mut self) -> Result<(), Failure> {
        self.mend_heads().await?;
        for lack in std::mem::take(&mut self.wanted) {
            match lack {
                Lack::Pack { device, name } => self.mend_pack(device, name).await?,
                Lack::Blob(id) => self.mend_blob(id).await?,
                Lack::Log => self.mend_log().await?,
                Lack::Head(device) => {
                    if let Some(feed) = self.memory.feeds.get(&device).filter(|feed| feed.number > 0) {
                        let (path, file) = (Spot::Head(device, feed.number).to_string(), feed.file.clone());
                        self.again(path, file).await?;
                    }
                }
            }
        }
        Ok(())
    }

    async fn again(&mut self, path: String, file: Vec<u8>) -> Result<(), Failure> {
        // One of the same length may be damaged, and a place may leave that.
        self.io.delete(path.clone()).await?;
        self.io.write(path, file).await?;
        self.report.mended += 1;
        Ok(())
    }

    /// Heads that were read once and are gone.
    async fn mend_heads(&mut self) -> Result<(), Failure> {
        let mut lost = Vec::new();
        for (device, feed) in &self.memory.feeds {
            let counts = match self.team.removed.get(device) {
                Some(removed) => feed.number <= removed.head,
                None => self.team.members.contains_key(device),
            };
            let most = self.team.removed.get(device).map_or(u64::MAX, |removed| removed.head);
            let there = self.listed.heads.get(device).is_some_and(|files| {
                files.get(&feed.number).is_some_and(|bytes| *bytes == feed.file.len() as u64)
                    || files.keys().any(|n| *n > feed.number && *n <= most && !feed.refused.contains_key(n))
            });
            if counts && feed.number > 0 && !there {
                lost.push((Spot::Head(*device, feed.number).to_string(), feed.file.clone()));
            }
        }
        for (path, file) in lost {
            self.again(path, file).await?;
        }
        Ok(())
    }

    async fn mend_pack(&mut self, device: DeviceId, name: Name) -> Result<(), Failure> {
        let Some(feed) = self.memory.feeds.get(&device) else { return Ok(()) };
        let Some((many, from)) = feed.ranges().find(|(p, _, _)| p.name == name).map(|(p, from, _)| (p.items, from))
        else {
            return Ok(());
        };
        let items = self.io.home(Home::Items { device, from, many }).await.into_items()?;
        if items.len() as u64 == many
            && let Some(file) = self.ring.object_named(name, &pack::write(device, from, &items))
        {
            self.again(Spot::Object(name).to_string(), file).await?;
        }
        Ok(())
    }

    async fn mend_blob(&mut self, id: [u8; 32]) -> Result<(), Failure> {
        let named = self.io.home(Home::Named(id)).await.into_blobs()?;
        let Some((blob, _)) = named.into_iter().next() else { return Ok(()) };
        for (n, name) in blob.blocks.iter().enumerate() {
            let span = Span { from: n as u64 * BLOCK_BYTES, most: BLOCK_BYTES };
            let Answer::Bytes(bytes) = self.io.home(Home::Load { id, span }).await else { return Ok(()) };
            let Some(file) = self.ring.object_named(*name, &pack::block(&bytes)) else { return Ok(()) };
            self.again(Spot::Object(*name).to_string(), file).await?;
        }
        Ok(())
    }

    pub async fn mend_log(&mut self) -> Result<(), Failure> {
        let files = self.memory.log.files().map(|(hash, file)| (Spot::Entry(*hash).to_string(), file.to_vec()));
        let tickets: Vec<_> =
            files.map(|(path, file)| (self.io.read_later(path.clone(), file.len() as u64 + 1), path, file)).collect();
        for (ticket, path, file) in tickets {
            match ticket.await.into_bytes() {
                Ok(there) if there == file => {}
                Err(failure) if !failure.is_of_one_file() => return Err(failure),
                _ => self.again(path, file).await?,
            }
        }
        Ok(())
    }
}
