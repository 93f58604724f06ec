//! The table of items: whatever goes from device to device, one for each row of the other tables, with in how many feeds it
//! lies; and the feeds, which say in which order each device has given what.

use rusqlite::types::Value;
use rusqlite::{Connection, OptionalExtension, params};
use sha2::{Digest, Sha256};

use super::blobs::BlobRow;
use super::changes::ChangeRow;
use super::copies::CopyRow;
use super::devices::{ActorRow, DeviceRow};
use super::row::Row;
use super::{StoreError, blobs, contents, hash_of, photos};
use crate::sign::DeviceId;

pub(crate) const STEP_5: &str = "
CREATE TABLE items (
  item  INTEGER PRIMARY KEY,
  kind  TEXT NOT NULL,
  a     ANY NOT NULL,
  b     ANY NOT NULL,
  feeds INTEGER NOT NULL DEFAULT 0,
  UNIQUE (kind, a, b)
) STRICT;
CREATE INDEX items_in_no_feed ON items (item) WHERE feeds = 0;
CREATE TABLE feeds (
  device BLOB NOT NULL,
  at     INTEGER NOT NULL,
  item   INTEGER NOT NULL,
  raw    BLOB,
  PRIMARY KEY (device, at)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER feeds_gain AFTER INSERT ON feeds BEGIN
  UPDATE items SET feeds = feeds + 1 WHERE item = NEW.item;
END;
CREATE TRIGGER feeds_lose AFTER DELETE ON feeds BEGIN
  UPDATE items SET feeds = feeds - 1 WHERE item = OLD.item;
END;
CREATE TABLE strange (hash BLOB PRIMARY KEY, bytes BLOB NOT NULL, why TEXT NOT NULL) STRICT;
CREATE TABLE stale (document TEXT PRIMARY KEY) STRICT;
CREATE TABLE memory (one INTEGER PRIMARY KEY CHECK (one = 1), bytes BLOB NOT NULL) STRICT;
INSERT INTO items (kind, a, b) SELECT 'D', device, x'' FROM devices ORDER BY device;
INSERT INTO items (kind, a, b) SELECT 'A', actor, device FROM actors ORDER BY actor, device;
INSERT INTO items (kind, a, b) SELECT 'K', hash, x'' FROM contents ORDER BY hash;
INSERT INTO items (kind, a, b) SELECT 'C', seq, x'' FROM changes ORDER BY seq;
INSERT INTO items (kind, a, b) SELECT 'P', file, x'' FROM photo_files WHERE length(unhex(file)) = 32 ORDER BY file;";

/// What stands in a feed, as the exchange has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FeedItem {
    /// A row of this store, as bytes.
    Data(Vec<u8>),
    /// The naming of a blob.
    Blob(BlobRow),
}

impl FeedItem {
    pub(super) fn size(&self) -> usize {
        match self {
            Self::Data(bytes) => bytes.len(),
            Self::Blob(blob) => 44 + blob.blocks.len() * 32,
        }
    }

    fn raw(&self) -> Vec<u8> {
        match self {
            Self::Data(bytes) => bytes.clone(),
            Self::Blob(blob) => blob.raw(),
        }
    }
}

