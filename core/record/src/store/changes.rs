//! The table of signed changes: the truth from which everything else can be rebuilt.

use rusqlite::{Connection, OptionalExtension, params};

use super::{StoreError, items};
use crate::sign::DeviceId;

pub(crate) const STEP_1: &str = "
CREATE TABLE changes (
  seq       INTEGER PRIMARY KEY,
  document  TEXT NOT NULL,
  hash      BLOB NOT NULL,
  chunk     BLOB NOT NULL,
  device    BLOB NOT NULL,
  person    TEXT NOT NULL,
  time_ms   INTEGER NOT NULL,
  signature BLOB NOT NULL,
  UNIQUE (document, hash, device)
) STRICT;";

/// One change as it is kept and sent.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct ChangeRow {
    pub document: String,
    pub hash: [u8; 32],
    pub chunk: Vec<u8>,
    pub device: DeviceId,
    pub person: String,
    pub time_ms: i64,
    pub signature: [u8; 64],
}

/// Keeps a change; one that is there already is left as it is.
pub(crate) fn insert(db: &Connection, row: &ChangeRow) -> Result<usize, StoreError> {
    let fresh = db
        .prepare_cached(
            "INSERT OR IGNORE INTO changes (document, hash, chunk, device, person, time_ms, signature)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        )?
        .execute(params![row.document, row.hash, row.chunk, row.device.0, row.person, row.time_ms, row.signature])?;
    if fresh > 0 {
        items::enter_change(db, db.last_insert_rowid())?;
    }
    Ok(fresh)
}

/// The change that is kept under the names of this one.
pub(crate) fn like(db: &Connection, row: &ChangeRow) -> Result<Option<ChangeRow>, StoreError> {
    let mut found = db.prepare_cached(
        "SELECT chunk, person, time_ms, signature FROM changes WHERE document = ?1 AND hash = ?2 AND device = ?3",
    )?;
    let found = found.query_row(params![row.document, row.hash, row.device.0], |there| {
        Ok(ChangeRow {
            chunk: there.get(0)?,
            person: there.get(1)?,
            time_ms: there.get(2)?,
            signature: there.get(3)?,
            ..row.clone()
        })
    });
    Ok(found.optional()?)
}

/// Keeps a change in place of one of the same names that is damaged.
pub(crate) fn replace(db: &Connection, row: &ChangeRow) -> Result<(), StoreError> {
    db.execute(
        "UPDATE changes SET chunk = ?4, person = ?5, time_ms = ?6, signature = ?7
         WHERE document = ?1 AND hash = ?2 AND device = ?3",
        params![row.document, row.hash, row.device.0, row.chunk, row.person, row.time_ms, row.signature],
    )?;
    Ok(())
}

/// A change without its contents.
#[derive(Clone, Debug)]
pub(crate) struct Head {
    pub seq: i64,
    pub hash: [u8; 32],
    pub device: DeviceId,
    pub person: String,
    pub time_ms: i64,
}

/// Every change of a document in the order in which it came, without the contents.
pub(crate) fn heads(db: &Connection, document: &str) -> Result<Vec<Head>, StoreError> {
    let mut statement =
        db.prepare_cached("SELECT seq, hash, device, person, time_ms FROM changes WHERE document = ?1 ORDER BY seq")?;
    let rows = statement.query_map([document], |row| {
        Ok(Head {
            seq: row.get(0)?,
            hash: row.get(1)?,
            device: DeviceId(row.get(2)?),
            person: row.get(3)?,
            time_ms: row.get(4)?,
        })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// A change with its contents.
pub(crate) fn row(db: &Connection, document: &str, head: &Head) -> Result<ChangeRow, StoreError> {
    let mut statement = db.prepare_cached("SELECT chunk, signature FROM changes WHERE seq = ?1")?;
    let (chunk, signature) = statement.query_row([head.seq], |row| Ok((row.get(0)?, row.get(1)?)))?;
    Ok(ChangeRow {
        document: document.to_owned(),
        hash: head.hash,
        chunk,
        device: head.device,
        person: head.person.clone(),
        time_ms: head.time_ms,
        signature,
    })
}

/// Whether a document has a change.
pub(crate) fn is_there(db: &Connection, document: &str) -> Result<bool, StoreError> {
    Ok(db.prepare_cached("SELECT 1 FROM changes WHERE document = ?1")?.exists([document])?)
}

/// Every document that has changes.
pub(crate) fn documents(db: &Connection) -> Result<Vec<String>, StoreError> {
    let mut statement = db.prepare_cached("SELECT DISTINCT document FROM changes ORDER BY document")?;
    let rows = statement.query_map([], |row| row.get(0))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// How many changes each device made to each document.
pub(crate) fn counts(db: &Connection) -> Result<Vec<(DeviceId, String, usize)>, StoreError> {
    let mut statement =
        db.prepare_cached("SELECT device, document, count(*) FROM changes GROUP BY device, document")?;
    let rows = statement.query_map([], |row| {
        let count: i64 = row.get(2)?;
        Ok((DeviceId(row.get(0)?), row.get(1)?, usize::try_from(count).unwrap_or(0)))
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}
