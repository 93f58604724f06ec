//! The memory as bytes.

use super::{Feed, Memory, Sending};
use crate::DeviceId;
use crate::bytes::{Reader, Writer};
use crate::head::Lack;
use crate::members::{Code, Log};
use crate::pack::{Class, Pack, Spans};
use crate::seal::{KeyId, Name};

const FIRST: &[u8] = b"newel memory 1";

impl Memory {
    /// Its bytes.
    #[must_use]
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut out = Writer::default();
        out.raw(FIRST).raw(&self.log.root());
        let files: Vec<&[u8]> = self.log.files().map(|(_, file)| file).collect();
        out.list(&files, |out, file| {
            out.part(file);
        });
        hashes(&mut out, self.unsent.iter());
        hashes(&mut out, self.unread.iter());
        let asked: Vec<_> = self.asked.iter().collect();
        out.list(&asked, |out, (code, file)| {
            out.raw(&code.team).raw(&code.secret).part(file);
        });
        let feeds: Vec<_> = self.feeds.iter().collect();
        out.list(&feeds, |out, (device, feed)| {
            out.raw(&device.0);
            put_feed(out, feed);
        });
        hashes(&mut out, self.said.0.iter());
        out.list(&self.said.1, Lack::put);
        hashes(&mut out, self.litter.iter().map(|name| &name.0));
        let sending: Vec<_> = self.sending.iter().collect();
        out.list(&sending, |out, sending| {
            out.raw(&sending.id).raw(&[sending.class.code()]).number(sending.bytes);
            out.raw(&sending.key.0);
            hashes(out, sending.blocks.iter().map(|name| &name.0));
        });
        hashes(&mut out, self.failed.iter().map(|name| &name.0));
        out.number(self.tried).number(self.lacking).number(self.held_up);
        let requests: Vec<_> = self.requests.iter().collect();
        out.list(&requests, |out, (device, file)| {
            out.raw(&device.0).part(file);
        });
        let strangers: Vec<_> = self.strangers.iter().collect();
        out.list(&strangers, |out, (device, number)| {
            out.raw(&device.0).number(**number);
        });
        out.number(self.lost);
        out.0
    }

    /// Reads what [`Memory::to_bytes`] made; `None` where it is something else.
    #[must_use]
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let mut from = Reader(bytes);
        if from.raw(FIRST.len())? != FIRST {
            return None;
        }
        let root = from.array()?;
        let log = Log::restore(root, from.list(|from| from.part().map(<[u8]>::to_vec))?)?;
        let mut memory = Self::of(log);
        memory.unsent = from.list(Reader::array)?.into_iter().collect();
        memory.unread = from.list(Reader::array)?.into_iter().collect();
        let asked = from.list(|from| {
            let (team, secret) = (from.array()?, from.array()?);
            Some((Code { team, secret }, from.part()?.to_vec()))
        })?;
        memory.asked = asked.into_iter().next();
        memory.feeds = from.list(|from| Some((device(from)?, feed(from)?)))?.into_iter().collect();
        memory.said = (from.list(Reader::array)?, from.list(Lack::read)?);
        memory.litter = from.list(name)?.into_iter().collect();
        let sending = from.list(|from| {
            let id = from.array()?;
            let class = Class::of_code(from.byte()?)?;
            Some(Sending { id, class, bytes: from.number()?, key: KeyId(from.array()?), blocks: from.list(name)? })
        })?;
        memory.sending = sending.into_iter().next();
        memory.failed = from.list(name)?.into_iter().collect();
        (memory.tried, memory.lacking, memory.held_up) = (from.number()?, from.number()?, from.number()?);
        memory.requests = from.list(|from| Some((device(from)?, from.part()?.to_vec())))?.into_iter().collect();
        memory.strangers = from.list(|from| Some((device(from)?, from.number()?)))?.into_iter().collect();
        // An earlier release wrote no more.
        if from.0.is_empty() {
            return Some(memory);
        }
        memory.lost = from.number()?;
        from.end().map(|()| memory)
    }
}

fn hashes<'a>(out: &mut Writer, hashes: impl Iterator<Item = &'a [u8; 32]>) {
    out.list(&hashes.collect::<Vec<_>>(), |out, hash| {
        out.raw(&hash[..]);
    });
}

fn device(from: &mut Reader<'_>) -> Option<DeviceId> {
    from.array().map(DeviceId)
}

fn name(from: &mut Reader<'_>) -> Option<Name> {
    from.array().map(Name)
}

fn put_feed(out: &mut Writer, feed: &Feed) {
    out.number(feed.number).part(&feed.file);
    out.list(&feed.packs, Pack::put);
    let pairs = |out: &mut Writer, (a, b): &(u64, u64)| {
        out.number(*a).number(*b);
    };
    out.list(&feed.have.0, pairs);
    out.list(&feed.refused.iter().map(|(a, b)| (*a, *b)).collect::<Vec<_>>(), pairs);
}

fn feed(from: &mut Reader<'_>) -> Option<Feed> {
    let (number, file) = (from.number()?, from.part()?.to_vec());
    let packs = from.list(Pack::read)?;
    let pair = |from: &mut Reader<'_>| Some((from.number()?, from.number()?));
    let have = Spans(from.list(pair)?);
    Some(Feed { number, file, packs, have, refused: from.list(pair)?.into_iter().collect() })
}
