//! What the exchange asks of the store: what lies in no feed yet, what stands in a feed, and taking in what others gave.

use automerge::Change;
use rusqlite::{Connection, OptionalExtension, params};

use super::blobs::BlobRow;
use super::row::{Read, Row};
use super::site::claim;
use super::{FeedItem, Store, StoreError, blobs, changes, contents, copies, devices, items, photos, settings};
use crate::sign::{Claim, DeviceId};

/// So many items are looked at for one offer; there is another offer after it.
const MOST_OFFERED: i64 = 4_096;

/// Under this name the settings keep which release last looked at what could not be used.
const LOOKED: &str = "strange looked at by";

fn position(at: u64) -> i64 {
    i64::try_from(at).unwrap_or(i64::MAX)
}

impl Store {
    /// The bytes that the exchange wanted kept.
    ///
    /// # Errors
    /// The database fails.
    pub fn memory(&self) -> Result<Option<Vec<u8>>, StoreError> {
        Ok(self.db.query_row("SELECT bytes FROM memory", [], |row| row.get(0)).optional()?)
    }

    /// Keeps bytes of the exchange in place of those before.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn remember(&mut self, bytes: &[u8]) -> Result<(), StoreError> {
        let tx = self.write()?;
        tx.execute("INSERT OR REPLACE INTO memory (one, bytes) VALUES (1, ?1)", [bytes])?;
        tx.commit()?;
        Ok(())
    }

    /// Enters items that lie in no feed into this device's own, from a position on, and gives them: one at least where
    /// there is one, else about so many bytes. What stood there from that position on lies in no feed again before.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn offer(&mut self, from: u64, most_bytes: usize) -> Result<Vec<FeedItem>, StoreError> {
        let (tx, own) = (self.write()?, self.device.id());
        items::cut(&tx, own, position(from))?;
        let waiting: Vec<i64> = tx
            .prepare_cached("SELECT item FROM items WHERE feeds = 0 ORDER BY item LIMIT ?1")?
            .query_map([MOST_OFFERED], |row| row.get(0))?
            .collect::<Result<_, _>>()?;
        let (mut offered, mut bytes) = (Vec::new(), 0);
        for number in waiting {
            let Some(item) = items::item(&tx, number)? else {
                // Its row is gone: there is nothing to give.
                tx.execute("DELETE FROM items WHERE item = ?1", [number])?;
                continue;
            };
            bytes += item.size();
            items::place(&tx, own, position(from + offered.len() as u64), number, None)?;
            offered.push(item);
            if bytes >= most_bytes {
                break;
            }
        }
        tx.commit()?;
        Ok(offered)
    }

    /// How many items lie in no feed yet, or in this device's own from a position on, which nobody was told of yet.
    ///
    /// # Errors
    /// The database fails.
    pub fn untold(&self, from: u64) -> Result<u64, StoreError> {
        let many: i64 = self.db.query_row(
            "SELECT (SELECT count(*) FROM items WHERE feeds = 0)
                  + (SELECT count(*) FROM feeds WHERE device = ?1 AND at >= ?2)",
            params![self.device.id().0, position(from)],
            |row| row.get(0),
        )?;
        Ok(many.unsigned_abs())
    }

    /// The items of a feed from a position on; fewer where some are not here.
    ///
    /// # Errors
    /// The database fails.
    pub fn feed(&self, device: DeviceId, from: u64, many: u64) -> Result<Vec<FeedItem>, StoreError> {
        items::read(&self.db, device, position(from), position(many))
    }

    /// Cuts a feed at a position: what lies in no other is to be offered.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn release(&mut self, device: DeviceId, from: u64) -> Result<(), StoreError> {
        let tx = self.write()?;
        items::cut(&tx, device, position(from))?;
        tx.commit()?;
        Ok(())
    }

    /// Takes in items that stand in a feed from a position on. What is here already is left as it is, and what cannot be
    /// used is kept apart. Lists follow with [`Store::catch_up`], open sites at their next edit.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails; then nothing is taken in.
    pub fn take(&mut self, device: DeviceId, from: u64, given: &[FeedItem]) -> Result<(), StoreError> {
        let tx = self.write()?;
        for (at, item) in (from..).zip(given) {
            let number = match item {
                FeedItem::Blob(blob) => take_blob(&tx, blob)?,
                FeedItem::Data(bytes) => take_data(&tx, bytes)?,
            };
            items::place(&tx, device, position(at), number, Some(item))?;
        }
        tx.commit()?;
        self.arrivals += 1;
        Ok(())
    }

    /// Brings lists and search up to what was taken in.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn catch_up(&mut self) -> Result<(), StoreError> {
        let documents: Vec<String> = self
            .db
            .prepare_cached("SELECT document FROM stale ORDER BY document")?
            .query_map([], |row| row.get(0))?
            .collect::<Result<_, _>>()?;
        for document in documents {
            let tx = self.write()?;
            self.list_anew(&tx, &document)?;
            tx.execute("DELETE FROM stale WHERE document = ?1", [document])?;
            tx.commit()?;
        }
        Ok(())
    }

    /// Items that cannot be used: how many there are for each reason.
    ///
    /// # Errors
    /// The database fails.
    pub fn strange_items(&self) -> Result<Vec<(String, u64)>, StoreError> {
        let mut found = self.db.prepare_cached("SELECT why, count(*) FROM strange GROUP BY why ORDER BY why")?;
        let rows = found.query_map([], |row| Ok((row.get(0)?, row.get::<_, i64>(1)?.unsigned_abs())))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}

