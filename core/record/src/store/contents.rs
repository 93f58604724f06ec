//! The table of contents that documents name by the SHA-256 of their bytes, such as catalogues.

use rusqlite::{Connection, OptionalExtension, params};
use sha2::{Digest, Sha256};

use super::row::Row;
use super::{StoreError, hex, items};

pub(crate) const STEP_4: &str = "
CREATE TABLE contents (
  hash  TEXT PRIMARY KEY,
  bytes BLOB NOT NULL
) STRICT;";

/// The name of some bytes: their SHA-256 in lower-case hexadecimal.
pub(crate) fn name(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes).into())
}

/// Keeps bytes under their name.
pub(crate) fn put(db: &Connection, bytes: &[u8]) -> Result<String, StoreError> {
    let name = name(bytes);
    db.execute("INSERT OR IGNORE INTO contents (hash, bytes) VALUES (?1, ?2)", params![name, bytes])?;
    items::enter(db, &Row::Content(bytes.to_vec()))?;
    Ok(name)
}

/// The bytes of a name.
pub(crate) fn get(db: &Connection, hash: &str) -> Result<Option<Vec<u8>>, StoreError> {
    let mut statement = db.prepare_cached("SELECT bytes FROM contents WHERE hash = ?1")?;
    Ok(statement.query_row([hash], |row| row.get(0)).optional()?)
}
