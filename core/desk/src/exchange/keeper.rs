//! The store as a round asks it, question by question.

use std::sync::Arc;

use exchange::DeviceId;
use exchange::engine::{Answer, Blocks, Failure, Home, Keeper, Sender};
use exchange::pack::{Blob, Class, Item};
use exchange::seal::Name;
use record::store::{BlobRow, FeedItem};

use super::ExchangeError;
use super::parts::Parts;
use super::pictures::most_bytes;
use crate::sites::Sites;

/// So many blobs are wanted at once.
const MOST_WANTED: usize = 32;

/// Lends the store for one question at a time, so that a person can go on working between two of them.
pub trait Lend {
    /// Does some work with the store.
    fn lend(&mut self, work: &mut dyn FnMut(&mut Sites));
}

impl Lend for Sites {
    fn lend(&mut self, work: &mut dyn FnMut(&mut Sites)) {
        work(self);
    }
}

/// Answers the questions of a round.
pub(super) struct StoreKeeper<'a> {
    pub lend: &'a mut dyn Lend,
    pub parts: Arc<Parts>,
}

/// Some work with a lent store.
pub(super) fn with<T>(
    lend: &mut dyn Lend,
    work: impl FnOnce(&mut Sites) -> Result<T, ExchangeError>,
) -> Result<T, ExchangeError> {
    let (mut work, mut done) = (Some(work), None);
    lend.lend(&mut |sites| {
        if let Some(work) = work.take() {
            done = Some(work(sites));
        }
    });
    done.unwrap_or(Err(ExchangeError::Closed))
}

impl Keeper for StoreKeeper<'_> {
    fn blocks(&self) -> Arc<dyn Blocks> {
        // Nobody has to wait for the store while a block is kept.
        Arc::clone(&self.parts) as Arc<dyn Blocks>
    }

    fn answer(&mut self, mut ask: Home) -> Answer {
        loop {
            match with(self.lend, |sites| answered(sites, &self.parts, ask)) {
                Ok(Found::Answer(answer)) => return answer,
                Ok(Found::NotYet(again)) => ask = again,
                Err(why) => return Answer::Failed(Failure::home(&why)),
            }
        }
    }
}

/// What came of a question while the store was lent.
enum Found {
    Answer(Answer),
    /// It is to be asked again, so that others can have the store between.
    NotYet(Home),
}

fn answered(sites: &mut Sites, parts: &Parts, ask: Home) -> Result<Found, ExchangeError> {
    let of = |device: DeviceId| record::sign::DeviceId(device.0);
    let answer = match ask {
        Home::Remember(bytes) => {
            sites.store_mut().remember(&bytes)?;
            Answer::Done
        }
        Home::Offer { from, most } => items(sites.store_mut().offer(from, most)?),
        Home::Items { device, from, many } => items(sites.store().feed(of(device), from, many)?),
        Home::Take { device, from, items } => {
            let given: Vec<FeedItem> = items.into_iter().map(row).collect();
            sites.store_mut().take(of(device), from, &given)?;
            Answer::Done
        }
        Home::Release { device, from } => {
            sites.store_mut().release(of(device), from)?;
            Answer::Done
        }
        Home::Unsent(class) => match sites.blobs_to_send(class)? {
            Some(found) => Answer::Senders(found.into_iter().map(|(id, bytes)| Sender { id, bytes }).collect()),
            None => return Ok(Found::NotYet(Home::Unsent(class))),
        },
        Home::Load { id, span } => Answer::Bytes(sites.blob_bytes(&id, span)?),
        Home::Sent(blob) => {
            sites.store_mut().sent(&named(blob))?;
            Answer::Done
        }
        Home::Wanted(class, tried) => {
            // Which photos a site has is read from the changes that came.
            sites.store_mut().catch_up()?;
            let found = sites.store().wanted(class.code(), &tried, most_bytes(class), MOST_WANTED)?;
            Answer::Blobs(
                found
                    .into_iter()
                    .filter_map(blob)
                    .map(|blob| {
                        let here = parts.here(&blob);
                        (blob, here)
                    })
                    .collect(),
            )
        }
        Home::Whole(ids) => Answer::Whole(sites.take_whole(ids, parts)?),
        Home::Named(id) => {
            Answer::Blobs(sites.store().blob(&id)?.and_then(blob).map(|blob| (blob, 0)).into_iter().collect())
        }
    };
    Ok(Found::Answer(answer))
}

fn items(rows: Vec<FeedItem>) -> Answer {
    Answer::Items(rows.into_iter().map_while(item).collect())
}

fn item(row: FeedItem) -> Option<Item> {
    match row {
        FeedItem::Data(bytes) => Some(Item::Data(bytes)),
        FeedItem::Blob(found) => blob(found).map(Item::Blob),
    }
}

fn row(item: Item) -> FeedItem {
    match item {
        Item::Data(bytes) => FeedItem::Data(bytes),
        Item::Blob(blob) => FeedItem::Blob(named(blob)),
    }
}

fn named(blob: Blob) -> BlobRow {
    let blocks = blob.blocks.into_iter().map(|name| name.0).collect();
    BlobRow { id: blob.id, class: blob.class.code(), bytes: blob.bytes, blocks }
}

/// `None` where only a newer release knows the class.
fn blob(row: BlobRow) -> Option<Blob> {
    let class = Class::of_code(row.class)?;
    Some(Blob { id: row.id, class, bytes: row.bytes, blocks: row.blocks.into_iter().map(Name).collect() })
}