/// By what an item is found: its kind and the key of its row.
pub(super) type Key = (&'static str, Value, Value);

const BLOB: &str = "B";
const STRANGE: &str = "?";

fn none() -> Value {
    Value::Blob(Vec::new())
}

fn key(db: &Connection, row: &Row) -> Result<Option<Key>, StoreError> {
    Ok(Some(match row {
        Row::Device(row) => ("D", Value::Blob(row.device.0.to_vec()), none()),
        Row::Actor(row) => ("A", Value::Blob(row.actor.clone()), Value::Blob(row.device.0.to_vec())),
        Row::Content(bytes) => ("K", Value::Text(contents::name(bytes)), none()),
        Row::Photo(row) if hash_of(&row.file).is_some() => ("P", Value::Text(row.file.clone()), none()),
        Row::Photo(_) => return Ok(None),
        Row::Copy(row) => ("T", Value::Blob(row.blob.to_vec()), Value::Blob(row.place())),
        Row::Change(row) => {
            let mut found =
                db.prepare_cached("SELECT seq FROM changes WHERE document = ?1 AND hash = ?2 AND device = ?3")?;
            let seq = found.query_row(params![row.document, row.hash, row.device.0], |row| row.get(0)).optional()?;
            return Ok(seq.map(|seq: i64| ("C", Value::Integer(seq), none())));
        }
    }))
}

/// Enters a row that was kept among what is to be given to others.
pub(super) fn enter(db: &Connection, row: &Row) -> Result<Option<i64>, StoreError> {
    let Some(key) = key(db, row)? else { return Ok(None) };
    number(db, &key).map(Some)
}

/// Enters a change by its place in the table.
pub(super) fn enter_change(db: &Connection, seq: i64) -> Result<(), StoreError> {
    number(db, &("C", Value::Integer(seq), none())).map(drop)
}

/// Enters the naming of a blob.
pub(super) fn enter_blob(db: &Connection, id: &[u8; 32]) -> Result<i64, StoreError> {
    number(db, &(BLOB, Value::Blob(id.to_vec()), none()))
}

/// The number of the item of a key, which is entered where it is absent.
fn number(db: &Connection, (kind, a, b): &Key) -> Result<i64, StoreError> {
    db.prepare_cached("INSERT OR IGNORE INTO items (kind, a, b) VALUES (?1, ?2, ?3)")?.execute(params![kind, a, b])?;
    let mut found = db.prepare_cached("SELECT item FROM items WHERE kind = ?1 AND a = ?2 AND b = ?3")?;
    Ok(found.query_row(params![kind, a, b], |row| row.get(0))?)
}

/// Keeps an item that cannot be used, so that it can be passed on as it came, and its number.
pub(super) fn enter_strange(db: &Connection, bytes: &[u8], why: &str) -> Result<i64, StoreError> {
    let hash = Sha256::digest(bytes).to_vec();
    let entered =
        "INSERT INTO strange (hash, bytes, why) VALUES (?1, ?2, ?3) ON CONFLICT DO UPDATE SET why = excluded.why";
    db.prepare_cached(entered)?.execute(params![hash, bytes, why])?;
    number(db, &(STRANGE, Value::Blob(hash), none()))
}

/// Every item that cannot be used, as it came.
pub(super) fn strange(db: &Connection) -> Result<Vec<Vec<u8>>, StoreError> {
    let mut found = db.prepare_cached("SELECT bytes FROM strange ORDER BY hash")?;
    Ok(found.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?)
}

/// Whether an item that could not be used is another now, by its number; then that stands in the feeds in its stead.
pub(super) fn is_no_longer_strange(db: &Connection, bytes: &[u8], is_now: i64) -> Result<bool, StoreError> {
    let hash = Sha256::digest(bytes).to_vec();
    let was = number(db, &(STRANGE, Value::Blob(hash.clone()), none()))?;
    if was == is_now {
        return Ok(false);
    }
    let stands: Vec<([u8; 32], i64)> = db
        .prepare_cached("SELECT device, at FROM feeds WHERE item = ?1")?
        .query_map([was], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<Result<_, _>>()?;
    let given = FeedItem::Data(bytes.to_vec());
    for (device, at) in stands {
        place(db, DeviceId(device), at, is_now, Some(&given))?;
    }
    db.prepare_cached("DELETE FROM items WHERE item = ?1")?.execute([was])?;
    db.prepare_cached("DELETE FROM strange WHERE hash = ?1")?.execute([hash])?;
    Ok(true)
}

/// The item of a number as it goes to others; `None` where its row is gone.
pub(super) fn item(db: &Connection, number: i64) -> Result<Option<FeedItem>, StoreError> {
    let mut found = db.prepare_cached("SELECT kind, a, b FROM items WHERE item = ?1")?;
    let found: Option<(String, Value, Value)> =
        found.query_row([number], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?))).optional()?;
    let Some((kind, a, b)) = found else { return Ok(None) };
    let row = match kind.as_str() {
        "D" => of_device(db, &a)?.map(Row::Device),
        "A" => of_actor(db, &a, &b)?.map(Row::Actor),
        "C" => of_change(db, &a)?.map(Row::Change),
        "K" => db
            .prepare_cached("SELECT bytes FROM contents WHERE hash = ?1")?
            .query_row([a], |row| row.get(0))
            .optional()?
            .map(Row::Content),
        "P" => photos::by_file(db, &a)?.map(Row::Photo),
        "T" => of_copy(&a, &b).map(Row::Copy),
        BLOB => {
            let Value::Blob(id) = a else { return Ok(None) };
            return Ok(blobs::get(db, &id)?.map(FeedItem::Blob));
        }
        STRANGE => {
            let mut bytes = db.prepare_cached("SELECT bytes FROM strange WHERE hash = ?1")?;
            return Ok(bytes.query_row([a], |row| row.get(0)).optional()?.map(FeedItem::Data));
        }
        _ => None,
    };
    Ok(row.and_then(|row| row.bytes()).map(FeedItem::Data))
}