impl Store {
    /// Looks again at what could not be used, once for each release: a newer one may know what it is. Says how many items are
    /// used from now on; lists follow with [`Store::catch_up`].
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails.
    pub fn look_again(&mut self, release: &str) -> Result<u64, StoreError> {
        if self.setting(LOOKED)?.as_deref() == Some(release) {
            return Ok(0);
        }
        let tx = self.write()?;
        let mut used = 0;
        for bytes in items::strange(&tx)? {
            let number = take_data(&tx, &bytes)?;
            used += u64::from(items::is_no_longer_strange(&tx, &bytes, number)?);
        }
        settings::set(&tx, LOOKED, release)?;
        tx.commit()?;
        self.arrivals += u64::from(used > 0);
        Ok(used)
    }
}

fn take_blob(tx: &Connection, blob: &BlobRow) -> Result<i64, StoreError> {
    blobs::name(tx, blob)?;
    items::enter_blob(tx, &blob.id)
}

/// Keeps what some bytes say, and gives the number of their item.
fn take_data(tx: &Connection, bytes: &[u8]) -> Result<i64, StoreError> {
    let row = match Row::read(bytes) {
        Read::Row(row) => *row,
        Read::Newer => return items::enter_strange(tx, bytes, "a newer release wrote it; update Newel"),
        Read::Wrong => return items::enter_strange(tx, bytes, "it is not what its kind says"),
    };
    match &row {
        Row::Device(row) => devices::insert_device(tx, row)?,
        Row::Actor(row) if row.device.signed(&Claim::Actor { actor: &row.actor }, &row.signature) => {
            devices::insert_actor(tx, row)?;
        }
        Row::Change(row) if is_sound(row) => {
            let damaged = |there: &changes::ChangeRow| there != row && !is_sound(there);
            let fresh = changes::insert(tx, row)? > 0;
            let mends = !fresh && changes::like(tx, row)?.is_some_and(|there| damaged(&there));
            if mends {
                // It came in a file that somebody had altered.
                changes::replace(tx, row)?;
            }
            if fresh || mends {
                tx.prepare_cached("INSERT OR IGNORE INTO stale (document) VALUES (?1)")?
                    .execute(params![row.document])?;
            }
        }
        Row::Actor(_) | Row::Change(_) => {
            return items::enter_strange(tx, bytes, "its signature does not hold");
        }
        Row::Content(bytes) => drop(contents::put(tx, bytes)?),
        Row::Photo(row) => photos::heard_of(tx, row)?,
        Row::Copy(row) => drop(copies::insert(tx, row)?),
    }
    match items::enter(tx, &row)? {
        Some(number) => Ok(number),
        None => items::enter_strange(tx, bytes, "it is not what its kind says"),
    }
}

/// Whether a change is what its row says, and signed: one that is not must never stand in the way of the one that is.
fn is_sound(row: &changes::ChangeRow) -> bool {
    row.device.signed(&claim(row), &row.signature)
        && Change::from_bytes(row.chunk.clone()).is_ok_and(|change| change.hash().0 == row.hash)
}