fn of_device(db: &Connection, id: &Value) -> Result<Option<DeviceRow>, StoreError> {
    let mut found = db.prepare_cached("SELECT device, person, name FROM devices WHERE device = ?1")?;
    let row = found.query_row([id], |row| {
        Ok(DeviceRow { device: DeviceId(row.get(0)?), person: row.get(1)?, name: row.get(2)?, known: false })
    });
    Ok(row.optional()?)
}

fn of_actor(db: &Connection, actor: &Value, device: &Value) -> Result<Option<ActorRow>, StoreError> {
    let mut found =
        db.prepare_cached("SELECT actor, device, signature FROM actors WHERE actor = ?1 AND device = ?2")?;
    let row = found.query_row([actor, device], |row| {
        Ok(ActorRow { actor: row.get(0)?, device: DeviceId(row.get(1)?), signature: row.get(2)? })
    });
    Ok(row.optional()?)
}

fn of_change(db: &Connection, seq: &Value) -> Result<Option<ChangeRow>, StoreError> {
    let mut found = db.prepare_cached(
        "SELECT document, hash, chunk, device, person, time_ms, signature FROM changes WHERE seq = ?1",
    )?;
    let row = found.query_row([seq], |row| {
        Ok(ChangeRow {
            document: row.get(0)?,
            hash: row.get(1)?,
            chunk: row.get(2)?,
            device: DeviceId(row.get(3)?),
            person: row.get(4)?,
            time_ms: row.get(5)?,
            signature: row.get(6)?,
        })
    });
    Ok(row.optional()?)
}

fn of_copy(blob: &Value, place: &Value) -> Option<CopyRow> {
    let (Value::Blob(blob), Value::Blob(place)) = (blob, place) else { return None };
    let (photo, edge) = place.split_first_chunk::<32>()?;
    Some(CopyRow {
        photo: *photo,
        edge: u32::from_be_bytes(edge.try_into().ok()?),
        blob: blob.as_slice().try_into().ok()?,
    })
}

/// Puts an item at a position of a feed, in place of whatever stands there. `given` is how it stood there, which is kept
/// where it is not what this store would give itself.
pub(super) fn place(
    db: &Connection,
    device: DeviceId,
    at: i64,
    number: i64,
    given: Option<&FeedItem>,
) -> Result<(), StoreError> {
    let raw = match given {
        Some(given) if item(db, number)?.as_ref() != Some(given) => Some(given.raw()),
        _ => None,
    };
    db.prepare_cached("DELETE FROM feeds WHERE device = ?1 AND at = ?2")?.execute(params![device.0, at])?;
    db.prepare_cached("INSERT INTO feeds (device, at, item, raw) VALUES (?1, ?2, ?3, ?4)")?
        .execute(params![device.0, at, number, raw])?;
    Ok(())
}

/// Cuts a feed at a position.
pub(super) fn cut(db: &Connection, device: DeviceId, from: i64) -> Result<(), StoreError> {
    db.prepare_cached("DELETE FROM feeds WHERE device = ?1 AND at >= ?2")?.execute(params![device.0, from])?;
    Ok(())
}

/// The items of a feed from a position on, up to the first that is not here.
pub(super) fn read(db: &Connection, device: DeviceId, from: i64, many: i64) -> Result<Vec<FeedItem>, StoreError> {
    let mut found =
        db.prepare_cached("SELECT at, item, raw FROM feeds WHERE device = ?1 AND at >= ?2 AND at < ?3 ORDER BY at")?;
    let rows: Vec<(i64, i64, Option<Vec<u8>>)> = found
        .query_map(params![device.0, from, from.saturating_add(many)], |row| {
            Ok((row.get(0)?, row.get(1)?, row.get(2)?))
        })?
        .collect::<Result<_, _>>()?;
    let mut items = Vec::new();
    for ((at, number, raw), expected) in rows.into_iter().zip(from..) {
        let found = match raw {
            Some(raw) => Some(BlobRow::of_raw(&raw).map_or(FeedItem::Data(raw), FeedItem::Blob)),
            None => item(db, number)?,
        };
        match found.filter(|_| at == expected) {
            Some(found) => items.push(found),
            None => break,
        }
    }
    Ok(items)
}
